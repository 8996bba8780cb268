package command

import (
	"fmt"
	"reflect"
	"time"

	"example.com/steptest/protocol"
)

// Whose names a test as an error does, with the date as it stands in a sheet.
func Whose(rec protocol.Record) string {
	return rec.Swimmer + ", " + rec.Date.Format(time.DateOnly)
}

// Pending says why a test without faults has nothing to read yet: "not swum", as
// a plan that waits, or "no lactate". It is empty for all others.
func Pending(rec protocol.Record) string {
	if len(rec.Faults) > 0 {
		return ""
	}
	swum, sampled := false, false
	for _, rep := range rec.Repeats {
		swum, sampled = swum || rep.Time > 0, sampled || rep.Lactate > 0
	}
	for _, s := range rec.Recovery {
		sampled = sampled || s.Lactate > 0
	}
	switch {
	case sampled:
		return ""
	case swum:
		return "no lactate"
	}
	return "not swum"
}

// Ready parts the tests that have something to read from those that are
// [Pending], with a note on each of these.
func Ready(records []protocol.Record) (ready []protocol.Record, notes []string) {
	for _, rec := range records {
		if why := Pending(rec); why != "" {
			notes = append(notes, fmt.Sprintf("%s, %s: %s, and left out", rec.Swimmer, Day(rec.Date), why))
			continue
		}
		ready = append(ready, rec)
	}
	return ready, notes
}

// joined holds the tests of sheets that are read together, each test once.
type joined struct {
	records []protocol.Record
	tests   map[testKey]place
	names   map[string]place // by what is left of a name without case and blanks
	spelt   map[string]bool  // names as they are written
}

type testKey struct{ swimmer, date string }

// place is where a test, or a name, stands first.
type place struct {
	sheet string
	rec   protocol.Record
}

// add takes the tests of a sheet. It says which of them stand in an earlier sheet
// already, and are left out, and which names differ from one there by no more
// than case and blanks.
func (j *joined) add(sheet string, records []protocol.Record) []error {
	if sheet == "-" {
		sheet = "standard input"
	}
	var errs []error
	fresh := joined{nil, map[testKey]place{}, map[string]place{}, map[string]bool{}}
	for _, rec := range records {
		k := testKey{rec.Swimmer, rec.Date.Format(time.DateOnly)}
		if first, ok := j.tests[k]; ok {
			as := ""
			if !sameTest(first.rec, rec) {
				as = ", as it stands there: the two differ"
			}
			errs = append(errs, fmt.Errorf("%s: the test of %s, is in %s already, and counts once%s", sheet, Whose(rec), first.sheet, as))
			continue
		}
		name := protocol.FoldName(rec.Swimmer)
		if first, ok := j.names[name]; ok && !j.spelt[rec.Swimmer] && !fresh.spelt[rec.Swimmer] {
			errs = append(errs, fmt.Errorf("%s: found the swimmer %q, want one spelling of a name; %s has %q", sheet, rec.Swimmer, first.sheet, first.rec.Swimmer))
		}
		fresh.spelt[rec.Swimmer] = true
		fresh.tests[k] = place{sheet, rec}
		if _, ok := fresh.names[name]; !ok {
			fresh.names[name] = place{sheet, rec}
		}
		j.records = append(j.records, rec)
	}
	// Within a sheet, reading it has said all this.
	if j.tests == nil {
		j.tests, j.names, j.spelt = fresh.tests, fresh.names, fresh.spelt
		return errs
	}
	for k, p := range fresh.tests {
		j.tests[k] = p
	}
	for name, p := range fresh.names {
		if _, ok := j.names[name]; !ok {
			j.names[name] = p
		}
	}
	for name := range fresh.spelt {
		j.spelt[name] = true
	}
	return errs
}

// sameTest tells whether two records say the same, whatever lines they stand in.
func sameTest(a, b protocol.Record) bool {
	a.Faults, b.Faults = nil, nil
	return reflect.DeepEqual(a, b)
}

// Faults says how many rows of a test have faults, and what they cost; nothing where
// there are none.
func Faults(rec protocol.Record) string {
	lines := map[int]bool{}
	for _, f := range rec.Faults {
		lines[f.Line] = true
	}
	if len(lines) == 0 {
		return ""
	}
	cost := "nothing of them is left out"
	switch rows, cells := rec.Lost(); {
	case rows > 0 && cells > 0:
		cost = fmt.Sprintf("rows left out: %d; single cells left out: %d", rows, cells)
	case rows > 0:
		cost = fmt.Sprintf("rows left out: %d", rows)
	case cells > 0:
		cost = fmt.Sprintf("single cells left out: %d", cells)
	}
	return fmt.Sprintf("rows of this test with faults: %d, listed on standard error; %s", len(lines), cost)
}
