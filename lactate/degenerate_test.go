package lactate_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// What each method answers on tests that are no step tests, or hardly any, and
// why. The tests are invented; kind of evidence D: the answers follow from the
// definitions.

// An answer is an intensity to within 1e-9, an interval that must hold it, or
// the error and a part of its words.
type answer struct {
	lo, hi float64
	err    error
	why    string
}

func at(x float64) answer               { return answer{lo: x - 1e-9, hi: x + 1e-9} }
func between(lo, hi float64) answer     { return answer{lo: lo, hi: hi} }
func no(err error, why string) answer   { return answer{err: err, why: why} }
func bothNo(err error, why string) pair { return pair{no(err, why), no(err, why)} }
func both(a answer) pair                { return pair{a, a} }
func onCubic(cubic answer) pair         { return pair{noCurve, cubic} }
func ramp(lactates ...float64) (t lactate.Test) {
	for i, y := range lactates {
		t.Stages = append(t.Stages, lactate.Stage{Intensity: float64(110+5*i) / 100, Lactate: y})
	}
	return t
}

// A pair is the answer on the exponential and on the cubic.
type pair struct{ exponential, cubic answer }

// noCurve: the curve of the column could not be fitted, see degenerate.exponential.
var noCurve = answer{why: "no curve"}

type degenerate struct {
	name string
	test lactate.Test // stages at 1.10, 1.15, 1.20, … m/s
	// What the fits and with them Analyze say; nil: a curve.
	exponential, cubic error
	// The answers.
	fixed4, rise05, dmax, modified, equivalent pair
	// The same whatever the curve.
	observed, loglog, turn answer
	warnings               []lactate.WarningKind // of the first curve that could be fitted
}

var (
	reach = lactate.ErrNotReached
	shape = lactate.ErrShape
	few   = lactate.ErrTooFewStages
	open  = curve.ErrUndetermined
)

var degenerates = []degenerate{
	{
		name: "a straight line, 1 to 7 mmol/L: the cubic is that line, the exponential has no rate",
		test: ramp(1, 2, 3, 4, 5, 6, 7), exponential: open,
		fixed4:     onCubic(at(1.25)),
		rise05:     onCubic(at(1.125)),
		dmax:       onCubic(no(shape, "no point farthest below")), // and not where rounding puts it
		modified:   onCubic(no(shape, "no point farthest below")),
		equivalent: onCubic(no(shape, "lowest at the first stage")), // (20x − 21)/x rises
		observed:   at(1.15),                                        // 1 + 1 mmol/L to the digit
		loglog:     no(shape, "not rise more steeply"),              // the logarithm of a line bends down
		turn:       no(shape, "no more than two straight lines"),
		warnings:   []lactate.WarningKind{lactate.WarnCurveUnbent},
	},
	{
		name: "all equal: the cubic is a level, nothing rises",
		test: ramp(1.5, 1.5, 1.5, 1.5, 1.5, 1.5, 1.5), exponential: open,
		fixed4:     onCubic(no(reach, "ends at 1.5")),
		rise05:     onCubic(no(reach, "ends at 1.5")),
		dmax:       onCubic(no(shape, "no point farthest below")),
		modified:   onCubic(no(shape, "no rise exceeds")),
		equivalent: onCubic(no(shape, "lowest at the last stage")), // 1.5/x falls
		observed:   no(reach, "what was measured ends at 1.5"),
		loglog:     no(shape, "one straight line"),
		turn:       no(shape, "no more than two straight lines"),
		warnings:   []lactate.WarningKind{lactate.WarnNotMaximal, lactate.WarnCurveUnbent},
	},
	{
		name:       "flat but for the last digit: nothing that asks for a rise answers; Dmax and log–log find the bend of the last digit, beside the warning that nothing was all out",
		test:       ramp(1.4, 1.5, 1.4, 1.5, 1.4, 1.5, 1.6),
		fixed4:     bothNo(reach, "ends at 1.6"),
		rise05:     bothNo(reach, "ends at 1.6"),
		dmax:       both(between(1.3, 1.35)),
		modified:   bothNo(shape, "no rise exceeds"),
		equivalent: both(between(1.3, 1.4)),
		observed:   no(reach, "what was measured ends at 1.6"),
		loglog:     between(1.3, 1.35),
		turn:       no(shape, "second of the three lines does not rise"),
		warnings:   []lactate.WarningKind{lactate.WarnNotMaximal},
	},
	{
		name:       "bends down, as where the first stages were too hard: levels stand, all that asks for an upward bend refuses",
		test:       ramp(1, 4, 6, 7, 7.5, 7.8, 7.9),
		fixed4:     both(between(1.10, 1.20)),
		rise05:     both(between(1.10, 1.15)),
		dmax:       bothNo(shape, "no point farthest below"),
		modified:   bothNo(shape, "no point farthest below"),
		equivalent: bothNo(shape, "lowest at the first stage"),
		observed:   at(1.15),
		loglog:     no(shape, "not rise more steeply"),
		turn:       no(shape, "not more steeply than the first"),
		warnings:   []lactate.WarningKind{lactate.WarnCurveUnbent},
	},
	{
		name: "one spike, at the end: any rate will do for the exponential; the cubic dips below the level and answers",
		test: ramp(1.5, 1.5, 1.5, 1.5, 1.5, 1.5, 9), exponential: open,
		fixed4:     onCubic(between(1.35, 1.40)),
		rise05:     onCubic(between(1.30, 1.40)), // above the dip of the cubic, not above 1.5
		dmax:       onCubic(between(1.25, 1.35)),
		modified:   onCubic(no(shape, "no stage between")), // the chord would join the last two
		equivalent: onCubic(between(1.20, 1.35)),
		observed:   at(1.40),
		loglog:     at(1.35), // two exact lines: level, then up
		turn:       no(shape, "no more than two straight lines"),
		warnings:   []lactate.WarningKind{lactate.WarnCurveDips},
	},
	{
		name:       "one spike, in the middle: no curve of these follows it, and what they make of it bends down; the stage itself is seen",
		test:       ramp(1.5, 1.5, 1.5, 9, 1.5, 1.5, 1.6),
		fixed4:     bothNo(reach, "the curve ends at"),
		rise05:     both(between(1.10, 1.15)), // on the way up to a hump
		dmax:       bothNo(shape, "no point farthest below"),
		modified:   bothNo(shape, "no point farthest below"),
		equivalent: pair{no(shape, "lowest at the first stage"), no(shape, "lowest at the last stage")},
		observed:   at(1.25),
		loglog:     no(shape, "not rise more steeply"),
		turn:       no(shape, "not more steeply than the first"),
		warnings:   []lactate.WarningKind{lactate.WarnNotMaximal, lactate.WarnLactateFell, lactate.WarnCurveUnbent},
	},
	{
		name:       "never up to 4 mmol/L: that level is not reached, by how much is said, and the rest stands",
		test:       ramp(1.0, 1.05, 1.2, 1.4, 1.7, 2.2, 3),
		fixed4:     bothNo(reach, "the curve ends at"),
		rise05:     both(between(1.25, 1.30)),
		dmax:       both(between(1.25, 1.30)),
		modified:   both(between(1.35, 1.40)), // chord from 1.30, as 2.2 − 1.7 > 0.4
		equivalent: bothNo(shape, "lowest at the first stage"),
		observed:   at(1.35),
		loglog:     between(1.15, 1.35),
		turn:       between(1.15, 1.30),
		warnings:   []lactate.WarningKind{lactate.WarnNotMaximal},
	},
	{
		name:       "starts above 4 mmol/L: the same curve 3.1 higher; levels below it lie outside, rises and chords do not notice",
		test:       ramp(4.2, 4.3, 4.6, 5.2, 6.3, 8.2, 11.5),
		fixed4:     bothNo(reach, "starts above it"),
		rise05:     both(between(1.15, 1.25)),
		dmax:       both(between(1.25, 1.30)),
		modified:   both(between(1.30, 1.35)),
		equivalent: pair{between(1.10, 1.15), no(shape, "lowest at the first stage")},
		observed:   at(1.25),
		loglog:     between(1.20, 1.35),
		turn:       between(1.15, 1.30),
	},
	{
		name: "two points: no curve has so few; nothing but what was measured answers",
		test: ramp(2, 8), exponential: few, cubic: few,
		observed: at(1.15),
		loglog:   no(few, "two lines need 4"),
		turn:     no(few, "three lines need 6"),
	},
	{
		name: "three points: the exponential passes through them, a cubic needs four",
		test: ramp(1, 2, 8), cubic: open,
		fixed4:     pair{between(1.15, 1.20), noCurve},
		rise05:     pair{between(1.10, 1.15), noCurve},
		dmax:       pair{between(1.15, 1.20), noCurve},
		modified:   pair{between(1.15, 1.20), noCurve}, // the first rise is the first: chord from end to end
		equivalent: pair{no(shape, "lowest at the first stage"), noCurve},
		observed:   at(1.15),
		loglog:     no(few, "two lines need 4"),
		turn:       no(few, "three lines need 6"),
		warnings:   []lactate.WarningKind{lactate.WarnFewStages, lactate.WarnInLastGap},
	},
	{
		name:       "four points: both curves, the cubic through all of them",
		test:       ramp(1, 1.5, 3, 8),
		fixed4:     both(between(1.20, 1.25)),
		rise05:     pair{between(1.14, 1.16), at(1.15)}, // 1 + 0.5 is the second stage
		dmax:       both(between(1.15, 1.20)),
		modified:   both(between(1.15, 1.20)),
		equivalent: bothNo(shape, "lowest at the first stage"),
		observed:   at(1.20),
		loglog:     between(1.15, 1.20),
		turn:       no(few, "three lines need 6"),
		warnings:   []lactate.WarningKind{lactate.WarnFewStages},
	},
	{
		name:       "the first sample lost: the tested range starts at the second stage",
		test:       ramp(0, 1.2, 1.5, 2.1, 3.2, 5.1, 8.4),
		fixed4:     both(between(1.30, 1.35)),
		rise05:     both(between(1.20, 1.25)),
		dmax:       both(between(1.25, 1.35)),
		modified:   both(between(1.30, 1.35)),
		equivalent: bothNo(shape, "lowest at the first stage"),
		observed:   at(1.30),
		loglog:     between(1.20, 1.35),
		turn:       between(1.20, 1.30),
		warnings:   []lactate.WarningKind{lactate.WarnLostSamples},
	},
	{
		name:       "the last sample lost: Dmax, whose chord ends there, comes out lower, and the warning says why",
		test:       ramp(1.1, 1.2, 1.5, 2.1, 3.2, 5.1, 0),
		fixed4:     both(between(1.30, 1.35)),
		rise05:     both(between(1.15, 1.25)),
		dmax:       both(between(1.20, 1.26)), // 1.28 to 1.30 with the last sample
		modified:   both(between(1.25, 1.35)),
		equivalent: bothNo(shape, "lowest at the first stage"),
		observed:   at(1.25),
		loglog:     between(1.15, 1.30),
		turn:       between(1.15, 1.25),
		warnings:   []lactate.WarningKind{lactate.WarnLostSamples, lactate.WarnEndsEarly},
	},
	{
		name: "every sample lost",
		test: ramp(0, 0, 0, 0, 0), exponential: few, cubic: few,
		observed: no(few, "no two stages"),
		loglog:   no(few, "no two stages"),
		turn:     no(few, "three lines need 6"),
	},
	{
		name:        "four samples at one intensity: not one curve goes through them",
		test:        lactate.Test{Stages: []lactate.Stage{{Intensity: 1.2, Lactate: 1}, {Intensity: 1.2, Lactate: 2}, {Intensity: 1.2, Lactate: 3}, {Intensity: 1.2, Lactate: 4}}},
		exponential: open, cubic: open,
		observed: no(few, "no two stages"),
		loglog:   no(few, "no two stages"),
		turn:     no(few, "three lines need 6"),
	},
}

func TestDegenerate(t *testing.T) {
	for _, d := range degenerates {
		t.Run(d.name, func(t *testing.T) {
			rows := []struct {
				method lactate.Method
				want   pair
				curves bool
			}{
				{lactate.Fixed{Lactate: 4}, d.fixed4, true},
				{lactate.AboveBaseline{Rise: 0.5}, d.rise05, true},
				{lactate.MaxDistance{}, d.dmax, true},
				{lactate.ModifiedMaxDistance{}, d.modified, true},
				{lactate.LowestLactateEquivalent{}, d.equivalent, true},
				{lactate.ObservedRise{From: lactate.BaselineLowestStage}, pair{exponential: d.observed}, false},
				{lactate.LogLog{}, pair{exponential: d.loglog}, false},
				{lactate.FirstTurnPoint{}, pair{exponential: d.turn}, false},
			}
			o := lactate.SideBySideOptions{Curves: lactate.CommonCurves()[1:]}
			for _, r := range rows {
				o.Definitions = append(o.Definitions, lactate.Definition{Method: r.method, OnCurve: r.curves})
			}
			p := beside(t, d.test, o)
			for k, want := range []error{d.exponential, d.cubic} {
				if got := p.Curves[k].Err; !errors.Is(got, want) || (got == nil) != (want == nil) {
					t.Errorf("%s: got %v, want %v", p.Curves[k].Name, got, want)
				}
			}
			for i, r := range rows {
				for k, cell := range p.Rows[i].Cells {
					want := r.want.exponential
					if k == 1 {
						want = r.want.cubic
					}
					if r.curves && p.Curves[k].Err != nil {
						want = answer{err: p.Curves[k].Err}
					}
					checkAnswer(t, p.Curves[k].Name, cell, want)
				}
			}
			for _, c := range p.Curves {
				if c.Analysis == nil {
					continue
				}
				var got []lactate.WarningKind
				for _, w := range c.Analysis.Warnings {
					got = append(got, w.Kind)
				}
				for _, w := range d.warnings {
					if !strings.Contains(" "+join(got)+" ", string(w)) {
						t.Errorf("%s: warnings %v, want %v among them", c.Name, got, d.warnings)
					}
				}
				break
			}
		})
	}
}

func join(cs []lactate.WarningKind) string {
	var b strings.Builder
	for _, c := range cs {
		b.WriteString(string(c) + "; ")
	}
	return b.String()
}

func checkAnswer(t *testing.T, column string, cell lactate.Threshold, want answer) {
	t.Helper()
	switch {
	case want.err != nil:
		if !errors.Is(cell.Err, want.err) || !strings.Contains(cell.Err.Error(), want.why) || !math.IsNaN(cell.Intensity.Value) {
			t.Errorf("%v, %s: got %v (%v), want %v: %s", cell.Method, column, cell.Intensity.Value, cell.Err, want.err, want.why)
		}
	case cell.Err != nil || !(cell.Intensity.Value >= want.lo && cell.Intensity.Value <= want.hi):
		t.Errorf("%v, %s: got %v (%v), want %v to %v", cell.Method, column, cell.Intensity.Value, cell.Err, want.lo, want.hi)
	}
}

// What Analyze refuses altogether, and what it says.
func TestDegenerateRefused(t *testing.T) {
	bad := ramp(1, 2, 3, 4)
	bad.Stages[2] = lactate.Stage{Intensity: math.NaN(), Lactate: -1, HeartRate: math.Inf(1), Duration: -1}
	bad.Rest = -2
	var fault *lactate.StageError
	for _, c := range []struct {
		name  string
		test  lactate.Test
		is    error
		words []string
	}{
		{"nothing", lactate.Test{}, few, []string{"found 0"}},
		{"lactate falls: pace was passed for speed", ramp(7, 6, 5, 4, 3, 2, 1), lactate.ErrNotRising, []string{"pace"}},
		{"five faults, all at once", bad, nil, []string{"stage 3: intensity", "stage 3: lactate", "stage 3: heart rate", "stage 3: duration", "rest: found -2"}},
	} {
		a, err := lactate.Analyze(c.test, lactate.Options{})
		if a != nil || err == nil || c.is != nil && !errors.Is(err, c.is) || c.is == nil && !errors.As(err, &fault) {
			t.Errorf("%s: got %v, %v", c.name, a, err)
			continue
		}
		for _, w := range c.words {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q does not say %q", c.name, err, w)
			}
		}
	}
}
