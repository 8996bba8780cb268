package sheet

import (
	"slices"
	"time"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// nameless holds the rows that do not say whose they are, until a row that does
// decides which test lacks them.
//
// Such rows belong to the test above. They belong to the test below if that
// test starts there with another repeat than its first: its first repeats are
// then likely among them. A row that names a swimmer or a day belongs to the
// neighbour that it fits. A row that fits neither, or that holds no name, date
// or number at all, is a fault of the sheet alone.
type nameless struct {
	above  key // test of the last row that says whose it is; zero at the top
	rows   []orphan
	faults int
}

// add keeps a row. It reports whether so many faults are kept that they must
// be settled.
func (n *nameless) add(o orphan) (full bool) {
	n.rows = append(n.rows, o)
	n.faults += len(o.faults)
	return n.faults >= maxFaults
}

// settle gives the faults of the rows kept to the sheet, the test above or the
// test of the row below. That row is zero if there is none yet.
func (n *nameless) settle(below parsed) (ofSheet, ofAbove, ofBelow []*protocol.Fault) {
	owner := n.above
	if below.key != (key{}) && below.key != n.above && below.repeat.Number != 1 {
		owner = below.key
	}
	for _, o := range n.rows {
		whose := key{}
		switch {
		case o.mayBeOf(owner):
			whose = owner
		case o.says() && o.mayBeOf(n.above):
			whose = n.above
		case o.says() && o.mayBeOf(below.key):
			whose = below.key
		}
		switch whose {
		case key{}:
			ofSheet = append(ofSheet, o.faults...)
		case n.above:
			ofAbove = append(ofAbove, o.faults...)
		default:
			ofBelow = append(ofBelow, o.faults...)
		}
	}
	n.rows, n.faults = nil, 0
	return ofSheet, ofAbove, ofBelow
}

// orphan is a row that does not say whose it is, with what it does say.
type orphan struct {
	swimmer string    // folded; empty: not said
	date    string    // empty: not said
	either  [2]string // the readings of a date that is undecided
	nothing bool      // the row is readable, and has no name, date or number
	faults  []*protocol.Fault
}

// maxOrphanName bounds the names that are kept of rows at fault [bytes].
const maxOrphanName = 200

// newOrphan takes a row. readable says that its cells are in their columns.
func newOrphan(r row, readable bool, faults []*protocol.Fault) orphan {
	o := orphan{faults: faults}
	if name := r.cell[colSwimmer]; form.Printable(name) {
		o.swimmer = clipped(name)
	}
	if _, err := time.Parse(time.DateOnly, r.cell[colDate]); err == nil {
		o.date = r.cell[colDate]
	}
	o.either = r.either
	o.nothing = readable && r.cell[colSwimmer] == "" && r.cell[colDate] == "" && r.cell[colRepeat] == ""
	return o
}

// clipped returns the beginning of the folded name, in memory of its own.
func clipped(name string) string {
	name = protocol.FoldName(name)
	if len(name) > maxOrphanName {
		name = name[:maxOrphanName]
	}
	return string([]byte(name)) // lets go of the row
}

// says reports whether the row names a swimmer or a day.
func (o orphan) says() bool { return o.swimmer != "" || o.date != "" }

// mayBeOf reports whether the row can be of the test: the name and the date it
// gives are those of the test.
func (o orphan) mayBeOf(k key) bool {
	return k != (key{}) && !o.nothing && (o.swimmer == "" || o.swimmer == clipped(k.swimmer)) && (o.date == "" || o.date == k.date) &&
		(o.either[0] == "" || slices.Contains(o.either[:], k.date))
}
