// Package protocol is a step test on the pool deck: the plan before it, the
// sheet during it, the record after it, and what a plan will be able to tell.
//
// # The loop
//
//	NewPlan            a plan from what a swimmer knows, with targets, splits and leave times
//	Plan.Review        what to think of before it is swum
//	Plan.Outlook       how wide the intervals of LT1 and LT2 will be, and what shift it can show
//	Plan.Better        the same number of repeats, placed to tell more
//	Plan.WriteSheet    the sheet to fill in (CSV); Plan.WriteText: a page to print
//	Plan.NextRepeat    what to swim next, given what was swum
//	ReadSheet          the sheet read back; ScanSheet: one test at a time
//	Record.Test        what package lactate needs: speed = distance / time
//	Plan.Match         how far each repeat was from its target
//	Record.Technique   what the stroke does as the repeats get faster
//	Schedule           the days of the next tests
//	Cautions           to be shown wherever someone is told to swim a test
//
// # The sheet
//
// A sheet is a CSV file (RFC 4180, UTF-8) with a header line and one row for
// each repeat, so that one file holds a test, a squad or a season:
//
//	swimmer,date,pool,distance,repeat,time,minutes after,lactate,heart rate
//	Robin Vale,2025-01-18,25 yd,400,5,5:12.4,,4.7,164
//	Robin Vale,2025-01-18,25 yd,400,6,4:58.8,,,178
//	Robin Vale,2025-01-18,25 yd,400,6,,1,9.2,
//	Robin Vale,2025-01-18,25 yd,400,6,,3,9.9,
//
//	swimmer          the name, in every row
//	date             2025-01-18 (ISO 8601)
//	pool             25 yd, 25 m, 50 m, SCY, SCM, LCM or any other
//	distance         400, in the unit of the pool, or 400 m; a whole number of lengths
//	repeat           1 to 99, each once in a test
//	time             5:12.4; blank: not swum, or lost
//	lactate          (mmol/L); blank: not taken, or lost: the row is kept
//	minutes after    time from the end of the repeat to the sample
//	heart rate       (1/min)
//	resting lactate  (mmol/L), in any row of the test
//	target, leave    what was planned; "4:50 all out"
//	stroke cycles, stroke segment, segment time
//	                 counted and timed over a stretch in mid-pool
//	remark           any text
//	warm up, next test
//	                 of the whole test, in any row of it
//
// The first five, time and lactate must be there. Columns may stand in any
// order; case, blanks, underscores and hyphens in their names do not matter, and
// a unit may stand in brackets, or for times a form (min:s). Some other names of
// the trade are understood: name, course, rep, hr, pulse, la. A column of another
// name is kept as it is, in [Repeat.Extra], and [Record.Review] tells, unless its
// name looks like a slip of the pen. A row with
// minutes after and without a time is a further sample after the last repeat.
//
// Semicolons instead of commas, with decimal points or decimal commas, are read:
// spreadsheets write them by themselves where the comma is the decimal sign, and
// a header with them leaves no doubt. So are a byte order mark and CRLF. Commas
// are what is written.
//
// Every fault is reported, each with its line, what was found and what was
// expected. In a cell that a repeat needs (swimmer, date, pool, distance, repeat,
// time) it costs the row and no other; in any other it costs the cell, and the
// row is read as if that were blank. A test that lacks a row or a cell for it
// says so in [Record.Faults], and its [Record.Test] comes with an error, so that
// nobody takes part of a test for the whole. A dash is read as a blank where a
// blank may stand. A row of another name than the tests around it, such as that of
// an average, is a fault of the sheet and of no test. Two spellings of a name
// that differ by no more than case or blanks are a fault of the test, and cost
// nothing: on one day and in one pool all its rows are read under the first of them.
// A number may have the unit of its column behind it, as in 2.9 mmol/L, and no
// other. A value that can hardly be true, such as a lactate of 40 mmol/L, is a
// fault; what is possible but worth a look, such as two repeats of the same speed,
// is a finding of [Record.Review]. A row is no longer than 64 KiB and covers no
// more than 16 lines, so that no file, however hostile, takes more memory than one
// test.
//
// # What a plan can tell
//
// Plan.Outlook, Plan.Better and Plan.NextRepeat are package lactate/forecast on the
// repeats of a plan: its documentation has the model, its prior and its accuracy.
//
// # Concurrency
//
// Everything here may be used from several goroutines at once, but for the
// sequence of [ScanSheet], which reads one file.
//
// # Not here
//
// Tests of fixed duration, swims that end in mid-pool, target times that allow for turns,
// and any rule for changing a test that is under way other than where to put
// the next repeat. Lactate from one repeat that is still in the blood at the next
// is not modelled; Review speaks of the rest.
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
package protocol
