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

// lost stands for rows that are left out of their test: all that is left of them are their
// faults, and each costs its row.
func lost(of key, faults []*protocol.Fault) parsed {
	return parsed{key: of, line: faults[0].Line, faults: faults}
}

// costsRow reports whether a row with these faults is left out.
func costsRow(faults []*protocol.Fault) bool {
	return slices.ContainsFunc(faults, func(f *protocol.Fault) bool { return !f.Kept })
}

// collector has the rows of one test, and makes its record of them.
type collector struct {
	key     key
	line    int // of the first row
	record  protocol.Record
	rows    []parsed // without faults
	notes   []note
	swapped *protocol.Fault         // lactate and heart rate are exchanged
	number  [form.MaxNumber + 1]int // line of each repeat, by its number
	ofTest  [columnCount]int        // line that has the value of the whole test
	samples []parsed
	dropped int // faults beyond maxFaults
}

// claims reports whether a row is of the test, as it is if only its spelling of the name
// is another.
func (c *collector) claims(p *parsed) bool {
	if !c.elsewhere(*p) {
		c.respell(p)
	}
	return p.key == c.key
}

// respell gives a row of the same day the name as the test spells it. Case and spaces do
// not make another swimmer, and without the row the test would be another test. The fault
// is reported.
func (c *collector) respell(p *parsed) {
	if p.key.date != c.key.date || !alike(p.key.swimmer, c.key.swimmer) {
		return
	}
	if p.line > 0 {
		p.faults = append(p.faults, spelling(p.line, p.key.swimmer, c))
	}
	p.spelt, p.key = p.key.swimmer, c.key
}

// elsewhere reports whether a row has the name in a spelling that is new to the
// test, and another pool. It is then of a test of its own.
func (c *collector) elsewhere(p parsed) bool {
	if !alike(p.key.swimmer, c.key.swimmer) || p.pool.IsZero() || slices.ContainsFunc(c.rows, func(r parsed) bool { return r.spelt == p.key.swimmer }) {
		return false
	}
	most := c.pool().pool
	return !most.IsZero() && p.pool != most
}

// alike reports whether two different names are equal once case and spaces are ignored.
func alike(a, b string) bool { return a != b && protocol.FoldName(a) == protocol.FoldName(b) }
