package sheet

import (
	"fmt"
	"slices"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// compareNames reports each test whose name is spelt otherwise than in the
// first test of that name.
func (t *tests) compareNames() {
	firsts := map[string]*collector{}
	for _, c := range t.all {
		name := protocol.FoldName(c.key.swimmer)
		if firsts[name] == nil {
			firsts[name] = c
		}
		if first := firsts[name]; first.key.swimmer != c.key.swimmer {
			c.fault(spelling(c.line, c.key.swimmer, first.key.swimmer, first.line))
		}
	}
}

// spelling is the fault of a name that stands in another spelling above.
func spelling(line int, name, other string, otherLine int) *protocol.Fault {
	return &protocol.Fault{Line: line, Column: colSwimmer.String(), Found: form.Shorten(name),
		Want: fmt.Sprintf("one spelling of a name; line %d has %q", otherLine, form.Shorten(other)), Err: protocol.ErrConflict, Kept: true}
}

// respell gives a row whose name is spelt otherwise to the test of the same day
// that has the first spelling. Case and spaces do not make another swimmer, and
// without the row the test would be another test. The fault is reported.
func (p *parsed) respell(first key, line int) {
	if p.key.date != first.date || !alike(p.key.swimmer, first.swimmer) {
		return
	}
	if p.line > 0 {
		p.faults = append(p.faults, spelling(p.line, p.key.swimmer, first.swimmer, line))
	}
	p.spelt, p.key = p.key.swimmer, first
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

// alike reports whether two different names are equal once case and spaces are
// ignored.
func alike(a, b string) bool { return a != b && protocol.FoldName(a) == protocol.FoldName(b) }
