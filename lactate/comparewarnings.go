package lactate

import (
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate/curve"
)

// Further doubts, raised by [Compare] and [FollowSeason].
const (
	WarnOtherStages  WarningKind = "other stages"  // the stages of the tests last for other times
	WarnOtherEnds    WarningKind = "other ends"    // a test ended early, or the tests end at other lactates
	WarnLeftOut      WarningKind = "left out"      // an odd sample that the common shape does without
	WarnShapeChanged WarningKind = "shape changed" // a single shift does not describe the change
	WarnLittleShared WarningKind = "little shared" // the two tests hardly share a range of lactate
	WarnEndsDecide   WarningKind = "ends decide"   // a threshold that does not follow the curve, as Dmax on an exponential
)

func (c *Change) warn() {
	for _, about := range []func(first, second *Analysis) (Warning, bool){otherStages, otherEnds} {
		if w, ok := about(c.Before, c.After); ok {
			c.Warnings = append(c.Warnings, w)
		}
	}
	if c.Shape.Changed {
		c.Warnings = append(c.Warnings, Warning{Kind: WarnShapeChanged, Words: "the curve changed its shape as well as its place: a single shift does not describe the change; read how lactate changed at each {stage} instead"})
	}
	if endsDecide(c.Before, c.After, c.Measured, c.Reference) {
		c.Warnings = append(c.Warnings, endsDecideWarning())
	}
	ends := func(a *Analysis) (lo, hi float64) {
		lo, hi = math.Inf(1), 0
		for _, s := range a.stages {
			lo, hi = min(lo, s.Lactate), max(hi, s.Lactate)
		}
		return lo, hi
	}
	lo1, hi1 := ends(c.Before)
	lo2, hi2 := ends(c.After)
	shared := min(hi1, hi2) - max(lo1, lo2)
	if c.littleShared = shared < (max(hi1, hi2)-min(lo1, lo2))/3; c.littleShared {
		c.Warnings = append(c.Warnings, Warning{Kind: WarnLittleShared, Words: "the two tests share little of their range of lactate: the answer holds if the curve has kept its shape, which they cannot show and the odds do not count; test again over the same range"})
	}
}

func endsDecideWarning() Warning {
	return Warning{Kind: WarnEndsDecide, Words: "Dmax on an exponential depends on how sharply the curve bends and on the first and the last {stage}, not on where the curve lies: its change is no measure of how far the curve moved"}
}

// endsDecide reports whether LT1 or LT2 is a Dmax on an exponential, and its
// change may be taken for something else: see [MaxDistance].
func endsDecide(before, after *Analysis, shift Judgement, reference float64) bool {
	if _, ok := before.Curve.(*curve.Exponential); !ok {
		return false
	}
	const same = 0.005 // of the reference: ends as near as this are alike
	apart := max(math.Abs(after.Lowest-before.Lowest), math.Abs(after.Highest-before.Highest))
	if !shift.Grade.Sure() && apart <= same*reference {
		return false
	}
	for _, pair := range [][2]Threshold{{before.LT1, after.LT1}, {before.LT2, after.LT2}} {
		if isDmax(pair[0].Method) && pair[0].Err == nil && pair[1].Err == nil {
			return true
		}
	}
	return false
}

const (
	// Stages whose times differ by more than this factor are other stages: a swimmer
	// who has changed covers one distance in times far nearer.
	otherTime = 1.25
	// Last lactates that differ by more than this factor are other ends.
	otherEnd = 2
)

// typicalDuration returns the middle one of the durations of the sampled stages, zero if
// one is unknown.
func typicalDuration(a *Analysis) time.Duration {
	var ds []time.Duration
	for _, s := range a.stages {
		if s.Duration <= 0 {
			return 0
		}
		ds = append(ds, s.Duration)
	}
	slices.Sort(ds)
	return ds[len(ds)/2]
}

// otherStages says that the stages of a test last for other times than those of the first.
func otherStages(first, second *Analysis) (Warning, bool) {
	d, e := typicalDuration(first), typicalDuration(second)
	if d == 0 || e == 0 || max(d, e).Seconds() <= otherTime*min(d, e).Seconds() {
		return Warning{}, false
	}
	looks := "slower"
	if e < d {
		looks = "faster"
	}
	return Warning{Kind: WarnOtherStages, Words: "the {stages} last about %v in one test and %v in the other: longer ones gather more lactate, which makes the later test look " + looks + ", by how much nobody can say from these samples",
		Values: []any{d.Round(time.Second), e.Round(time.Second)}}, true
}

// otherEnds says that a test ended early, or that two tests end at other lactates.
func otherEnds(first, second *Analysis) (Warning, bool) {
	const rest = ": it says less of where the curve lies, and the bracket is wider for it"
	early := ""
	switch a, b := first.test.endsEarly(), second.test.endsEarly(); {
	case a && b:
		early = "both tests"
	case a:
		early = "the first test"
	case b:
		early = "the second test"
	}
	if early != "" {
		return Warning{Kind: WarnOtherEnds, Words: early + " ended before the effort was all out" + rest}, true
	}
	y, z := first.stages[len(first.stages)-1].Lactate, second.stages[len(second.stages)-1].Lactate
	if max(y, z) <= otherEnd*min(y, z) {
		return Warning{}, false
	}
	return Warning{Kind: WarnOtherEnds, Words: "the first test ends at %.1f mmol/L and the second at %.1f: the bracket is wider for it", Values: []any{y, z}}, true
}

// withoutOdd returns the test of an analysis without the sample that it finds odd, and the
// number of its stage, from 1; zero if there is none.
func (a *Analysis) withoutOdd(t Test) (Test, int) {
	if a.oddStage > 0 {
		t.Stages = slices.Clone(t.Stages)
		t.Stages[a.oddStage-1].Lactate = 0
	}
	return t, a.oddStage
}

// leftOut says that an odd sample is left out of the common shape; of names the test of a
// number.
func leftOut(stage, test int, of string) Warning {
	return Warning{Kind: WarnLeftOut, Stages: []int{stage}, Test: test, Words: "the odd sample of {stage} {1} of " + of + " is left out here: it would pull the answer to itself"}
}
