package sheet

import (
	"cmp"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"example.com/steptest/internal/form"
	"example.com/steptest/protocol"
)

// columnsWritable joins all reasons why Read would not find the extra columns, which end
// the header.
func columnsWritable(header, extras []string) error {
	h := understand(1, header)
	errs := h.faults
	for i, name := range extras {
		if m := h.meaning[len(header)-len(extras)+i]; m >= 0 {
			errs = append(errs, fmt.Errorf("sheet: extra column: found %q, want a name that does not mean the column %q", form.Shorten(name), m))
		}
		if name == "" || name != strings.TrimSpace(name) {
			errs = append(errs, fmt.Errorf("sheet: extra column: found %q, want a name without outer blanks", form.Shorten(name)))
		}
	}
	return errors.Join(errs...)
}

// writable joins all reasons why Read would not give the records back.
func writable(records []protocol.Record) error {
	var errs []error
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
	var c *collector
	for i, row := range rowsOf(r) {
		row.line = i + 1 // of the record, for want of a sheet
		length, breaks := 0, 0
		add := func(s string) error {
			length += len(s) + strings.Count(s, `"`) + 3
			breaks += strings.Count(s, "\n")
			if s != strings.TrimSpace(s) {
				return fmt.Errorf("row %d: found %q, want a text without outer blanks", i+1, form.Shorten(s))
			}
			return nil
		}
		for name, s := range row.extra {
			if add(s) != nil || s == "" {
				return fmt.Errorf("extra column %q: found %q, want a text without outer blanks", form.Shorten(name), form.Shorten(s))
			}
		}
		var blanks error
		for _, s := range row.cell {
			blanks = cmp.Or(blanks, add(s))
		}
		if length > maxRow/2 || breaks > maxRowLines/2 {
			return fmt.Errorf("row %d: found texts that are too long for a sheet, want %d bytes and %d lines at most", i+1, maxRow/2, maxRowLines/2)
		}
		if blanks != nil {
			return blanks
		}
		p := row.parse()
		if len(p.faults) > 0 {
			return joinFaults(p.faults)
		}
		if c == nil {
			c = newCollector(p)
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
	type pair struct {
		what      string
		was, read any
	}
	pairs := []pair{
		{"swimmer", r.Swimmer, back.Swimmer}, {"date", r.Date, back.Date}, {"pool", r.Pool, back.Pool}, {"rest", r.Rest, back.Rest}, {"warm-up", r.WarmUp, back.WarmUp}, {"next test", r.Next, back.Next},
		{"repeat before the last samples", r.RecoveryAfter, back.RecoveryAfter}, {"number of repeats", len(r.Repeats), len(back.Repeats)},
		{"number of samples after the last repeat", len(r.Recovery), len(back.Recovery)},
	}
	for i, rep := range r.Repeats[:min(len(r.Repeats), len(back.Repeats))] {
		if len(rep.Extra) == 0 {
			rep.Extra = nil
		}
		pairs = append(pairs, pair{fmt.Sprintf("repeat %d", rep.Number), rep, back.Repeats[i]})
	}
	for i, s := range r.Recovery[:min(len(r.Recovery), len(back.Recovery))] {
		if len(s.Extra) == 0 {
			s.Extra = nil
		}
		pairs = append(pairs, pair{fmt.Sprintf("sample %d after the last repeat", i+1), s, back.Recovery[i]})
	}
	for _, p := range pairs {
		if !reflect.DeepEqual(p.was, p.read) {
			return fmt.Errorf("%s: found %v, want a value that a sheet holds; this would be read back as %v", p.what, p.was, p.read)
		}
	}
	return nil
}
