package command

import (
	"example.com/steptest/lactate"
	"example.com/steptest/protocol"
)

// grave returns the doubts that shake the thresholds themselves, the worst first; {1} is
// the repeat, and do what to do about it.
func grave() []graveDoubt {
	return []graveDoubt{
		{lactate.WarnOddSample, "the sample of repeat {1} looks wrong", "look it up, or blank it, and read the test again"},
		{lactate.WarnLactateFell, "lactate falls between repeats {1} and {2}", "look the two samples up, and read the test again"},
		{lactate.WarnCurveMisses, "the samples do not lie on one curve", "look the samples up, and read the test again"},
		{lactate.WarnOutOfOrder, "LT1 and LT2 cannot be told apart", "choose definitions farther apart (-lt1, -lt2)"},
		{lactate.WarnFewStages, "there are too few samples", "test again with a sample after each of five repeats or more"},
	}
}

type graveDoubt struct {
	kind     lactate.WarningKind
	says, do string
}

// Gravest says the worst of the doubts that shake the thresholds, and what to do about
// it; nothing if there is none.
func Gravest(rec protocol.Record, a *lactate.Analysis) (says, do string) {
	for _, g := range grave() {
		for _, w := range rec.Numbered(a.Warnings) {
			if w.Kind == g.kind {
				return lactate.Warning{Stages: w.Stages, Words: g.says}.Text("repeat"), g.do
			}
		}
	}
	return "", ""
}
