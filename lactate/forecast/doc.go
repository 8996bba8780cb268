// Package forecast says what a step test will be able to tell before it is swum, and
// where to put its stages:
//
//	stages := []lactate.Stage{{Intensity: 1.14, Duration: 350 * time.Second}, …}
//	known := forecast.Expected{Tests: earlier}
//	out, err := forecast.Of(stages, known, lactate.Options{})
//	s, err := forecast.Space(stages, known, lactate.Options{}, forecast.Rules{})
//	a, err := forecast.Next(stages, swum, known, lactate.Options{}, forecast.Rules{})
//	e, err := forecast.Sample(stages, swum, speed, known, lactate.Options{})
//
// [Of] gives the expected intervals of LT1 and LT2, and the smallest shift of the
// curve that the test can detect. [Space] says whether another spacing of as many
// stages tells more. [Next] says how to go on once a test has begun, and [Sample] what
// its next sample should show. Intensities are speeds (m/s): the prior is that of
// swimmers over 200 to 400 m.
//
// # The model
//
// The curve is convex; its shape has the prior of [example.com/steptest/lactate/curve.Convex], the default curve of
// package lactate. A swimmer of whom nothing is known has 1.1 ± 0.3 mmol/L at the
// slowest stage and 9 ± 3 mmol/L at the last, and the curve bends where an exponential
// of a rate of 11 to 22 per m/s does, but for one swimmer in ten, whose curve bends
// anywhere. These numbers are ours.
//
// Prior and samples are points of one fit of convex shapes; draws from its posterior
// stand for the curves that the swimmer may have. The last of the earlier tests says
// where the curve lies and how it bends. The five before it weigh the draws by how well
// they fit those tests, wherever they are put: training has moved the curve. The day of
// the last test and that of the forecast move it further, each by Expected.DayToDay.
// An earlier test is left out if no probable curve fits it nearly as
// well as one of its own (an F test; the bound is ours).
//
// Tests of the drawn curves are simulated with the stated noise and analysed: a width
// is the mean of the intervals that lactate.Analyze reports, within the tested range; an
// open end counts as far off as the other one. A
// spacing is searched with a few of them and judged with others. The shift is that of one
// exponential fitted to two tests, by its standard error.
//
// # Accuracy
//
// Simulated with six stages of 400 m, default noise, 90 % intervals:
//
//   - the forecast width after three tests of one of eight shapes is that of the
//     intervals of the next, within 9 % for all of them;
//   - a shift forecast as detectable with a power of 80 % is seen in 81 to 83 % of
//     pairs of tests on exponentials, and in 77 to 82 % if days differ too;
//   - LT1 and LT2 of the next day lie as far from what one test or three lead to
//     expect as Threshold.Unknown says, within 8 %;
//   - a spacing found without any test narrows LT1 by 7 % and LT2 by 10 % on average
//     over those eight shapes, which the search does not know, and widens none by more
//     than 4 %.
//
// testdata/README.md has the tables and the commands.
//
// # Conventions
//
// Random numbers follow from Options.Seed: the same input gives the same answer.
// Everything may be used from several goroutines at once.
//
// # Not here
//
// Other units of intensity than m/s, lactate that one stage leaves in the blood for the
// next, a comparison of tests on other curves than the exponential.
//
// # References
//
//   - Neyman J, Scott EL (1948) Econometrica 16:1-32 (from memory): why the place of
//     every earlier test is not averaged over, but taken at its best.
//
// # JSON
//
// The JSON of [Advice], [Outlook], [Reason], [Spacing] and [Widths] is written for readers of
// results and not read back.
package forecast
