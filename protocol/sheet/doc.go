// Package sheet reads and writes the sheet of a step test: the table that goes
// to the pool and comes back filled in.
//
//	records, err := sheet.Read(file)       // all tests, and all faults, of a file
//	for record, err := range sheet.Scan(file) { … } // one test at a time
//	err = sheet.Write(file, records)       // the same records, to the last bit
//	readings, err := sheet.ReadReadings(file) // lactates taken in training, a file of its own
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
//	swimmer          the name
//	date             2025-01-18 (ISO 8601)
//	pool             25 yd, 25 m, 50 m, SCY, SCM, LCM or any other
//	distance         400, in the unit of the pool, or 400 m; a whole number of lengths
//	repeat           1 to 99, each once in a test
//	time             5:12.4; blank: not swum, or lost
//	lactate          (mmol/L); HI or Lo: beyond the range of the analyser;
//	                 blank: not taken, or lost; the row is kept
//	minutes after    time from the end of the repeat to the sample
//	heart rate       (1/min)
//	resting lactate  (mmol/L), in any row of the test
//	target, leave    what was planned; "4:50 all out"
//	stroke cycles, stroke segment, segment time
//	                 counted and timed over a stretch in mid-pool
//	stroke rate      full cycles (1/min), by a watch
//	strokes per length
//	                 arm strokes, two to a cycle in crawl and backstroke
//	remark           any text
//	warm up, next test
//	                 of the whole test, in any row of it
//
// The first five, time and lactate are required. A row with minutes after and
// without a time is a further sample after the last repeat.
//
// Columns may stand in any order. A column of another name is kept in
// [protocol.Repeat.Extra], and [protocol.Record.Review] reports it. A name that
// looks like a slip of the pen is a fault.
//
// # What is read besides
//
// What has one reading is read. If another reading was thought of, a
// [protocol.Note] says so, and [protocol.Record.Review] has it.
//
//   - Semicolons or tabs instead of commas, then also with decimal commas; decimal
//     commas between quotation marks; a byte order mark; lines that end in CRLF; a
//     title of up to 20 lines above the header; rows that leave out blank cells at
//     their end.
//   - Headings in any case, with underscores or hyphens, and with a unit behind
//     them, in brackets or not: distance (yd), time (s), date (dd/mm/yyyy). Other
//     names of the trade: name, course, dist, rep, step, stage, no, #, lac, la,
//     hr, bpm, pulse, sr, spl.
//   - Dates with one reading: 18/01/2025, 10/18/2025, 1/18/25, 2025/1/18,
//     18 Jan 2025, with a time of day, and a spreadsheet's number of a day. If
//     3/4/2025 has two, the other dates of the sheet, the header or
//     [Options.Dates] settle it; with points the day stands first. Up to 1 MiB of
//     rows wait for a date that settles it. If there is none, that is one fault.
//   - Times that a spreadsheet took for times of the day: 05:46:00, 5:46:00 AM,
//     0.240277778 are 5:46 if 5:46 makes a swim and they do not; 5.46.7, 5'46"7,
//     18.0 s.
//   - A row without swimmer and date, and with the next number, goes on with the
//     row above, as merged cells do.
//   - A dash for a blank, in cells that may be blank; a number with the unit of
//     its column behind it, as in 2.9 mmol/L; >25 for HI; 533 1/3 or 533.33 in a
//     pool of 33 1/3 m.
//   - Names that look alike, in two encodings, with characters that do not show
//     or with typographic apostrophes, are one name: [protocol.CleanName].
//
// A row has at most 64 KiB and 16 lines. No file, however hostile, takes more
// memory than one test and the rows that wait for a date.
//
// # Faults
//
// Every fault is reported, each a [*protocol.Fault] with its line, what was found and what
// was wanted. In a cell that a repeat needs (swimmer, date, pool, distance, repeat, time) a
// fault costs the row and no other. In any other cell it costs the cell, and the row is
// read with that cell blank. No row is lost without a fault. What many rows of a sheet have
// in common is told once, with the number of its rows.
//
// A test that lacks a row or a cell has the fault in [protocol.Record.Faults],
// and its [protocol.Record.Test] comes with an error if the curve needs what is
// lost: part of a test is never taken for the whole. If the row itself belongs to
// no test, as one of averages does, only the sheet is at fault. [Scan] says whose
// a row without a name is. The pool of a test is that of most of its rows.
//
// Two spellings of a name that are equal once case and spaces are ignored are a fault that
// costs nothing. On one day and in one pool all rows are read under the first spelling. Of
// names that are one letter apart, [Read] asks whether they are one person.
//
// A value that can hardly be true, such as a lactate of 40 mmol/L, is a fault.
// What is possible but worth a look, such as two repeats of the same speed or a
// time far from what the others lead to, is a finding of [protocol.Record.Review].
//
// # Concurrency
//
// Everything here may be used from several goroutines at once, except the
// sequence of [Scan], which reads one file.
package sheet

// A sheet is read in these steps, the way of a row. read.go and assign.go pull: assign calls
// rows, which calls header and dates, and then parse; read calls collect.
//
//	types.go    what the steps hand on: a row, its values, the rows of a test
//	read.go     Read and Scan: rows become tests, of the whole sheet or one after the other (errors.go)
//	assign.go   which test each row is of
//	rows.go     lines (lines.go) become fields (formula.go), and these the cells of their columns
//	header.go   which column each field is of (columns.go: all columns)
//	dates.go    what dates mean, once their order is known
//	parse.go    cells become the values of a repeat (cells.go, clock.go)
//	collect.go  the rows of a test become its record (notes.go, names.go, pools.go)
//
// write.go goes the other way, and writable.go reads its rows back first; readings.go
// reads files of another kind.
