package lactate_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/stat/distuv"
)

func close2(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// D: on an exponential, interval, probability and smallest detectable shift follow from shift,
// standard error and Student's t, whose degrees of freedom are the weight of
// the stated noise and those of the fit. Twelve stages less four parameters
// leave eight; the stated noise counts for four.
func TestJudgementIsStudent(t *testing.T) {
	for _, c := range []struct {
		weight, dof float64
	}{{0, 12}, {4, 12}, {-1, 8}, {1, 9}, {math.Inf(1), math.Inf(1)}} {
		o := lactate.CompareOptions{Options: lactate.Options{Curve: exponential, Noise: lactate.Noise{Absolute: 0.2, Relative: 0.03, Weight: c.weight}, Confidence: 0.8}, Power: 0.7}
		ch := compared(t, january(), march(), o)
		if ch.Exponential.DegreesOfFreedom != 8 {
			t.Errorf("%d degrees of freedom", ch.Exponential.DegreesOfFreedom)
		}
		quantile, cdf := distuv.StudentsT{Sigma: 1, Nu: c.dof}.Quantile, distuv.StudentsT{Sigma: 1, Nu: c.dof}.CDF
		if math.IsInf(c.dof, 1) {
			quantile, cdf = distuv.UnitNormal.Quantile, distuv.UnitNormal.CDF
		}
		m := ch.Measured
		close2(t, "low", m.Shift.Low, m.Shift.Value-quantile(0.9)*m.StandardError, 1e-9)
		close2(t, "high", m.Shift.High, m.Shift.Value+quantile(0.9)*m.StandardError, 1e-9)
		close2(t, "probability", m.Probability, cdf(m.Shift.Value/m.StandardError), 1e-9)
		if want := m.Probability > 0.9; (m.Grade == lactate.Faster) != want {
			t.Errorf("%v: %v", m.Probability, m.Grade)
		}
		close2(t, "beyond", m.Beyond(0.01), cdf((m.Shift.Value-0.01)/m.StandardError), 1e-9)
		close2(t, "beyond, to the left", m.Beyond(-0.01), cdf((-0.01-m.Shift.Value)/m.StandardError), 1e-6)
		// Simulated: pairs whose noise is of this size, as far as these tests
		// tell, and that estimate it anew.
		rng := rand.New(rand.NewPCG(1, 2))
		seen, pairs := 0, 10_000
		factor := func() float64 {
			if math.IsInf(c.dof, 1) {
				return 1
			}
			return math.Sqrt(distuv.ChiSquared{K: c.dof, Src: rng}.Rand() / c.dof)
		}
		for range pairs {
			if rng.NormFloat64()+m.Detectable/m.StandardError*factor() > quantile(0.9)*factor() {
				seen++
			}
		}
		if share := float64(seen) / float64(pairs); !(math.Abs(share-0.7) <= 0.02) {
			t.Errorf("weight %v: a shift of the detectable size is seen in %v, want 0.7", c.weight, share)
		}
		// The day-to-day term: 0.8 % of the reference, once for each test.
		day := 0.008 * ch.Reference
		close2(t, "between days", ch.BetweenDays.StandardError, math.Sqrt(m.StandardError*m.StandardError+2*day*day), 1e-12)
		if math.IsInf(c.dof, 1) {
			// A true shift of z(0.95) + z(0.7) standard errors.
			close2(t, "detectable", m.Detectable/m.StandardError, 1.2815515655446004+0.5244005127080407, 1e-9) // B: quantiles of the normal distribution
		}
	}
	// The other way round it is the same shift to the left.
	right := compared(t, january(), march(), lactate.CompareOptions{})
	left := compared(t, march(), january(), lactate.CompareOptions{})
	close2(t, "left", left.Shift.Value, -right.Shift.Value, 1e-6)
	if right.Measured.Grade != lactate.Faster || left.Measured.Grade != lactate.Slower {
		t.Errorf("%v and %v", right.Measured.Grade, left.Measured.Grade)
	}
	close2(t, "per cent", right.Percent().Value, 100*right.Shift.Value/right.Reference, 1e-12)
	close2(t, "per cent, low", right.Percent().Low, 100*right.Shift.Low/right.Reference, 1e-12)
}

// D: the F test of one shape against two, with residual sums of squares from
// fits of their own; shapes that differ are told.
func TestShapeTest(t *testing.T) {
	rss := func(test lactate.Test) float64 {
		return fitted(t, new(curve.Exponential), test).(*curve.Exponential).RSS()
	}
	sharper := march() // a higher asymptote, a sharper bend
	for i, y := range []float64{2.2, 2.2, 2.3, 2.3, 2.5, 9.4} {
		sharper.Stages[i].Lactate = y
	}
	for _, c := range []struct {
		after   lactate.Test
		changed bool
	}{{march(), false}, {sharper, true}} {
		ch := compared(t, january(), c.after, lactate.CompareOptions{Options: lactate.Options{Curve: exponential}})
		separate := rss(january()) + rss(c.after)
		f := (ch.Exponential.RSS - separate) / 2 / (separate / 6)
		close2(t, "F", ch.Shape.F, f, 1e-6)
		close2(t, "p", ch.Shape.PValue, distuv.F{D1: 2, D2: 6}.Survival(f), 1e-5)
		if ch.Shape.Changed != c.changed || ch.Shape.Changed != (ch.Shape.PValue < 0.05) || c.changed != has(ch.Warnings, lactate.WarnShapeChanged) {
			t.Errorf("F %v, p %v, changed %v, %v", ch.Shape.F, ch.Shape.PValue, ch.Shape.Changed, ch.Warnings)
		}
	}
	// Three stages each leave nothing to test by.
	three := func(t lactate.Test) lactate.Test {
		t.Stages = []lactate.Stage{t.Stages[0], t.Stages[3], t.Stages[5]}
		return t
	}
	ch := compared(t, three(january()), three(march()), lactate.CompareOptions{})
	if !math.IsNaN(ch.Shape.F) || !math.IsNaN(ch.Shape.PValue) || ch.Shape.Changed {
		t.Errorf("three stages each: %+v", ch.Shape)
	}
	if b, err := json.Marshal(ch); err != nil || strings.Contains(string(b), `"f":`) {
		t.Errorf("%s, %v", b, err)
	}
}

func has(ws []lactate.Warning, c lactate.WarningKind) bool {
	return slices.ContainsFunc(ws, func(w lactate.Warning) bool { return w.Kind == c })
}

// The default of every option is what its comment says, and what is stated
// outright gives the same bits.
func TestDefaults(t *testing.T) {
	if got, want := lactate.DefaultNoise(), (lactate.Noise{Absolute: 0.2, Relative: 0.03, Resolution: 0.1, Timing: 100 * time.Millisecond}); got != want {
		t.Errorf("noise %+v, want %+v", got, want)
	}
	stated := lactate.CompareOptions{Options: lactate.Options{
		Curve: func() lactate.Curve { return new(curve.Convex) },
		LT1:   lactate.AboveBaseline{Rise: 0.5, From: lactate.BaselineFittedLowest}, LT2: lactate.AboveBaseline{Rise: 1.5, From: lactate.BaselineFittedLowest},
		Methods: []lactate.Method{
			lactate.AboveBaseline{Rise: 0.5}, lactate.AboveBaseline{Rise: 1}, lactate.AboveBaseline{Rise: 1.5}, lactate.Fixed{Lactate: 2}, lactate.Fixed{Lactate: 3}, lactate.Fixed{Lactate: 4},
			lactate.MaxDistance{}, lactate.ModifiedMaxDistance{},
		},
		Noise:      lactate.Noise{Absolute: 0.2, Relative: 0.03, Resolution: 0.1, Timing: 100 * time.Millisecond, Weight: 4},
		Confidence: 0.90, Resamples: 100,
	}, DayToDay: 0.008, Power: 0.80}
	left := lactate.CompareOptions{Options: lactate.Options{Resamples: 100}}
	a := compared(t, fullTest(), march(), left)
	b := compared(t, fullTest(), march(), stated)
	first, err1 := json.Marshal(a)
	second, err2 := json.Marshal(b)
	if err1 != nil || err2 != nil || string(first) != string(second) {
		t.Errorf("left out:\n%s (%v)\nstated:\n%s (%v)", first, err1, second, err2)
	}
	// Each stands for itself.
	for i, change := range []func(*lactate.CompareOptions){
		func(o *lactate.CompareOptions) { o.Confidence = 0.91 },
		func(o *lactate.CompareOptions) { o.DayToDay = 0.0081 },
		func(o *lactate.CompareOptions) { o.Meaningful = 0.01 },
		func(o *lactate.CompareOptions) { o.Power = 0.81 },
		func(o *lactate.CompareOptions) { o.Seed = 1 },
		func(o *lactate.CompareOptions) { o.Noise.Timing *= 2 },
		func(o *lactate.CompareOptions) { o.Noise.Resolution *= 2 },
		func(o *lactate.CompareOptions) { o.Noise.Weight = 5 },
	} {
		o := stated
		change(&o)
		c := compared(t, fullTest(), march(), o)
		if text, err := json.Marshal(c); err != nil || string(text) == string(second) {
			t.Errorf("option %d makes no difference (%v)", i, err)
		}
	}
	for name, m := range map[string][2]lactate.Method{
		"fixed":      {lactate.Fixed{}, lactate.Fixed{Lactate: 4}},
		"rise":       {lactate.AboveBaseline{}, lactate.AboveBaseline{Rise: 1, From: lactate.BaselineFittedLowest}},
		"observed":   {lactate.ObservedRise{}, lactate.ObservedRise{Rise: 1}},
		"modified":   {lactate.ModifiedMaxDistance{}, lactate.ModifiedMaxDistance{Rise: 0.4, Start: lactate.ChordBeforeFirstRise}},
		"equivalent": {lactate.AboveLowestEquivalent{}, lactate.AboveLowestEquivalent{Rise: 1.5}},
	} {
		if m[0].String() != m[1].String() {
			t.Errorf("%s: %v and %v", name, m[0], m[1])
		}
	}
}

// What just cannot be an option, and what just can. So few resamples that an interval has
// no resample beyond its ends are refused.
func TestOptionEdges(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*lactate.CompareOptions)
		ok     bool
	}{
		{"least confidence", func(o *lactate.CompareOptions) { o.Confidence = 1e-9 }, true},
		{"confidence of 1", func(o *lactate.CompareOptions) { o.Confidence = 1 }, false},
		{"confidence in per cent", func(o *lactate.CompareOptions) { o.Confidence = 90 }, false},
		{"negative confidence", func(o *lactate.CompareOptions) { o.Confidence = -0.9 }, false},
		{"a meaningful size of 1", func(o *lactate.CompareOptions) { o.Meaningful = 1 }, false},
		{"a meaningful size of 1 %", func(o *lactate.CompareOptions) { o.Meaningful = 0.01 }, true},
		{"a negative meaningful size", func(o *lactate.CompareOptions) { o.Meaningful = -0.01 }, false},
		{"power of 1", func(o *lactate.CompareOptions) { o.Power = 1 }, false},
		{"little power", func(o *lactate.CompareOptions) { o.Power = 0.06 }, true},
		{"negative power", func(o *lactate.CompareOptions) { o.Power = -0.8 }, false},
		{"no day to day", func(o *lactate.CompareOptions) { o.DayToDay = 5e-324 }, true},
		{"day to day of 1", func(o *lactate.CompareOptions) { o.DayToDay = 1 }, false},
		{"large day to day", func(o *lactate.CompareOptions) { o.DayToDay = 0.999 }, true},
		{"negative resamples", func(o *lactate.CompareOptions) { o.Resamples = -1 }, false},
		{"a million and one resamples", func(o *lactate.CompareOptions) { o.Resamples = 1_000_001 }, false},
		{"one resample", func(o *lactate.CompareOptions) { o.Resamples = 1 }, false},
		{"99 resamples", func(o *lactate.CompareOptions) { o.Resamples = 99 }, false},
		{"one hundred resamples", func(o *lactate.CompareOptions) { o.Resamples = 100 }, true},
		{"99.9 % of 1000 resamples", func(o *lactate.CompareOptions) { o.Resamples, o.Confidence = 1000, 0.999 }, false},
		{"99.9 % of 2000 resamples", func(o *lactate.CompareOptions) { o.Resamples, o.Confidence = 2000, 0.999 }, true},
		{"weight of 0.1", func(o *lactate.CompareOptions) { o.Noise.Weight = 0.1 }, true},
		{"no number for a weight", func(o *lactate.CompareOptions) { o.Noise.Weight = math.NaN() }, false},
		{"weight of 0.09", func(o *lactate.CompareOptions) { o.Noise.Weight = 0.09 }, false},
		{"noise of resolution alone", func(o *lactate.CompareOptions) { o.Noise.Resolution = 0.1 }, true},
		{"relative noise alone", func(o *lactate.CompareOptions) { o.Noise.Relative = 0.03 }, true},
		{"absolute noise alone", func(o *lactate.CompareOptions) { o.Noise.Absolute = 0.03 }, true},
		{"noise of the watch alone", func(o *lactate.CompareOptions) { o.Noise.Timing = time.Second }, false},
		{"negative noise", func(o *lactate.CompareOptions) { o.Noise.Absolute = -1 }, false},
		{"no method", func(o *lactate.CompareOptions) { o.Methods = []lactate.Method{nil} }, false},
		{"no curve", func(o *lactate.CompareOptions) { o.Curve = func() lactate.Curve { return nil } }, false},
	} {
		var o lactate.CompareOptions
		c.change(&o)
		_, err := lactate.Compare(january(), march(), o)
		if (err == nil) != c.ok || err != nil && !errors.Is(err, lactate.ErrOptions) {
			t.Errorf("%s: %v", c.name, err)
		}
		// An analysis takes all but those of a comparison alone.
		if o.Power != 0 || o.DayToDay != 0 || o.Meaningful != 0 {
			continue
		}
		if _, err := lactate.Analyze(january(), o.Options); (err == nil) != c.ok || err != nil && !errors.Is(err, lactate.ErrOptions) {
			t.Errorf("%s, of an analysis: %v", c.name, err)
		}
	}
	_, err := lactate.Analyze(january(), lactate.Options{Noise: lactate.Noise{Timing: time.Second}})
	if err == nil || !strings.Contains(err.Error(), "no lactate error at all") {
		t.Errorf("noise of the watch alone: %v", err)
	}
}

// D: σ² = Absolute² + (Relative·y)² + Resolution²/12.
func TestNoiseOfASample(t *testing.T) {
	n := lactate.Noise{Absolute: 0.2, Relative: 0.03, Resolution: 0.1}
	for _, y := range []float64{0, 1, 4, 10} {
		close2(t, "σ", n.Lactate(y), math.Sqrt(0.04+0.0009*y*y+0.01/12), 1e-12)
	}
	close2(t, "default", lactate.Noise{}.Lactate(3), n.Lactate(3), 1e-12)
	close2(t, "weight only", lactate.Noise{Weight: 9}.Lactate(3), n.Lactate(3), 1e-12)
	close2(t, "any field", lactate.Noise{Relative: 0.1}.Lactate(3), 0.3, 1e-12)
}

// D: the error of the resting sample moves a threshold above rest by itself
// divided by the curve's slope there, and adds to that of the same level.
func TestDeltaIntervalOfRest(t *testing.T) {
	test := fullTest()
	o := lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Noise: lactate.Noise{Absolute: 0.2, Relative: 0.03, Weight: math.Inf(1)}}
	a := analysed(t, test, o)
	above, err := a.DeltaInterval(lactate.AboveBaseline{Rise: 1, From: lactate.BaselineRestingSample})
	if err != nil {
		t.Fatal(err)
	}
	level, err := a.DeltaInterval(lactate.Fixed{Lactate: test.Rest + 1})
	if err != nil {
		t.Fatal(err)
	}
	close2(t, "value", above.Value, level.Value, 1e-12)
	z := distuv.UnitNormal.Quantile(0.95)
	slope := a.Curve.(*curve.Exponential).PredictDerivative(level.Value)
	of := func(e lactate.Estimate) float64 { return (e.High - e.Low) / 2 / z }
	rest := o.Noise.Lactate(test.Rest) / slope
	close2(t, "standard error", of(above), math.Hypot(of(level), rest), 1e-3)
	// And the level's own: by hand, one sample after another.
	variance := 0.0
	for i, s := range test.Stages {
		var at [2]float64
		for k, sign := range []float64{1, -1} {
			moved := test
			moved.Stages = slices.Clone(test.Stages)
			for j := range moved.Stages {
				moved.Stages[j].Lactate = a.Curve.Predict(moved.Stages[j].Intensity)
			}
			truth := moved.Stages[i].Lactate
			moved.Stages[i].Lactate += sign * 0.01 * o.Noise.Lactate(truth)
			b := analysed(t, moved, lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}})
			if at[k], err = (lactate.Fixed{Lactate: test.Rest + 1}).Locate(moved, b.Curve); err != nil {
				t.Fatal(err)
			}
		}
		g := (at[0] - at[1]) / 0.02
		variance += g * g
		_ = s
	}
	close2(t, "by hand", of(level), math.Sqrt(variance), 1e-3)
}

// Warnings, just on either side of their limits.
func TestWarningLimits(t *testing.T) {
	square := func(k float64) lactate.Test { // dips by 0.0025·k from 1.10 to 1.15
		return sampled(func(x float64) float64 { return 1 + k*(x-1.15)*(x-1.15) }, 1.1, 1.15, 1.2, 1.25, 1.3, 1.36)
	}
	parabola := func() lactate.Curve { return &curve.Polynomial{Degree: 2} }
	wrong := january()
	wrong.Stages[3].Lactate = 5
	four := wrong
	four.Stages = wrong.Stages[2:]
	for _, c := range []struct {
		name string
		test lactate.Test
		o    lactate.Options
		kind lactate.WarningKind
		want bool
		says string
	}{
		{"four stages", ramp(1, 1.5, 3, 8), lactate.Options{}, lactate.WarnFewStages, true, "only 4"},
		{"five stages", ramp(1, 1.2, 1.8, 3.5, 8), lactate.Options{}, lactate.WarnFewStages, false, ""},
		{"one lost", ramp(1, 1.2, 1.8, 0, 3.5, 8), lactate.Options{}, lactate.WarnLostSamples, true, "1 of 6"},
		{"ends at 6", ramp(1, 1.1, 1.3, 1.9, 3.2, 6), lactate.Options{}, lactate.WarnNotMaximal, false, ""},
		{"ends at 5.9", ramp(1, 1.1, 1.3, 1.9, 3.2, 5.9), lactate.Options{}, lactate.WarnNotMaximal, true, "5.9"},
		{"last below the one before", ramp(1, 1.1, 1.3, 1.9, 8.2, 8.1), lactate.Options{}, lactate.WarnNotMaximal, true, "the last stage has less lactate (8.1 mmol/L) than the one before (8.2)"},
		{"falls by 0.2", ramp(1, 1.6, 1.4, 1.9, 3.2, 8), lactate.Options{}, lactate.WarnLactateFell, false, ""},
		{"falls by 0.3", ramp(1, 1.6, 1.3, 1.9, 3.2, 8), lactate.Options{}, lactate.WarnLactateFell, true, "1.6 to 1.3 mmol/L between stages 2 and 3"},
		{"falls from the start", ramp(1.6, 1.2, 1.3, 1.9, 3.2, 8), lactate.Options{}, lactate.WarnLactateFell, false, ""},
		{"falls, not having risen", ramp(1.6, 1.7, 1.2, 1.9, 3.2, 8), lactate.Options{}, lactate.WarnLactateFell, false, ""},
		{"last equals the one before", ramp(1, 1.1, 1.3, 1.9, 8.2, 8.2), lactate.Options{}, lactate.WarnNotMaximal, false, ""},
		{"falls to the lowest", ramp(1.6, 1.2, 1.5, 1.2, 3, 8), lactate.Options{}, lactate.WarnLactateFell, true, ""},
		{"dips by 0.06", square(24), lactate.Options{Curve: parabola}, lactate.WarnCurveDips, true, ""},
		{"dips by 0.04", square(16), lactate.Options{Curve: parabola}, lactate.WarnCurveDips, false, ""},
		{"bends a little", ramp(1, 2.3, 3.65, 5.05, 6.5, 8), lactate.Options{Curve: parabola}, lactate.WarnCurveUnbent, false, ""},
		{"wrong sample", wrong, lactate.Options{}, lactate.WarnCurveMisses, true, ""},
		{"wrong sample, little weight", wrong, lactate.Options{Noise: lactate.Noise{Absolute: 0.2, Weight: 0.5}}, lactate.WarnCurveMisses, true, ""},
		{"wrong sample, no weight", wrong, lactate.Options{Noise: lactate.Noise{Absolute: 0.2, Weight: -1}}, lactate.WarnCurveMisses, false, ""},
		{"wrong sample of four", four, lactate.Options{}, lactate.WarnCurveMisses, true, ""},
	} {
		a, err := lactate.Analyze(c.test, c.o)
		if err != nil {
			t.Fatal(c.name, err)
		}
		said := ""
		for _, w := range a.Warnings {
			if w.Kind == c.kind {
				said = w.String()
			}
		}
		if (said != "") != c.want || !strings.Contains(said, c.says) {
			t.Errorf("%s: %q", c.name, said)
		}
	}
	// Two tests share little of their range of lactate, or enough.
	low, high := ramp(1, 1.1, 1.3, 1.7, 2.4, 3.6), ramp(2.9, 3.6, 4.8, 6.7, 9.9, 15)
	ch := compared(t, low, high, lactate.CompareOptions{})
	if !has(ch.Warnings, lactate.WarnLittleShared) || !ch.BetweenDays.Grade.Sure() || !ch.TestAgain() {
		t.Errorf("1 to 3.6 and 2.9 to 15 mmol/L: %v, %v", ch.BetweenDays.Grade, ch.Warnings)
	}
	if ch, err := lactate.Compare(january(), march(), lactate.CompareOptions{}); err != nil || has(ch.Warnings, lactate.WarnLittleShared) || ch.TestAgain() == ch.BetweenDays.Grade.Sure() {
		t.Errorf("%v, %v", ch, err)
	}
	if same := compared(t, january(), january(), lactate.CompareOptions{}); !same.TestAgain() {
		t.Errorf("a test and itself: %v", same.BetweenDays.Grade)
	}
}

// Intervals of changes come with resamples alone, lie around the change, and
// are those of two independent tests: the squares of the widths add up, near
// enough.
func TestChangesOfThresholds(t *testing.T) {
	bare := compared(t, january(), march(), lactate.CompareOptions{})
	drawn := compared(t, january(), march(), lactate.CompareOptions{Options: lactate.Options{Resamples: 4000}})
	if len(bare.Thresholds) != 2+len(lactate.CoreMethods()) {
		t.Errorf("%d thresholds", len(bare.Thresholds))
	}
	for i, c := range drawn.Thresholds {
		if b := bare.Thresholds[i]; b.Change.HasInterval() || b.Change.Value != c.Change.Value {
			t.Errorf("%v: %v without resamples, %v with", c.Method, b.Change, c.Change)
		}
		if c.Method == (lactate.Method)(lactate.ModifiedMaxDistance{}) {
			continue // jumps from stage to stage
		}
		width := func(e lactate.Estimate) float64 { return e.High - e.Low }
		close2(t, c.Method.String(), width(c.Change), math.Hypot(width(c.Before), width(c.After)), 0.15)
		if !(c.Change.Low < c.Change.Value && c.Change.Value < c.Change.High) || c.Change.Value != c.After.Value-c.Before.Value {
			t.Errorf("%v: %v", c.Method, c.Change)
		}
	}
	lo, hi := 1.12, 1.36 // the range that both tests cover
	for i, l := range drawn.Levels {
		b := bare.Levels[i]
		if b.LactateChange.HasInterval() || !l.LactateChange.HasInterval() || !(l.Intensity >= lo && l.Intensity <= hi) {
			t.Errorf("at %v: %v and %v", l.Intensity, b.LactateChange, l.LactateChange)
		}
		if !(l.LactateChange.Low < l.LactateChange.Value && l.LactateChange.Value < l.LactateChange.High) || l.HeartRateChange != l.HeartRateAfter-l.HeartRateBefore {
			t.Errorf("at %v: %+v", l.Intensity, l)
		}
	}
	if len(drawn.Levels) != 7 { // five stages inside, LT1 and LT2
		t.Errorf("%d levels", len(drawn.Levels))
	}
}

// The catalogue says what the documentation says: the levels, the rises, and the
// year beside each author.
func TestCatalogueIsTheDocumentation(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "testdata", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, doc, ok := strings.Cut(string(text), "## References of `lactate`")
	if !ok {
		t.Fatal("no references")
	}
	var levels, rises []float64
	for _, e := range lactate.Catalogue("m/s") {
		// The first author and the year stand together in the list of references.
		who := e.Source
		for _, of := range []string{"rise of ", "reading of ", "group of "} {
			if _, after, ok := strings.Cut(who, of); ok {
				who = after
			}
		}
		first := regexp.MustCompile(`^\pL+`).FindString(who)
		if !regexp.MustCompile(first + `\b[^0-9]*\b` + strconv.Itoa(e.Year)).MatchString(doc) {
			t.Errorf("%v: %q of %d is not in the documentation", e.Method, first, e.Year)
		}
		switch m := e.Method.(type) {
		case lactate.Fixed:
			levels = append(levels, m.Lactate)
		case lactate.AboveBaseline:
			rises = append(rises, m.Rise)
		case lactate.AboveLowestEquivalent:
			if m.Rise != 1.5 {
				t.Errorf("%v", m)
			}
		case lactate.ObservedRise:
			if m.Rise != 1 {
				t.Errorf("%v", m)
			}
		case lactate.FixedSlope: // from memory: 1.26 and 1.00 mmol/L per km/h
			if want := 3.6; math.Abs(m.Slope-want) > 1e-12 && math.Abs(m.Slope-1.26*want) > 1e-12 {
				t.Errorf("%v", m)
			}
		}
	}
	slices.Sort(levels)
	slices.Sort(rises)
	if d := cmp.Diff([]float64{2, 3, 3.5, 4}, levels); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]float64{0.5, 1, 1.5}, rises); d != "" {
		t.Error(d)
	}
	if !reflect.DeepEqual(lactate.Catalogue("m/s"), lactate.Catalogue("m/s")) {
		t.Error("not the same twice")
	}
}
