package sheet

import (
	"cmp"
	"encoding/csv"
	"errors"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// Write writes tests as one sheet. [Read] gives the same records back, to the last bit.
// Columns that no test uses are left out, required ones and heart rate aside. Extra columns
// are written last, in alphabetical order. A text that a spreadsheet would take for a
// formula has a quotation mark before it in the file, which Read takes away: '=1+1.
//
// Nothing is written unless every record can be read back. The error joins all that stands
// in the way: a value outside the bounds of a sheet, repeats out of order, a name with
// blanks around it, two tests of one swimmer on one day, a record with faults.
func Write(w io.Writer, records []protocol.Record) error { return write(w, records, false) }

// WritePlan writes a plan as a sheet with blank cells to fill in at the pool:
// time, lactate, heart rate, resting lactate, stroke cycles and a remark. [Read]
// reads it back, filled in or not, and [protocol.Record.Plan] gives the same
// plan, its name cleaned by [protocol.CleanName]. The plan needs a swimmer and a date. The error says what stands in the
// way.
func WritePlan(w io.Writer, p protocol.Plan) error {
	rec := p.Record()
	rec.Swimmer = protocol.CleanName(rec.Swimmer)
	return WriteForm(w, []protocol.Record{rec})
}

// WriteForm is [Write] with every column that is usually filled in, for tests that are
// still to be swum.
func WriteForm(w io.Writer, records []protocol.Record) error { return write(w, records, true) }

func write(w io.Writer, records []protocol.Record, asForm bool) error {
	var rows []row
	for _, rec := range records {
		rows = append(rows, rowsOf(rec)...)
	}
	cols, extras := columnsOf(rows, asForm)
	var header []string
	for _, c := range cols {
		header = append(header, c.String())
	}
	header = append(header, extras...)
	if err := errors.Join(columnsWritable(header, extras), writable(records)); err != nil {
		return err
	}
	for i, name := range header {
		header[i] = guarded(name)
	}
	lines := [][]string{header}
	for _, r := range rows {
		var fields []string
		for _, c := range cols {
			fields = append(fields, guarded(r.cell[c]))
		}
		for _, name := range extras {
			fields = append(fields, guarded(r.extra[name]))
		}
		lines = append(lines, fields)
	}
	return csv.NewWriter(w).WriteAll(lines)
}

// columnsOf returns the columns that the rows need, or that a form has.
func columnsOf(rows []row, asForm bool) (cols []column, extras []string) {
	var used [allColumns]bool
	known := map[string]bool{}
	for _, r := range rows {
		for c, text := range r.cell {
			used[c] = used[c] || text != ""
		}
		for name := range r.extra {
			known[name] = true
		}
	}
	for c := range columnCount {
		if used[c] || c.required() || c == colHeartRate || asForm && c != colRate && c != colPerLength {
			cols = append(cols, c)
		}
	}
	return cols, slices.Sorted(maps.Keys(known))
}

// rowsOf returns the rows of one record, a sample after the last repeat as one without
// a time.
func rowsOf(rec protocol.Record) (rows []row) {
	leaves := slices.ContainsFunc(rec.Repeats, func(r protocol.Repeat) bool { return r.Leave != 0 })
	last := protocol.Repeat{}
	for i, rep := range rec.Repeats {
		r := rowOf(rec, rep)
		if i == 0 {
			r.cell[colRest] = numberText(rec.Rest)
			r.cell[colWarmUp] = lengthText(rec.WarmUp, rec.Pool)
			r.cell[colNext] = dateText(rec.Next)
		}
		if leaves {
			r.cell[colLeave] = leaveText(rep.Leave)
		}
		rows, last = append(rows, r), rep
	}
	for _, s := range rec.Recovery {
		rows = append(rows, rowOf(rec, protocol.Repeat{Number: last.Number, Distance: last.Distance, After: s.After, Lactate: s.Lactate, Range: s.Range,
			HeartRate: s.HeartRate, Remark: s.Remark, Extra: s.Extra}))
	}
	return rows
}

// rowOf returns the row of a repeat, or of a sample as one.
func rowOf(rec protocol.Record, rep protocol.Repeat) row {
	r := row{extra: rep.Extra, units: new([allColumns]string)}
	r.cell = [allColumns]string{
		colSwimmer:     rec.Swimmer,
		colDate:        dateText(rec.Date),
		colPool:        rec.Pool.String(),
		colDistance:    lengthText(rep.Distance, rec.Pool),
		colRepeat:      strconv.Itoa(rep.Number),
		colTarget:      timeText(rep.Target),
		colTime:        timeText(rep.Time),
		colAfter:       form.Minutes(rep.After),
		colLactate:     cmp.Or(numberText(rep.Lactate), rep.Range.String()),
		colHeartRate:   numberText(rep.HeartRate),
		colCycles:      numberText(rep.Cycles),
		colSegment:     lengthText(rep.Segment, rec.Pool),
		colSegmentTime: timeText(rep.SegmentTime),
		colRate:        numberText(rep.StrokeRate),
		colPerLength:   numberText(rep.StrokesPerLength),
		colRemark:      rep.Remark,
	}
	if rep.AllOut {
		r.cell[colTarget] = strings.TrimSpace(r.cell[colTarget] + " all out")
	}
	return r
}

// leaveText writes a send-off, in seconds if it would be read otherwise: 4:00:00 as 4:00.
func leaveText(t time.Duration) string {
	if t > maxLeave && t%time.Minute == 0 {
		return form.Decimal(t.Seconds())
	}
	return pace.FormatTime(t, -1)
}

// numberText writes a number in full, and zero as nothing.
func numberText(v float64) string { return unlessZero(v, form.Decimal) }

func dateText(t time.Time) string {
	return unlessZero(t, func(t time.Time) string { return t.Format(time.DateOnly) })
}

func timeText(t time.Duration) string {
	return unlessZero(t, func(t time.Duration) string { return pace.FormatTime(t, -1) })
}

// unlessZero writes a value, and zero as nothing.
func unlessZero[T comparable](v T, write func(T) string) string {
	if v == *new(T) {
		return ""
	}
	return write(v)
}

// lengthText writes a distance in the unit of the pool if that gives it back to
// the last bit, and else in full metres.
func lengthText(d pace.Length, pool pace.Pool) string {
	if d == 0 {
		return ""
	}
	n := math.Round(float64(d/pool.Unit())*1e6) / 1e6
	if pace.Length(n)*pool.Unit() == d {
		return form.Decimal(n)
	}
	if n = d.Yards(); pool.Unit() == pace.Yard && pace.Length(n)*pace.Yard == d {
		return form.Decimal(n)
	}
	return form.Decimal(d.Metres()) + " m"
}
