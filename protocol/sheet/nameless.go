package sheet

import (
	"slices"
	"strings"
	"time"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// nameless is a row that does not say whose it is. It waits until a row that does
// decides which test lacks it: [Scan] says how. If the test below starts with another
// repeat than its first, its first repeats are likely among such rows.
type nameless struct {
	swimmer string   // folded; empty: not said
	dates   []string // one of these; none: not said
	nothing bool     // the row is readable, and has no name, date or number
	faults  []*protocol.Fault
}

// maxNameless bounds the names that are kept of rows at fault [bytes].
const maxNameless = 200

func newNameless(r row) nameless {
	swimmer, date := r.cell[colSwimmer], r.cell[colDate]
	n := nameless{dates: r.either, faults: r.faults, nothing: !r.broken && swimmer == "" && date == "" && r.cell[colRepeat] == ""}
	if form.Printable(swimmer) {
		n.swimmer = clipped(swimmer)
	}
	if _, err := time.Parse(time.DateOnly, date); err == nil {
		n.dates = []string{date}
	}
	return n
}

// clipped returns the beginning of the folded name, in memory of its own.
func clipped(name string) string {
	name = protocol.FoldName(name)
	return strings.Clone(name[:min(len(name), maxNameless)]) // lets go of the row
}

// testOf returns the test that lacks the row: that of the row above, or that of the row
// below, or none. Either may be zero.
func (n nameless) testOf(above key, below parsed) key {
	of := []key{above}
	if below.key != (key{}) && below.repeat.Number != 1 {
		of[0] = below.key
	}
	if n.swimmer != "" || len(n.dates) > 0 {
		of = append(of, above, below.key)
	}
	for _, k := range of {
		if k != (key{}) && !n.nothing && (n.swimmer == "" || n.swimmer == clipped(k.swimmer)) && (len(n.dates) == 0 || slices.Contains(n.dates, k.date)) {
			return k
		}
	}
	return key{}
}
