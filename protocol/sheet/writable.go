package sheet

import (
	"errors"
	"fmt"
	"maps"
	"strings"
	"time"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// writable joins all reasons why Read would not give the records back.
func writable(records []protocol.Record, cols []column, extras []string) error {
	var errs []error
	h := understand(1, headerOf(cols, extras))
	errs = append(errs, h.faults...)
	for i, name := range extras {
		if m := h.meaning[len(cols)+i]; m >= 0 {
			errs = append(errs, fmt.Errorf("sheet: extra column: found %q, want a name that does not mean the column %q", form.Shorten(name), m))
		}
		if name == "" || name != strings.TrimSpace(name) {
			errs = append(errs, fmt.Errorf("sheet: extra column: found %q, want a name without outer blanks", form.Shorten(name)))
		}
	}
	seen, spelt := map[key]bool{}, map[string]string{}
	for i, rec := range records {
		k := key{rec.Swimmer, dateText(rec.Date)}
		err := recordWritable(rec)
		if seen[k] {
			err = errors.Join(err, errors.New("sheet: found a second test of this swimmer on this day, want one"))
		}
		seen[k] = true
		name := protocol.FoldName(rec.Swimmer)
		if other, ok := spelt[name]; ok && other != rec.Swimmer {
			err = errors.Join(err, fmt.Errorf("sheet: swimmer: found %q, want one spelling of a name; another record has %q", form.Shorten(rec.Swimmer), form.Shorten(other)))
		} else {
			spelt[name] = rec.Swimmer
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("sheet: record %d, %q of %s: %w", i, form.Shorten(rec.Swimmer), k.date, err))
		}
	}
	return errors.Join(errs...)
}

// recordWritable reads the record's own rows back and compares.
func recordWritable(r protocol.Record) error {
	if len(r.Faults) > 0 {
		return fmt.Errorf("found faults, want a record without: %w", r.Err())
	}
	if len(r.Repeats) == 0 {
		return errors.New("found no repeat, want one or more")
	}
	c := newCollector(parsed{key: key{r.Swimmer, dateText(r.Date)}}, nil)
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
				return fmt.Errorf("extra column %q: found %q, want a text without outer blanks", form.Shorten(name), form.Shorten(value))
			}
		}
		if length > maxRow/2 || breaks > maxRowLines/2 {
			return fmt.Errorf("row %d: found texts that are too long for a sheet, want %d bytes and %d lines at most", i+1, maxRow/2, maxRowLines/2)
		}
		for _, s := range row.cell {
			if s != strings.TrimSpace(s) {
				return fmt.Errorf("row %d: found %q, want a text without outer blanks", i+1, form.Shorten(s))
			}
		}
		p, faults := parseRow(row, false)
		if len(faults) > 0 {
			return joinFaults(faults)
		}
		if p.key.swimmer != r.Swimmer {
			return fmt.Errorf("swimmer: found %q, want the name as a sheet is read, %q", form.Shorten(r.Swimmer), form.Shorten(p.key.swimmer))
		}
		c.add(p)
	}
	back := c.finish()
	if len(back.Faults) > 0 {
		return back.Err()
	}
	return sameAs(r, back)
}

// sameAs names the first difference between two records.
func sameAs(r, back protocol.Record) error {
	differs := func(what string, a, b any) error {
		return fmt.Errorf("%s: found %v, want a value that a sheet holds; this would be read back as %v", what, a, b)
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
	case r.RecoveryAfter != back.RecoveryAfter:
		return differs("repeat before the last samples", r.RecoveryAfter, back.RecoveryAfter)
	case len(r.Repeats) != len(back.Repeats):
		return differs("number of repeats", len(r.Repeats), len(back.Repeats))
	case len(r.Recovery) != len(back.Recovery):
		return differs("number of samples after the last repeat", len(r.Recovery), len(back.Recovery))
	}
	for i, a := range r.Repeats {
		b := back.Repeats[i]
		if !sameRepeat(a, b) {
			return differs(fmt.Sprintf("repeat %d", a.Number), a, b)
		}
	}
	for i, a := range r.Recovery {
		b := back.Recovery[i]
		if !sameSample(a, b) {
			return differs(fmt.Sprintf("sample %d after the last repeat", i+1), a, b)
		}
	}
	return nil
}

func sameRepeat(r, o protocol.Repeat) bool {
	return r.Number == o.Number && r.Distance == o.Distance && r.Target == o.Target && r.AllOut == o.AllOut && r.Leave == o.Leave &&
		r.Time == o.Time && r.After == o.After && r.Lactate == o.Lactate && r.Range == o.Range && r.HeartRate == o.HeartRate &&
		r.StrokeRate == o.StrokeRate && r.StrokesPerLength == o.StrokesPerLength &&
		r.Cycles == o.Cycles && r.Segment == o.Segment && r.SegmentTime == o.SegmentTime && r.Remark == o.Remark && maps.Equal(r.Extra, o.Extra)
}

func sameSample(s, o protocol.Sample) bool {
	return s.After == o.After && s.Lactate == o.Lactate && s.Range == o.Range && s.HeartRate == o.HeartRate && s.Remark == o.Remark && maps.Equal(s.Extra, o.Extra)
}
