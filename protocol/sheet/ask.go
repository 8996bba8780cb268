package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"example.com/steptest/internal/form"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// oncePerSheet tells what many rows of a sheet have in common once, though every
// test that has it holds it: dates with two readings, lactate and heart rate
// exchanged, and the same words in the cells of pool or distance.
type oncePerSheet map[protocol.Fault]*protocol.Fault

// faults returns those of a test that are still to be told.
func (o oncePerSheet) faults(all []*protocol.Fault) (out []*protocol.Fault) {
	for _, f := range all {
		if f.Rows == 0 && f.Column != colPool.String() && f.Column != colDistance.String() {
			out = append(out, f)
			continue
		}
		same := *f
		same.Line, same.Rows = 0, 0
		if f.Want == wantExchanged {
			same.Found = ""
		}
		if told := o[same]; told == nil {
			kept := *f
			o[same] = &kept
			out = append(out, &kept)
		} else if f.Line != told.Line { // else one fault, in several tests
			told.Rows = max(told.Rows, 1) + max(f.Rows, 1)
		}
	}
	return out
}

// maxAsked is the longest name that is asked about [runes].
const maxAsked = 60

// askAboutNames asks whether two names that differ by one letter are one person:
// Marsh and Marsch. Two who swam the same repeat on one day are two, and short
// words and numbers tell people apart.
func (t *tests) askAboutNames() {
	near := map[string][]*collector{} // by the folded name, and by it without one letter
	asked := map[[2]string]bool{}
	of := map[string][]*collector{} // tests by name
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
	swum := func(c *collector) (days []string) {
		for _, p := range c.rows {
			if !p.isSample {
				days = append(days, fmt.Sprint(c.key.date, p.repeat.Number))
			}
		}
		return days
	}
	for _, c := range a {
		for _, d := range b {
			if days := swum(d); c.key.date == d.key.date && slices.ContainsFunc(swum(c), func(s string) bool { return slices.Contains(days, s) }) {
				return true
			}
		}
	}
	return false
}

// askAboutPools asks about tests of one swimmer in pools of one number in yards
// and in metres, that were swum in the same times: a yard is 9 % shorter.
func askAboutPools(records []protocol.Record) {
	before := map[string]int{}
	for i := range records {
		name := protocol.FoldName(records[i].Swimmer)
		j, ok := before[name]
		before[name] = i
		a, b := &records[j], &records[i]
		if !ok || a.Pool.Unit() == b.Pool.Unit() || math.Abs(float64(a.Pool.Length()/a.Pool.Unit()-b.Pool.Length()/b.Pool.Unit())) > 1e-9 {
			continue
		}
		if ratio, ok := timesRatio(*a, *b); ok && math.Abs(ratio-1) < 0.03 {
			b.Notes = append(b.Notes, protocol.Note{Line: 0, Column: colPool.String(), Text: fmt.Sprintf("the times are those of %s in a %s pool, though the lengths of a %s pool are %s: is one of the two pools wrong?",
				a.Date.Format("2006-01-02"), a.Pool, b.Pool, map[bool]string{true: "shorter", false: "longer"}[b.Pool.Unit() == pace.Yard])})
		}
	}
}

// timesRatio returns the median ratio of the times of the repeats that two tests
// have in common, over as many lengths.
func timesRatio(a, b protocol.Record) (float64, bool) {
	var ratios []float64
	for _, p := range a.Repeats {
		for _, q := range b.Repeats {
			if p.Number == q.Number && p.Time > 0 && q.Time > 0 && math.Abs(float64(p.Distance/a.Pool.Length()-q.Distance/b.Pool.Length())) < 1e-6 {
				ratios = append(ratios, float64(q.Time)/float64(p.Time))
			}
		}
	}
	if len(ratios) < 3 {
		return 0, false
	}
	slices.Sort(ratios)
	return ratios[len(ratios)/2], true
}
