// Package protocol is a step test on the pool deck: the plan before it, the
// record after it, and what a plan will be able to tell.
//
//	plan, err := protocol.NewPlan(protocol.Request{Pool: pace.SCM(), Repeats: 6, Best: pace.MustTime("4:56")})
//	findings := plan.Review(protocol.Known{}) // what to think of before it is swum
//	records, err := sheet.Read(file)          // swum, and read back
//	test, err := records[0].Test()            // what package lactate needs
//
// # The loop
//
//	NewPlan            a plan from what a swimmer knows, with targets, splits and leave times
//	Plan.Review        what to think of before it is swum
//	Plan.Outlook       how wide the intervals of LT1 and LT2 will be, and what shift it can show
//	Plan.Better        the same number of repeats, placed to tell more
//	Plan.WriteText     a page to print; package sheet: the sheet to fill in (CSV)
//	Plan.NextRepeat    what to swim next, given what was swum
//	Record             the test as it was swum, with the faults of its sheet; read by package sheet
//	Record.Review      what to know before a curve is drawn through it
//	Record.Test        what package lactate needs: speed = distance / time
//	Plan.Match         how far each repeat was from its target
//	Schedule           the days of the next tests
//	Cautions           to be shown wherever someone is told to swim a test
//
// Package sheet reads and writes records and plans. Package technique tells what
// the stroke does as the repeats get faster.
//
// # What a plan can tell
//
// The curve that is expected is an exponential, A + B·exp(C·speed). Of a
// swimmer of whom nothing is known, A is 1.1 ± 0.3 mmol/L, C 11 to 22 per m/s, and
// lactate after the last repeat 9 ± 3 mmol/L. Earlier tests narrow this: all of
// them tell the shape of the curve, the last one where it lies ([Expected]); which
// of them are of one shape is told with a noise of half to five times the stated
// one. These numbers, and one in twenty as the bound, are ours. With
// the noise of the options, the error of each reading follows by the delta method,
// averaged over what is believed. Simulated (six repeats of 400 m from 5:50 to
// 5:00, default noise, 90 % intervals):
//
//   - the forecast width is that of the intervals that lactate.Analyze reports,
//     within 10 %, for five, six and eight repeats;
//   - a shift forecast as detectable with a power of 80 % is seen in 80 to 83 %
//     of pairs of tests, one where days differ too in 77 to 79 %, and
//     lactate.Compare puts it within 3 % of where the forecast does;
//   - two tests that differ by a shift alone, of −8 to 8 %, put LT1 and LT2
//     within 0.002 m/s of where the later one reads them;
//   - LT1 and LT2 of the next day lie as far from what one test or three lead
//     to expect, as Forecast.Unknown says, within 10 %;
//   - the better plan for LT2 (5:50, 5:48, 5:17, 5:15, 5:13, 5:00) is 18 %
//     narrower than even steps for LT2, 21 % for LT1 and 2 % for the shift,
//     averaged over 27 swimmers (A 0.8 to 1.4 mmol/L, C 11 to 22 per m/s, 6 to 12 mmol/L
//     after the last repeat), where each target is at least 2 s faster than the last.
//
// The command that reproduces these numbers:
//
//	go test -v -run 'TestForecastAgainstAnalyze|TestBetterAgainstEvenSteps|TestDetectableAgainstCompare|TestBetweenDaysAgainstCompare|TestPureShiftOfTwoTests|TestUnknownAgainstSimulation' ./protocol
//
// The better plan trusts the exponential: repeats close together show less of
// whether another curve would fit better, and ask for even pacing.
//
// # Concurrency
//
// Everything here may be used from several goroutines at once.
//
// # Not here
//
// Tests of fixed duration, swims that end in mid-pool, target times that allow for turns,
// and any rule for changing a test that is under way other than where to put
// the next repeat. Lactate from one repeat that is still in the blood at the next
// is not modelled; [Plan.Review] reports a rest that is too long or too short.
//
// # References
//
//   - Arsoniadis GG et al. (2024) short rest or a 5 min cycle in 7 × 200 m
//     (abstract).
//   - Bentley DJ, Newell J, Bishop D (2007) Incremental exercise test design and
//     analysis. Sports Med 37:575-586 (from memory).
//   - Fletcher GF et al. (2013) Exercise standards for testing and training.
//     Circulation 128:873-934. doi:10.1161/CIR.0b013e31829b5b44 (title).
//   - Martin L, Whyte GP (2000) Int J Sports Med. doi:10.1055/s-2000-3786
//     (abstract).
//   - Neyman J, Scott EL (1948) Econometrica 16:1-32 (from memory): why the place
//     of every earlier test is not averaged over, but taken at its best.
//   - Stroud AH (1971) Approximate Calculation of Multiple Integrals (from
//     memory): the cubature behind the averages.
//   - Turner AP, Smith T, Coleman SGS (2008) IJSPP 3:68-70 (seen in a secondary
//     source).
//   - Zinner C et al. (2011) JEPonline 14(1):43-48 (abstract): steps of constant
//     distance and of constant time.
package protocol
