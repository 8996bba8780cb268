package command

import (
	"fmt"
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/protocol"
)

// Grave is a finding that shakes the thresholds of a test. The zero value is none.
type Grave struct {
	Says, Do string
	// Repeat is the number of the repeat that is wrong, or −1 if several are: no zone and
	// no target rests on it. Zero means that there is none.
	Repeat int
}

type graveKind struct {
	kind     lactate.WarningKind
	says, do string
}

// slips are the findings of one value that is wrong, the worst first; {1} is the repeat.
func slips() []graveKind {
	return []graveKind{
		{protocol.WarnOddTime, "the time of repeat {1} looks wrong", "look it up, and read the test again"},
		{lactate.WarnOddSample, "the sample of repeat {1} looks wrong", "look it up, or blank it, and read the test again"},
	}
}

// shaking are the other findings that shake the thresholds, the worst first.
func shaking() []graveKind {
	return []graveKind{
		{lactate.WarnLactateFell, "lactate falls between repeats {1} and {2}", "look the two samples up, and read the test again"},
		{lactate.WarnCurveMisses, "the samples do not lie on one curve", "look the samples up, and read the test again"},
		{lactate.WarnOutOfOrder, "LT1 and LT2 cannot be told apart", "choose definitions farther apart (-lt1, -lt2)"},
		{lactate.WarnFewStages, "there are too few samples", "test again with a sample after each of five repeats or more"},
	}
}

// Gravest returns the worst of the findings that shake the thresholds. What the review of
// the sheet says of a slip comes with what was likely meant; the analysis may be nil.
func Gravest(rec protocol.Record, a *lactate.Analysis) Grave {
	found := rec.Review()
	if a != nil {
		found = append(found, rec.Numbered(a.Warnings)...)
	}
	first := func(g graveKind) (lactate.Warning, bool) {
		for _, w := range found {
			if w.Kind == g.kind {
				return w, true
			}
		}
		return lactate.Warning{}, false
	}
	for _, g := range slips() {
		w, ok := first(g)
		switch {
		case !ok:
		case len(w.Stages) == 0:
			what := map[lactate.WarningKind]string{protocol.WarnOddTime: "the times look wrong", lactate.WarnOddSample: "the samples look wrong"}[g.kind]
			return Grave{Says: what, Do: "look them up, and read the test again", Repeat: -1}
		default:
			says := lactate.Warning{Stages: w.Stages, Words: g.says}.Text("repeat")
			return Grave{says + meant(w), g.do, w.Stages[0]}
		}
	}
	for _, g := range shaking() {
		if w, ok := first(g); ok {
			return Grave{lactate.Warning{Stages: w.Stages, Words: g.says}.Text("repeat"), g.do, 0}
		}
	}
	return Grave{}
}

// First puts the value of a test that is wrong before all other doubts.
func (d *Doubts) First(rec protocol.Record, a *lactate.Analysis) {
	if g := Gravest(rec, a); g.Repeat != 0 {
		d.Doubts = slices.Insert(d.Doubts, 0, Day(rec.Date)+": "+g.Says+": "+g.Do)
	}
}

// meant says what a slip was found as, and what was likely meant: the first and the third
// value of a finding of the review.
func meant(w lactate.Warning) string {
	if len(w.Values) == 0 {
		return ""
	}
	found, ok := w.Values[0].(string)
	switch {
	case !ok:
		return ""
	case len(w.Values) > 2:
		return fmt.Sprintf(" (%s; %v meant?)", found, w.Values[2])
	}
	return " (" + found + ")"
}
