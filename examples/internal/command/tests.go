package command

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
)

// Ready parts the tests that have something to read from those that are
// [protocol.Record.Pending], with a note on each of these.
func Ready(records []protocol.Record) (ready []protocol.Record, notes []string) {
	for _, rec := range records {
		if why := rec.Pending(); why != "" {
			notes = append(notes, fmt.Sprintf("%s, %s: %s, and left out", rec.Swimmer, table.Day(rec.Date), why))
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
		names = append(names, tests[0].Swimmer)
	}
	name, err := meant(names, name)
	if err != nil {
		return nil, err
	}
	return all[slices.Index(names, name)], nil
}

// meant returns which of a sheet's swimmers a name means, as [Swimmer] does.
func meant(names []string, name string) (string, error) {
	if slices.Contains(names, name) {
		return name, nil
	}
	same := func(n string) bool { return protocol.FoldName(n) == protocol.FoldName(name) }
	if i := slices.IndexFunc(names, same); i >= 0 {
		return names[i], nil
	}
	switch {
	case len(names) == 0:
		return "", errors.New("the sheet has no test")
	case name != "":
		return "", fmt.Errorf("the sheet has no test of %s; it has those of %s", name, strings.Join(names, ", "))
	case len(names) > 1:
		hint := ""
		if name = names[0]; slices.ContainsFunc(names[1:], same) {
			hint = "; if they are one swimmer, give the sheet one spelling of the name"
		}
		return "", fmt.Errorf("the sheet has tests of %s: say whose with -swimmer%s", strings.Join(names, ", "), hint)
	}
	return names[0], nil
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
	var cost []string
	rows, cells := rec.Lost()
	if rows > 0 {
		cost = append(cost, fmt.Sprintf("rows left out: %d", rows))
	}
	if cells > 0 {
		cost = append(cost, fmt.Sprintf("single cells left out: %d", cells))
	}
	if cost == nil {
		cost = []string{"nothing of them is left out"}
	}
	return fmt.Sprintf("rows of this test with faults: %d, listed on standard error; %s", len(lines), strings.Join(cost, "; "))
}
