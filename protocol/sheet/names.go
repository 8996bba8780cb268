package sheet

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

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

// spelling is the fault of a name that the first test spells otherwise.
func spelling(line int, name string, first *collector) *protocol.Fault {
	return kept(conflict(line, colSwimmer, name, fmt.Sprintf("one spelling of a name; line %d has %q", first.line, form.Shorten(first.key.swimmer))))
}

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
			c.fault(spelling(c.line, c.key.swimmer, first))
		}
	}
}

// maxAsked is the longest name that is asked about [runes].
const maxAsked = 60

// askAboutNames asks whether two names that differ by one letter are one person:
// Marsh and Marsch. Two who swam the same repeat on one day are two, and short
// words and numbers tell people apart.
func (t *tests) askAboutNames() {
	near := map[string][]*collector{} // by the folded name, and by it without one letter
	of := map[string][]*collector{}   // by the name as it stands
	asked := map[[2]string]bool{}
	for _, c := range t.all {
		of[c.key.swimmer] = append(of[c.key.swimmer], c)
	}
	for _, c := range t.all {
		name := []rune(protocol.FoldName(c.key.swimmer))
		if len(name) < 4 || len(name) > maxAsked {
			continue
		}
		for _, v := range variants(name) {
			for _, other := range near[v] {
				pair := [2]string{other.key.swimmer, c.key.swimmer}
				if asked[pair] || protocol.FoldName(pair[0]) == protocol.FoldName(pair[1]) || tellApart(pair[0], pair[1]) || together(of[pair[0]], of[pair[1]]) {
					continue
				}
				asked[pair] = true
				c.record.Notes = append(c.record.Notes, protocol.Note{Line: c.line, Column: colSwimmer.String(),
					Text: fmt.Sprintf("%q and %q in line %d: the same person? They are read as two", form.Shorten(pair[1]), form.Shorten(pair[0]), other.line)})
			}
			if len(near[v]) < 4 {
				near[v] = append(near[v], c)
			}
		}
	}
}

// variants returns a name, and the name without each of its letters. Two names
// that are one letter apart share one.
func variants(name []rune) []string {
	out := []string{string(name)}
	for i := range name {
		out = append(out, string(slices.Delete(slices.Clone(name), i, i+1)))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// tellApart reports whether the words in which two names differ are such as tell
// people apart: a number, an initial, or several words.
func tellApart(a, b string) bool {
	x, y := strings.Fields(strings.ToLower(a)), strings.Fields(strings.ToLower(b))
	if len(x) != len(y) {
		return false
	}
	for i := range x {
		if x[i] != y[i] && (min(len(x[i]), len(y[i])) <= 2 || strings.ContainsFunc(x[i]+y[i], unicode.IsDigit)) {
			return true
		}
	}
	return editDistance(strings.Join(x, ""), strings.Join(y, "")) > 1
}

// together reports whether two swimmers swam the same repeat on one day.
func together(a, b []*collector) bool {
	type swim struct {
		date   string
		repeat int
	}
	swum := map[swim]bool{}
	for _, c := range a {
		for _, p := range c.rows {
			if !p.isSample {
				swum[swim{c.key.date, p.repeat.Number}] = true
			}
		}
	}
	return slices.ContainsFunc(b, func(c *collector) bool {
		return slices.ContainsFunc(c.rows, func(p parsed) bool { return !p.isSample && swum[swim{c.key.date, p.repeat.Number}] })
	})
}
