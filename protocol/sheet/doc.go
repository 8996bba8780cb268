// Package sheet reads and writes the sheet of a step test: the table that goes
// to the pool and comes back filled in.
//
//	records, err := sheet.Read(file)       // all tests, and all faults, of a file
//	for record, err := range sheet.Scan(file) { … } // one test at a time
//	err = sheet.Write(file, records)       // the same records, to the last bit
//	err = sheet.WritePlan(file, plan)      // a plan, with blank cells to fill in
//
// # The format
//
// A sheet is a CSV file (RFC 4180, UTF-8) with a header line and one row for
// each repeat. One file can hold a test, a squad or a season:
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
//	lactate          (mmol/L); blank: not taken, or lost; the row is kept
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
// The first five, time and lactate are required. A row with minutes after and
// without a time is a further sample after the last repeat.
//
// Columns may stand in any order. Case, blanks, underscores and hyphens in their
// names are ignored. A unit may stand in brackets, or for times a form (min:s).
// Some other names of the trade are understood: name, course, rep, hr, pulse,
// la. A column of another name is kept in [protocol.Repeat.Extra], and
// [protocol.Record.Review] reports it. A name that looks like a slip of the pen
// is a fault.
//
// # What is read besides
//
//   - Semicolons instead of commas, with decimal points or decimal commas, as
//     spreadsheets write them where the comma is the decimal sign. The header
//     decides. Commas are written.
//   - A byte order mark, and lines that end in CRLF.
//   - A dash for a blank, in cells that may be blank.
//   - A number with the unit of its column behind it, as in 2.9 mmol/L.
//
// A row has at most 64 KiB and 16 lines. No file, however hostile, takes more
// memory than one test.
//
// # Faults
//
// Every fault is reported, each a [*protocol.Fault] with its line, what was found
// and what was wanted. In a cell that a repeat needs (swimmer, date, pool,
// distance, repeat, time) a fault costs the row and no other. In any other cell
// it costs the cell, and the row is read with that cell blank.
//
// A test that lacks a row or a cell has the fault in [protocol.Record.Faults],
// and its [protocol.Record.Test] comes with an error: part of a test is never
// taken for the whole. If the row itself belongs to no test, as one of averages
// does, only the sheet is at fault. [Scan] says whose a row without a name is.
//
// Two spellings of a name that are equal once case and spaces are ignored are a
// fault that costs nothing. On one day and in one pool all rows are read under
// the first spelling.
//
// A value that can hardly be true, such as a lactate of 40 mmol/L, is a fault.
// What is possible but worth a look, such as two repeats of the same speed, is a
// finding of [protocol.Record.Review].
//
// # Concurrency
//
// Everything here may be used from several goroutines at once, except the
// sequence of [Scan], which reads one file.
package sheet
