package command

import (
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"time"

	"example.com/steptest/protocol"
)

// Whose names a test as an error does, with the date as it stands in a sheet.
func Whose(rec protocol.Record) string {
	return rec.Swimmer + ", " + rec.Date.Format(time.DateOnly)
}

// Ready parts the tests that have something to read from those that are
// [protocol.Record.Pending], with a note on each of these.
func Ready(records []protocol.Record) (ready []protocol.Record, notes []string) {
	for _, rec := range records {
		if why := rec.Pending(); why != "" {
			notes = append(notes, fmt.Sprintf("%s, %s: %s, and left out", rec.Swimmer, Day(rec.Date), why))
			continue
		}
		ready = append(ready, rec)
	}
	return ready, notes
}

// Swimmer returns the tests of the swimmer of that name, or of the only one in the
// sheet if name is empty; case and blanks make no difference to a name.
func Swimmer(records []protocol.Record, name string) ([]protocol.Record, error) {
	all := protocol.BySwimmer(records)
	var names []string
	for _, tests := range all {
		if tests[0].Swimmer == name {
			return tests, nil
		}
		names = append(names, tests[0].Swimmer)
	}
	if i := slices.IndexFunc(names, func(n string) bool { return protocol.FoldName(n) == protocol.FoldName(name) }); i >= 0 {
		return all[i], nil
	}
	switch {
	case len(all) == 0:
		return nil, errors.New("the sheet has no test")
	case name != "":
		return nil, fmt.Errorf("the sheet has no test of %s; it has those of %s", name, strings.Join(names, ", "))
	case len(all) > 1:
		hint := ""
		for _, n := range names[1:] {
			if protocol.FoldName(n) == protocol.FoldName(names[0]) {
				hint = "; if they are one swimmer, give the sheet one spelling of the name"
			}
		}
		return nil, fmt.Errorf("the sheet has tests of %s: say whose with -swimmer%s", strings.Join(names, ", "), hint)
	}
	return all[0], nil
}

// joined holds the tests of sheets that are read together, each test once.
type joined struct {
	records []protocol.Record
	first   map[string]place // of a test, by swimmer and date; of a name, as written and folded
}

// place is where a test, or a name, stands first.
type place struct {
	sheet string
	rec   protocol.Record
}

// add takes the tests of a sheet. It says which of them stand in an earlier sheet
// already, and are left out, and which names differ from one there by no more
// than case and blanks. Within a sheet, reading it has said all this.
func (j *joined) add(sheet string, records []protocol.Record) (errs []error) {
	if sheet == "-" {
		sheet = "standard input"
	}
	fresh := map[string]place{}
	for _, rec := range records {
		test, written, name := "test\n"+Whose(rec), "written\n"+rec.Swimmer, "name\n"+protocol.FoldName(rec.Swimmer)
		if first, ok := j.first[test]; ok {
			as := ""
			if !sameTest(first.rec, rec) {
				as = ", as it stands there: the two differ"
			}
			errs = append(errs, fmt.Errorf("%s: the test of %s, is in %s already, and counts once%s", sheet, Whose(rec), first.sheet, as))
			continue
		}
		_, known := j.first[written]
		_, told := fresh[written]
		if first, ok := j.first[name]; ok && !known && !told {
			errs = append(errs, fmt.Errorf("%s: found the swimmer %q, want one spelling of a name; %s has %q", sheet, rec.Swimmer, first.sheet, first.rec.Swimmer))
		}
		for _, key := range []string{test, written, name} {
			if _, ok := fresh[key]; !ok {
				fresh[key] = place{sheet, rec}
			}
		}
		j.records = append(j.records, rec)
	}
	maps.Copy(fresh, j.first) // the earlier sheet stays the first
	j.first = fresh
	return errs
}

// sameTest reports whether two records are equal, whatever lines they stand in.
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
