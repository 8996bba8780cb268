package protocol

import "time"

// orphan is a row that does not say whose it is, with what it does say.
type orphan struct {
	swimmer string // folded; empty: not said
	date    string // empty: not said
	nothing bool   // the row is readable, and has no name, date or number
	faults  []*SheetError
}

// maxOrphanName bounds the names that are kept of rows at fault [bytes].
const maxOrphanName = 200

// newOrphan takes a row; readable says that its cells are in their columns.
func newOrphan(r row, readable bool, faults []*SheetError) orphan {
	o := orphan{faults: faults}
	if name := r.cell[colSwimmer]; printable(name) {
		o.swimmer = clipped(name)
	}
	if _, err := time.Parse(isoDate, r.cell[colDate]); err == nil {
		o.date = r.cell[colDate]
	}
	o.nothing = readable && r.cell[colSwimmer] == "" && r.cell[colDate] == "" && r.cell[colRepeat] == ""
	return o
}

func clipped(name string) string {
	name = foldName(name)
	if len(name) > maxOrphanName {
		name = name[:maxOrphanName]
	}
	return string([]byte(name)) // lets go of the row
}

// says tells whether the row names a swimmer or a day.
func (o orphan) says() bool { return o.swimmer != "" || o.date != "" }

// mayBeOf tells whether nothing that the row says is against the test.
func (o orphan) mayBeOf(k key) bool {
	return k != (key{}) && !o.nothing && (o.swimmer == "" || o.swimmer == clipped(k.swimmer)) && (o.date == "" || o.date == k.date)
}
