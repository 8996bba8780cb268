// Package forecast says what a step test will be able to tell before it is swum, and
// where to put its stages:
//
//	stages := []lactate.Stage{{Intensity: 1.14, Duration: 350 * time.Second}, …}
//	known := forecast.Expected{Tests: earlier}
//	out, err := forecast.Of(stages, known, lactate.Options{})
//	d, err := forecast.Better(stages, forecast.NarrowLT2, known, lactate.Options{}, forecast.Rules{})
//	a, err := forecast.Next(stages, swum, forecast.NarrowLT2, known, lactate.Options{}, forecast.Rules{})
//
// [Of] gives the expected intervals of LT1 and LT2, and the smallest shift of the
// curve that the test can detect. [Better] places as many stages to tell more.
// [Next] places those that are left once a test has begun. Intensities are speeds
// (m/s): the prior is that of swimmers over 200 to 400 m.
//
// # The model
//
// The curve is an exponential, A + B·exp(C·speed). The prior of a swimmer of whom
// nothing is known is normal in A, 1.1 ± 0.3 mmol/L, in ln C, 11 to 22 per m/s, and
// in the lactate P at the last stage, 9 ± 3 mmol/L. These numbers are ours.
//
// Earlier tests turn the prior into a posterior. Given C, the curve is linear in A
// and P: their posterior is normal, by one Kalman update for each sample, and the
// likelihood of C follows in closed form. C runs over a grid. All tests tell the shape,
// A and C; the last one alone tells where the curve lies, for training has moved it
// since the others. The day of the last test and that of the forecast move the curve
// further, each by Options.DayToDay of [lactate.Options].
//
// An earlier test is left out if the Bayes factor of one shape for it and the last
// test, against a shape for each, is below 1/20. That factor averages over a noise of
// half to five times the stated one. The bound is ours.
//
// A few curves stand for the posterior (cubature of the third degree). On each, the
// standard error of a reading follows by the delta method from the noise of the
// options; the forecast averages over the curves.
//
// # Accuracy
//
// Simulated with six stages of 400 m from 5:50 to 5:00, default noise, 90 % intervals:
//
//   - the forecast width is that of the intervals that lactate.Analyze reports, within
//     10 %, for five, six and eight stages;
//   - a shift forecast as detectable with a power of 80 % is seen in 80 to 83 % of
//     pairs of tests, and in 77 to 80 % if days differ too;
//   - LT1 and LT2 of the next day lie as far from what one test or three lead to
//     expect as Threshold.Unknown says, within 10 %;
//   - the better stages for LT2 narrow LT2 by 18 %, LT1 by 21 % and the shift by 2 %,
//     averaged over 27 swimmers.
//
// testdata/README.md has the tables and the commands.
//
// The better stages trust the exponential: stages close together show less of whether
// another curve would fit better, and ask for even pacing.
//
// # Conventions
//
// Nothing is drawn at random: the same input gives the same answer. Everything may be
// used from several goroutines at once.
//
// # Not here
//
// Other units of intensity than m/s, other curves than the exponential in the search,
// lactate that one stage leaves in the blood for the next.
//
// # References
//
//   - Kalman RE (1960) J Basic Eng 82:35-45 (from memory).
//   - Neyman J, Scott EL (1948) Econometrica 16:1-32 (from memory): why the place of
//     every earlier test is not averaged over, but taken at its best.
//   - Stroud AH (1971) Approximate Calculation of Multiple Integrals (from memory): the
//     cubature.
//
// # JSON
//
// The JSON of [Advice], [Design] and [Outlook] is written for readers of results and
// not read back.
package forecast
