package sheet

import (
	"cmp"
	"io"
	"iter"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// assigner reads a sheet row by row, and finds out which test each row is of.
type assigner struct {
	from    *rowReader
	yield   func(parsed, error) bool
	above   key                // test of the last row that says whose it is; zero at the top
	cells   [allColumns]string // of that row
	waiting []nameless
	faults  int             // of those that wait
	shared  *protocol.Fault // the last one that many rows have in common, told already as one of no test
}

func newAssigner(r io.Reader) *assigner { return &assigner{from: newRowReader(r)} }

// rows yields each row with its test, or faults of a test's rows. Faults of no test come
// alone. They can be used once; a.from.err is then the error of the reader.
func (a *assigner) rows(o Options) iter.Seq2[parsed, error] {
	return func(yield func(parsed, error) bool) {
		a.yield = yield
		for r, fault := range a.from.rows(o, sheetHeadings) {
			if fault != nil && !yield(parsed{}, fault) || fault == nil && !a.add(r) {
				return
			}
		}
		a.settle(parsed{})
	}
}

// add takes the next row. It reports whether to go on.
func (a *assigner) add(r row) bool {
	if !r.broken {
		a.fillMerged(&r)
		r.parse()
	}
	if r.key == (key{}) {
		a.waiting = append(a.waiting, newNameless(r))
		a.faults += len(r.faults)
		return a.faults < maxFaults || a.settle(parsed{})
	}
	if !a.settle(r.parsed) {
		return false
	}
	a.above, a.cells = r.key, r.cell
	return a.yield(r.parsed, nil)
}

// fillMerged fills in what a row leaves out as it goes on with the one above, as merged
// cells do: it names neither swimmer nor date, and has the next number, or that of
// a sample after the repeat above.
func (a *assigner) fillMerged(r *row) {
	before, err := strconv.Atoi(a.cells[colRepeat])
	n, ownErr := strconv.Atoi(r.cell[colRepeat])
	sample := r.cell[colTime] == "" && r.cell[colAfter] != ""
	if err != nil || ownErr != nil || r.cell[colSwimmer] != "" || r.cell[colDate] != "" || !(n == before+1 || n == before && sample) ||
		len(a.waiting) > 0 {
		return
	}
	for _, col := range []column{colSwimmer, colDate, colPool, colDistance} {
		r.cell[col] = cmp.Or(r.cell[col], a.cells[col])
	}
	r.note(colSwimmer, "a row without name and date goes on with that of %s above", form.Shorten(r.cell[colSwimmer]))
}

// settle hands on the faults of the nameless rows above the next row, which is zero if
// there is none yet. It reports whether to go on.
func (a *assigner) settle(next parsed) bool {
	var ofSheet, above, below []*protocol.Fault
	for _, n := range a.waiting {
		switch n.testOf(a.above, next) {
		case key{}:
			for _, f := range n.faults {
				if f.Rows > 0 && f == a.shared {
					continue
				} else if f.Rows > 0 {
					a.shared = f
				}
				ofSheet = append(ofSheet, f)
			}
		case a.above:
			above = append(above, n.faults...)
		default:
			below = append(below, n.faults...)
		}
	}
	a.waiting, a.faults = nil, 0
	return (len(ofSheet) == 0 || a.yield(parsed{}, joinFaults(ofSheet))) &&
		(above == nil || a.yield(lost(a.above, above), nil)) && (below == nil || a.yield(lost(next.key, below), nil))
}

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
	// The test above likely goes on.
	candidates := []key{above}
	// The test below lacks its first repeats.
	if below.key != (key{}) && below.repeat.Number != 1 {
		candidates[0] = below.key
	}
	// The name or the date of the row may be that of the other test.
	if n.swimmer != "" || len(n.dates) > 0 {
		candidates = append(candidates, above, below.key)
	}
	for _, k := range candidates {
		if k != (key{}) && !n.nothing && (n.swimmer == "" || n.swimmer == clipped(k.swimmer)) && (len(n.dates) == 0 || slices.Contains(n.dates, k.date)) {
			return k
		}
	}
	return key{}
}
