package protocol

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/pace"
)

// WriteSheet writes tests as one sheet, so that [ReadSheet] gives the same
// records back, to the last bit. Columns that no test uses are left out,
// but for those that a sheet must have.
//
// Nothing is written unless every record can be read back; the error joins
// all that stands in the way: a value outside the bounds of a sheet, repeats
// that are not in order, a name with blanks around it, two tests of one swimmer
// on one day, a record with faults. Extra columns are written last, in
// alphabetic order.
func WriteSheet(w io.Writer, records []Record) error {
	cols, extras := columnsOf(records)
	if err := writable(records, cols, extras); err != nil {
		return err
	}
	out := csv.NewWriter(w)
	if err := out.Write(headerOf(cols, extras)); err != nil {
		return err
	}
	for _, rec := range records {
		for _, cells := range rowsOf(rec) {
			if err := out.Write(fieldsOf(cells, cols, extras)); err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}

func headerOf(cols []column, extras []string) []string {
	header := make([]string, 0, len(cols)+len(extras))
	for _, c := range cols {
		header = append(header, c.String())
	}
	return append(header, extras...)
}

func fieldsOf(r row, cols []column, extras []string) []string {
	fields := make([]string, 0, len(cols)+len(extras))
	for _, c := range cols {
		fields = append(fields, r.cell[c])
	}
	for _, name := range extras {
		fields = append(fields, r.extra[name])
	}
	return fields
}

// columnsOf returns the columns that the records need.
func columnsOf(records []Record) (cols []column, extras []string) {
	var used [columnCount]bool
	known := map[string]bool{}
	for c := range columnCount {
		used[c] = c.required() || c == colHeartRate
	}
	for _, rec := range records {
		for _, r := range rowsOf(rec) {
			for c, text := range r.cell {
				used[c] = used[c] || text != ""
			}
			for name := range r.extra {
				known[name] = true
			}
		}
	}
	for c := range columnCount {
		if used[c] {
			cols = append(cols, c)
		}
	}
	return cols, slices.Sorted(maps.Keys(known))
}

// rowsOf returns the rows of one record.
func rowsOf(rec Record) []row {
	rows := make([]row, 0, len(rec.Repeats)+len(rec.Recovery))
	leaves := slices.ContainsFunc(rec.Repeats, func(r Repeat) bool { return r.Leave != 0 })
	start := func(extra map[string]string, number int) row {
		r := row{extra: extra}
		r.cell[colSwimmer] = rec.Swimmer
		r.cell[colDate] = dateText(rec.Date)
		r.cell[colPool] = rec.Pool.String()
		r.cell[colRepeat] = strconv.Itoa(number)
		return r
	}
	last := Repeat{}
	for i, rep := range rec.Repeats {
		r := start(rep.Extra, rep.Number)
		if i == 0 {
			r.cell[colRest] = numberText(rec.Rest)
			r.cell[colWarmUp] = lengthText(rec.WarmUp, rec.Pool)
			r.cell[colNext] = dateText(rec.Next)
		}
		r.cell[colDistance] = lengthText(rep.Distance, rec.Pool)
		r.cell[colTarget] = timeText(rep.Target)
		if rep.AllOut {
			r.cell[colTarget] = strings.TrimSpace(r.cell[colTarget] + " all out")
		}
		if leaves {
			r.cell[colLeave] = pace.FormatTime(rep.Leave, -1)
		}
		r.cell[colTime] = timeText(rep.Time)
		r.cell[colAfter] = minutesText(rep.After)
		r.cell[colLactate] = numberText(rep.Lactate)
		r.cell[colHeartRate] = numberText(rep.HeartRate)
		r.cell[colCycles] = numberText(rep.Cycles)
		r.cell[colSegment] = lengthText(rep.Segment, rec.Pool)
		r.cell[colSegmentTime] = timeText(rep.SegmentTime)
		r.cell[colRemark] = rep.Remark
		rows = append(rows, r)
		last = rep
	}
	for _, s := range rec.Recovery {
		r := start(s.Extra, last.Number)
		r.cell[colDistance] = lengthText(last.Distance, rec.Pool)
		r.cell[colAfter] = minutesText(s.After)
		r.cell[colLactate] = numberText(s.Lactate)
		r.cell[colHeartRate] = numberText(s.HeartRate)
		r.cell[colRemark] = s.Remark
		rows = append(rows, r)
	}
	return rows
}

// writable joins all reasons why ReadSheet would not give the records back.
func writable(records []Record, cols []column, extras []string) error {
	var errs []error
	meaning, _, err := understand(1, headerOf(cols, extras))
	if err != nil {
		errs = append(errs, err)
	}
	for i, name := range extras {
		if m := meaning[len(cols)+i]; m >= 0 {
			errs = append(errs, fmt.Errorf("protocol: extra column %q: want a name that does not mean the column %q", name, m))
		}
		if name == "" || name != strings.TrimSpace(name) {
			errs = append(errs, fmt.Errorf("protocol: extra column %q: want a name without outer blanks", shorten(name)))
		}
	}
	seen, spelt := map[key]bool{}, map[string]string{}
	for i, rec := range records {
		k := key{rec.Swimmer, dateText(rec.Date)}
		err := rec.writable()
		if seen[k] {
			err = errors.Join(err, errors.New("protocol: a second test of this swimmer on this day"))
		}
		seen[k] = true
		name := foldName(rec.Swimmer)
		if other, ok := spelt[name]; ok && other != rec.Swimmer {
			err = errors.Join(err, fmt.Errorf("protocol: swimmer: found %q, want one spelling of a name; another record has %q", shorten(rec.Swimmer), shorten(other)))
		} else {
			spelt[name] = rec.Swimmer
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("protocol: record %d, %q of %s: %w", i, shorten(rec.Swimmer), k.date, err))
		}
	}
	return errors.Join(errs...)
}

// writable reads the record's own rows back and compares.
func (r Record) writable() error {
	if len(r.Faults) > 0 {
		return fmt.Errorf("it has faults: %w", r.Err())
	}
	if len(r.Repeats) == 0 {
		return errors.New("it has no repeat")
	}
	c := newCollector(key{r.Swimmer, dateText(r.Date)})
	for i, row := range rowsOf(r) {
		row.line = i + 1 // of the record, for want of a sheet
		length := 0
		for _, s := range row.cell {
			length += len(s) + strings.Count(s, `"`) + 3
		}
		breaks := strings.Count(row.cell[colRemark], "\n") + strings.Count(row.cell[colSwimmer], "\n")
		for name, value := range row.extra {
			length += len(value) + strings.Count(value, `"`) + 3
			breaks += strings.Count(value, "\n")
			if value == "" || value != strings.TrimSpace(value) {
				return fmt.Errorf("extra column %q: found %q, want a text without outer blanks", shorten(name), shorten(value))
			}
		}
		if length > maxRow/2 || breaks > maxRowLines/2 {
			return fmt.Errorf("row %d: its texts are too long for a sheet", i+1)
		}
		for _, s := range row.cell {
			if s != strings.TrimSpace(s) {
				return fmt.Errorf("row %d: found %q, want a text without outer blanks", i+1, shorten(s))
			}
		}
		p, faults := parseRow(row, false)
		if len(faults) > 0 {
			return joinFaults(faults)
		}
		c.add(p)
	}
	back := c.finish()
	if len(back.Faults) > 0 {
		return back.Err()
	}
	return r.sameAs(back)
}

// sameAs names the first difference between two records.
func (r Record) sameAs(back Record) error {
	differs := func(what string, a, b any) error {
		return fmt.Errorf("%s: %v would be read back as %v", what, a, b)
	}
	switch {
	case !r.Date.Equal(back.Date) || r.Date.Location() != time.UTC:
		return differs("date", r.Date, back.Date)
	case r.Pool != back.Pool:
		return differs("pool", r.Pool, back.Pool)
	case r.Rest != back.Rest:
		return differs("rest", r.Rest, back.Rest)
	case r.WarmUp != back.WarmUp:
		return differs("warm-up", r.WarmUp, back.WarmUp)
	case !r.Next.Equal(back.Next) || r.Next.Location() != time.UTC:
		return differs("next test", r.Next, back.Next)
	case len(r.Repeats) != len(back.Repeats):
		return differs("number of repeats", len(r.Repeats), len(back.Repeats))
	case len(r.Recovery) != len(back.Recovery):
		return differs("number of samples after the last repeat", len(r.Recovery), len(back.Recovery))
	}
	for i, a := range r.Repeats {
		b := back.Repeats[i]
		if !a.equal(b) {
			return differs(fmt.Sprintf("repeat %d", a.Number), a, b)
		}
	}
	for i, a := range r.Recovery {
		b := back.Recovery[i]
		if !a.equal(b) {
			return differs(fmt.Sprintf("sample %d after the last repeat", i+1), a, b)
		}
	}
	return nil
}

// numberText writes a number in full, and zero as nothing.
func numberText(v float64) string {
	if v == 0 {
		return ""
	}
	return decimalText(v)
}

func decimalText(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func dateText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(isoDate)
}

func timeText(t time.Duration) string {
	if t == 0 {
		return ""
	}
	return pace.FormatTime(t, -1)
}

// minutesText writes minutes with at most three decimals, or as a time.
func minutesText(t time.Duration) string {
	switch m := math.Round(t.Minutes()*1000) / 1000; {
	case t == 0:
		return ""
	case time.Duration(m*60*1000+0.5)*time.Millisecond == t:
		return decimalText(m)
	}
	return pace.FormatTime(t, -1)
}

// lengthText writes a distance in the unit of the pool where that gives it
// back to the last bit, and in full metres where not.
func lengthText(d pace.Length, pool pace.Pool) string {
	if d == 0 {
		return ""
	}
	n := math.Round(float64(d/pool.Unit())*1e6) / 1e6
	if pace.Length(n)*pool.Unit() == d {
		return decimalText(n)
	}
	if n = d.Yards(); pool.Unit() == pace.Yard && pace.Length(n)*pace.Yard == d {
		return decimalText(n)
	}
	return decimalText(d.Metres()) + " m"
}
