package sheet

import (
	"slices"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// key tells one test from another.
type key struct{ swimmer, date string }

// parsed is one row of a sheet in the types of a record. See [lost], too.
type parsed struct {
	line     int
	key      key    // empty if the row does not say whose it is
	spelt    string // the name in the row, if key has another spelling
	pool     pace.Pool
	rest     float64
	warmUp   pace.Length
	next     time.Time
	repeat   protocol.Repeat
	isSample bool   // the row is a sample after the repeat, not a repeat
	swapped  string // the lactate cell, if lactate and heart rate are exchanged
	notes    []note
	faults   []*protocol.Fault
}

// note is how a cell was read. A test has one note of a column in the same words.
type note struct {
	col  column
	kind string // the format of its words
	text string

	line, rows int // of a test: the first, and how many
}

// lost stands for rows that are left out of their test: all that is left of them are their
// faults, and each costs its row.
func lost(of key, faults []*protocol.Fault) parsed {
	return parsed{key: of, line: faults[0].Line, faults: faults}
}

// costsRow reports whether a row with these faults is left out.
func costsRow(faults []*protocol.Fault) bool {
	return slices.ContainsFunc(faults, func(f *protocol.Fault) bool { return !f.Kept })
}

// row is one row of a sheet, its fields in the cells of their columns. Its methods read
// the cells, and collect their faults.
type row struct {
	parsed
	cell   [allColumns]string // trimmed
	extra  map[string]string  // cells that are not blank of columns we do not know
	size   int                // what it takes in memory, about [bytes]
	broken bool               // its fields do not fit the columns, as its one fault says

	units        *[allColumns]string // of the header
	decimalComma bool                // the decimal sign may be a comma
	undecided    *protocol.Fault     // the date has two readings
	either       []string            // and these are they
}

// collector has the rows of one test, and makes its record of them (collect.go). Names say
// which rows are its own (names.go): claims reports whether a row is of the test, elsewhere
// whether it has another spelling of the name and another pool, and respell gives it the
// spelling of the test.
type collector struct {
	key     key
	line    int // of the first row
	record  protocol.Record
	rows    []parsed // less those that a fault costs
	notes   []note
	swapped *protocol.Fault         // lactate and heart rate are exchanged
	number  [form.MaxNumber + 1]int // line of each repeat, by its number
	ofTest  [columnCount]int        // line that has the value of the whole test
	samples []parsed
	dropped int // faults beyond maxFaults
}
