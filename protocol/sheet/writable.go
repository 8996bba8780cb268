package sheet

import (
	"cmp"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// columnsWritable joins all reasons why Read would not find the extra columns, which end
// the header.
func columnsWritable(header, extras []string) error {
	h := sheetHeadings(1, header)
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
		k, name := key{rec.Swimmer, dateText(rec.Date)}, protocol.FoldName(rec.Swimmer)
		err := recordWritable(rec)
		if seen[k] {
			err = errors.Join(err, errors.New("sheet: found a second test of this swimmer on this day, want one"))
		}
		if other, ok := spelt[name]; ok && other != rec.Swimmer {
			err = errors.Join(err, fmt.Errorf("sheet: swimmer: found %q, want one spelling of a name; another record has %q", form.Shorten(rec.Swimmer), form.Shorten(other)))
		} else {
			spelt[name] = rec.Swimmer
		}
		seen[k] = true
		if err != nil {
			errs = append(errs, fmt.Errorf("sheet: record %d, %q of %s: %w", i, form.Shorten(rec.Swimmer), k.date, err))
		}
	}
	return errors.Join(errs...)
}

// recordWritable reads the record's own rows back and compares.
func recordWritable(r protocol.Record) error {
	switch {
	case len(r.Faults) > 0:
		return fmt.Errorf("found faults, want a record without: %w", r.Err())
	case len(r.Repeats) == 0:
		return errors.New("found no repeat, want one or more")
	}
	var c *collector
	for i, row := range rowsOf(r) {
		row.line = i + 1 // of the record, for want of a sheet
		if err := row.textsWritable(); err != nil {
			return err
		}
		if row.parse(); len(row.faults) > 0 {
			return joinFaults(row.faults)
		}
		if c == nil {
			c = newCollector(row.parsed)
		}
		c.add(row.parsed)
	}
	back := c.finish()
	if len(back.Faults) > 0 {
		return back.Err()
	}
	return sameAs(r, back)
}

// textsWritable reports a cell with outer blanks, and a row that is too long.
func (r *row) textsWritable() error {
	length, breaks := 0, 0
	var blanks error
	trimmed := func(s string) bool {
		length += len(s) + strings.Count(s, `"`) + 3
		breaks += strings.Count(s, "\n")
		return s == strings.TrimSpace(s)
	}
	for name, s := range r.extra {
		if !trimmed(s) || s == "" {
			return fmt.Errorf("extra column %q: found %q, want a text without outer blanks", form.Shorten(name), form.Shorten(s))
		}
	}
	for _, s := range r.cell {
		if !trimmed(s) {
			blanks = cmp.Or(blanks, fmt.Errorf("row %d: found %q, want a text without outer blanks", r.line, form.Shorten(s)))
		}
	}
	if length > maxRow/2 || breaks > maxRowLines/2 {
		return fmt.Errorf("row %d: found texts that are too long for a sheet, want %d bytes and %d lines at most", r.line, maxRow/2, maxRowLines/2)
	}
	return blanks
}

// sameAs names the first difference between two records.
func sameAs(r, back protocol.Record) (err error) {
	compare := func(what string, was, read any) {
		if err == nil && !reflect.DeepEqual(was, read) {
			err = fmt.Errorf("%s: found %v, want a value that a sheet holds; this would be read back as %v", what, was, read)
		}
	}
	compare("swimmer", r.Swimmer, back.Swimmer)
	compare("date", r.Date, back.Date)
	compare("pool", r.Pool, back.Pool)
	compare("rest", r.Rest, back.Rest)
	compare("warm-up", r.WarmUp, back.WarmUp)
	compare("next test", r.Next, back.Next)
	compare("repeat before the last samples", r.RecoveryAfter, back.RecoveryAfter)
	compare("number of repeats", len(r.Repeats), len(back.Repeats))
	compare("number of samples after the last repeat", len(r.Recovery), len(back.Recovery))
	for i, rep := range r.Repeats[:min(len(r.Repeats), len(back.Repeats))] {
		if len(rep.Extra) == 0 {
			rep.Extra = nil
		}
		compare(fmt.Sprintf("repeat %d", rep.Number), rep, back.Repeats[i])
	}
	for i, s := range r.Recovery[:min(len(r.Recovery), len(back.Recovery))] {
		if len(s.Extra) == 0 {
			s.Extra = nil
		}
		compare(fmt.Sprintf("sample %d after the last repeat", i+1), s, back.Recovery[i])
	}
	return err
}
