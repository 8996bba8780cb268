// Package protocol is a step test on the pool deck: the plan before it, the
// record after it, and what a plan will be able to tell.
//
//	plan, err := protocol.NewPlan(protocol.Request{Pool: pace.SCM(), Repeats: 6, Best: pace.Must(pace.ParseTime("4:56"))})
//	findings := plan.Review(protocol.Known{}) // what to think of before it is swum
//	records, err := sheet.Read(file)          // swum, and read back
//	test, err := records[0].Test()            // what package lactate needs
//
// # The loop
//
//	NewPlan            a plan from what a swimmer knows, with targets, splits and leave times
//	Plan.Review        what to think of before it is swum
//	Plan.Outlook       how wide the intervals of LT1 and LT2 will be, and what shift it can show
//	Plan.Space         whether another spacing of as many repeats tells more
//	Plan.WriteText     a page to print; package sheet: the sheet to fill in (CSV)
//	LeaveList          who leaves when, of several plans swum together
//	Plan.NextRepeat    what to swim next, given what was swum
//	Plan.ExpectedSample  what the sample of a repeat should show
//	Record             the test as it was swum, with the faults of its sheet; read by package sheet
//	Record.Review      what to know before a curve is drawn through it
//	Record.Test        what package lactate needs: speed = distance / time
//	Differences        how two tests differ as swum; lactate.Compare of their Record.Test says whether the curve moved
//	Plan.Match         how far each repeat was from its target
//	Plan.Swum          the same as a table, with what it did to the brackets
//	Schedule           the days of the next tests
//	Cautions           to be shown wherever someone is told to swim a test
//
// Package sheet reads and writes records and plans. Package technique tells what
// the stroke does as the repeats get faster.
//
// # What a plan can tell
//
// Plan.Outlook, Plan.Space and Plan.NextRepeat are package lactate/forecast on the
// repeats of a plan: its documentation has the model, its prior and its accuracy.
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
//   - Turner AP, Smith T, Coleman SGS (2008) IJSPP 3:68-70 (seen in a secondary
//     source).
//   - Zinner C et al. (2011) JEPonline 14(1):43-48 (abstract): steps of constant
//     distance and of constant time.
//
// # JSON
//
// The JSON of [Advice], [Known] and [Spacing] is written for readers of results and not
// read back.
package protocol
