package command

import (
	"errors"
	"fmt"
	"slices"
	"strings"
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

// BySwimmer parts tests by swimmer, in the order of the sheet, each swimmer's by
// date.
func BySwimmer(records []protocol.Record) (all [][]protocol.Record) {
	at := map[string]int{}
	for _, rec := range records {
		i, ok := at[rec.Swimmer]
		if !ok {
			i, all = len(all), append(all, nil)
			at[rec.Swimmer] = i
		}
		all[i] = append(all[i], rec)
	}
	for _, tests := range all {
		slices.SortStableFunc(tests, func(a, b protocol.Record) int { return a.Date.Compare(b.Date) })
	}
	return all
}

// Swimmer returns the tests of the swimmer of that name, or of the only one in the
// sheet if name is empty; case and blanks make no difference to a name.
func Swimmer(records []protocol.Record, name string) ([]protocol.Record, error) {
	all := BySwimmer(records)
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
