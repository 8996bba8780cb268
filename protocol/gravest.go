package protocol

import (
	"fmt"
	"slices"

	"example.com/steptest/lactate"
)

// Grave is a finding that shakes the thresholds of a test. The zero value is none.
type Grave struct {
	Says string `json:"says"` // what is wrong
	Do   string `json:"do"`   // what to do about it
	// Repeat is the number of the repeat whose time or sample is wrong, or −1 if several
	// are: no zone and no target rests on it. Zero means that there is none.
	Repeat int `json:"repeat,omitzero"`
}

// String returns what is wrong and what to do; nothing if nothing is wrong.
func (g Grave) String() string {
	if g.Says == "" {
		return ""
	}
	return g.Says + ": " + g.Do
}

// graveKinds are the findings that shake the thresholds, the worst first; {1} is the
// repeat. Those of one wrong value have words for several too.
var graveKinds = []struct {
	kind              lactate.WarningKind
	says, several, do string
}{
	{WarnOddTime, "the time of repeat {1} looks wrong", "the times look wrong", "look it up, and read the test again"},
	{lactate.WarnOddSample, "the sample of repeat {1} looks wrong", "the samples look wrong", "look it up, or blank it, and read the test again"},
	{lactate.WarnLactateFell, "lactate falls between repeats {1} and {2}", "", "look the two samples up, and read the test again"},
	{lactate.WarnCurveMisses, "the samples do not lie on one curve", "", "look the samples up, and read the test again"},
	{lactate.WarnOutOfOrder, "LT1 and LT2 cannot be told apart", "", "choose definitions farther apart"},
	{lactate.WarnPairUnseen, "LT1 and LT2 cannot be told apart", "", "test again with five repeats or more, the first of them easy"},
	{lactate.WarnFewStages, "there are too few samples", "", "test again with a sample after each of five repeats or more"},
}

// Gravest returns the worst of what [Record.Review] and an analysis of the record, which
// may be nil, find to shake the thresholds. What the review says of a slip comes with
// what was likely meant.
func (r Record) Gravest(a *lactate.Analysis) Grave {
	found := r.Review()
	if a != nil {
		found = append(found, r.Numbered(a.Warnings)...)
	}
	for _, g := range graveKinds {
		i := slices.IndexFunc(found, func(w lactate.Warning) bool { return w.Kind == g.kind })
		if i < 0 {
			continue
		}
		w := found[i]
		says := lactate.Warning{Stages: w.Stages, Words: g.says}.Text("repeat")
		switch {
		case g.kind == lactate.WarnFewStages && len(r.Faults) > 0:
			return Grave{says, "mend the rows that could not be read, and read the test again", 0}
		case g.several == "":
			return Grave{says, g.do, 0}
		case len(w.Stages) == 0:
			says := g.several
			if len(w.Values) > 2 {
				says += meant(w)
			}
			return Grave{says, "look them up, and read the test again", -1}
		}
		return Grave{says + meant(w), g.do, w.Stages[0]}
	}
	return Grave{}
}

// meant says what a slip was found as, and what was likely meant: the first and the third
// value of a finding of the review.
func meant(w lactate.Warning) string {
	if len(w.Values) == 0 {
		return ""
	}
	switch found, ok := w.Values[0].(string); {
	case !ok:
		return ""
	case len(w.Values) > 2:
		return fmt.Sprintf(" (%s; %v meant?)", found, w.Values[2])
	default:
		return " (" + found + ")"
	}
}
