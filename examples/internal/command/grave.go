package command

import (
	"fmt"

	"example.com/steptest/lactate"
	"example.com/steptest/protocol"
)

// Grave is a finding that shakes the thresholds of a test. The zero value is none.
type Grave struct {
	Says, Do string
	// Repeat is the number of the one repeat that is wrong: zones and targets that rest
	// on it are none. Zero means that there is no such repeat.
	Repeat int
}

// The findings that shake the thresholds, the worst first; {1} is the repeat.
var (
	slips = []graveKind{
		{protocol.WarnOddTime, "the time of repeat {1} looks wrong", "look it up, and read the test again"},
		{lactate.WarnOddSample, "the sample of repeat {1} looks wrong", "look it up, or blank it, and read the test again"},
	}
	shaking = []graveKind{
		{lactate.WarnLactateFell, "lactate falls between repeats {1} and {2}", "look the two samples up, and read the test again"},
		{lactate.WarnCurveMisses, "the samples do not lie on one curve", "look the samples up, and read the test again"},
		{lactate.WarnOutOfOrder, "LT1 and LT2 cannot be told apart", "choose definitions farther apart (-lt1, -lt2)"},
		{lactate.WarnFewStages, "there are too few samples", "test again with a sample after each of five repeats or more"},
	}
)

type graveKind struct {
	kind     lactate.WarningKind
	says, do string
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
	for _, g := range slips {
		w, ok := first(g)
		switch {
		case !ok:
		case len(w.Stages) == 0:
			return Grave{Says: "the times look wrong", Do: "look them up, and read the test again", Repeat: rec.Repeats[0].Number}
		default:
			says := lactate.Warning{Stages: w.Stages, Words: g.says}.Text("repeat")
			return Grave{says + meant(w), g.do, w.Stages[0]}
		}
	}
	for _, g := range shaking {
		if w, ok := first(g); ok {
			return Grave{lactate.Warning{Stages: w.Stages, Words: g.says}.Text("repeat"), g.do, 0}
		}
	}
	return Grave{}
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
