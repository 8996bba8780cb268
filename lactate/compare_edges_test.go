package lactate_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"gonum.org/v1/gonum/stat/distuv"
)

// Where a rule of a comparison begins, just on either side. Constructed.
func TestCompareEdges(t *testing.T) {
	compare := func(a, b lactate.Test, o lactate.Options) *lactate.Change {
		t.Helper()
		c := compared(t, a, b, lactate.CompareOptions{Options: o})
		return c
	}
	// Seven stages less six parameters leave one degree of freedom for the F test.
	three := march()
	three.Stages = []lactate.Stage{three.Stages[0], three.Stages[3], three.Stages[5]}
	four := january()
	four.Stages = []lactate.Stage{four.Stages[0], four.Stages[2], four.Stages[3], four.Stages[5]}
	if c := compare(four, three, lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}}); math.IsNaN(c.Shape.F) || math.IsNaN(c.Shape.PValue) {
		t.Errorf("four stages and three: %+v", c.Shape)
	}
	// Shared range of lactate: a third of all is enough, 0.29 is not. So it is
	// below 1 mmol/L.
	for _, r := range []struct {
		lo1, hi1, lo2, hi2 float64
		little             bool
	}{{1, 6, 3.1, 11, true}, {1, 6, 2.5, 11, false}, {0.3, 0.6, 0.5, 0.9, true}, {0.3, 0.75, 0.5, 0.9, false}} {
		between := func(lo, hi float64) lactate.Test {
			return sampled(func(x float64) float64 { return lo + (hi-lo)*math.Expm1(12*(x-1.1))/math.Expm1(12*0.25) }, 1.1, 1.15, 1.2, 1.25, 1.3, 1.35)
		}
		if c := compare(between(r.lo1, r.hi1), between(r.lo2, r.hi2), lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}}); has(c.Warnings, lactate.WarnLittleShared) != r.little {
			t.Errorf("%+v: %v", r, c.Warnings)
		}
	}
	// Dmax between ends that differ by 0.3 % of LT2 or by 0.6 %, the curve the
	// same: the ends decide only in the second.
	f := func(x float64) float64 { return 1 + math.Exp(14*(x-1.22)) }
	whole := sampled(f, 1.1, 1.15, 1.2, 1.25, 1.3, 1.36)
	for last, want := range map[float64]bool{1.3638: false, 1.3675: true} {
		if c := compare(whole, sampled(f, 1.1, 1.15, 1.2, 1.25, 1.3, last), lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}}); has(c.Warnings, lactate.WarnEndsDecide) != want {
			t.Errorf("to 1.36 and %v, reference %v: %v, %v", last, c.Reference, c.Measured.Grade, c.Warnings)
		}
	}
	// A threshold that one of the tests does not have decides nothing.
	noRise := ramp(1, 1.1, 1.2, 1.3, 1.4, 1.45)
	o := lactate.Options{Curve: exponential, LT1: lactate.Fixed{Lactate: 2}, LT2: lactate.ModifiedMaxDistance{}}
	if c := compare(noRise, january(), o); c.Before.LT2.Err == nil || has(c.Warnings, lactate.WarnEndsDecide) {
		t.Errorf("no modified Dmax before: %v, %v", c.Before.LT2.Err, c.Warnings)
	}
	if c := compare(january(), noRise, o); c.After.LT2.Err == nil || has(c.Warnings, lactate.WarnEndsDecide) {
		t.Errorf("no modified Dmax after: %v, %v", c.After.LT2.Err, c.Warnings)
	}
	// Levels at the ends of the shared range are read.
	if c := compare(january(), january(), lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}}); len(c.Levels) != 8 || c.Levels[0].Intensity != 1.10 || c.Levels[7].Intensity != 1.36 {
		t.Errorf("six stages and two thresholds: %+v", c.Levels)
	}
}

// D: the trend of two tests carried on. With the shift d at age t, variance V of
// measurement and D of a day, a new place at age a = r·t is expected at r·d, and
// known with the variance r²(V + 2D) − 2rD + 2D, of which r²V is measured.
func TestExpectedOfTwo(t *testing.T) {
	start := time.Date(2025, 1, 4, 0, 0, 0, 0, time.UTC)
	s, err := lactate.FollowSeason([]lactate.DatedTest{{Date: start, Test: january()}, {Date: start.AddDate(0, 0, 42), Test: march()}}, lactate.CompareOptions{Options: lactate.Options{Confidence: 0.8, Curve: exponential}})
	if err != nil {
		t.Fatal(err)
	}
	se := s.Tests[1].Measured.StandardError
	day := 0.008 * s.Reference
	v, d := se*se, day*day
	for _, r := range []float64{0.5, 1, 2} {
		got, err := s.Expected(start.Add(time.Duration(r * float64(42*24*time.Hour))))
		if err != nil {
			t.Fatal(err)
		}
		variance := r*r*(v+2*d) - 2*r*d + 2*d
		share := r * r * v / variance
		dof := float64(s.Exponential.DegreesOfFreedom) + 4 // four observations of stated noise
		half := distuv.StudentsT{Sigma: 1, Nu: dof / (share * share)}.Quantile(0.9) * math.Sqrt(variance)
		close2(t, "value", got.Value, r*s.Tests[1].Measured.Shift.Value, 1e-9)
		close2(t, "low", got.Value-got.Low, half, 1e-9)
		close2(t, "high", got.High-got.Value, half, 1e-9)
	}
	if _, err := lactate.FollowSeason([]lactate.DatedTest{{Date: start, Test: january()}, {Date: start.AddDate(0, 0, 42), Test: march()}, {Date: start.AddDate(0, 0, 84)}}, lactate.CompareOptions{}); err == nil || !strings.Contains(err.Error(), "2025-03-29") {
		t.Errorf("one test without stages: %v", err)
	}
}

// Every test but the first is asked whether the ends of its range decide.
func TestSeasonEndsDecide(t *testing.T) {
	f := func(x float64) float64 { return 1 + math.Exp(14*(x-1.22)) }
	start := time.Date(2025, 1, 4, 0, 0, 0, 0, time.UTC)
	whole, cut := sampled(f, 1.1, 1.15, 1.2, 1.25, 1.3, 1.36), sampled(f, 1.1, 1.15, 1.2, 1.25, 1.3, 1.33)
	for i, tests := range [][]lactate.Test{{whole, whole, whole}, {whole, cut, whole}, {whole, whole, cut}, {whole, cut}} {
		var dated []lactate.DatedTest
		for j, test := range tests {
			dated = append(dated, lactate.DatedTest{Date: start.AddDate(0, 0, 42*j), Test: test})
		}
		s, err := lactate.FollowSeason(dated, lactate.CompareOptions{Options: lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}}})
		if err != nil || has(s.Warnings, lactate.WarnEndsDecide) != (i > 0) {
			t.Errorf("%d: %v, %v", i, s.Warnings, err)
		}
	}
}

// D: power rises at a rate far below 1 per W, and compares as speed does.
func TestCompareWatts(t *testing.T) {
	watts := func(test lactate.Test) lactate.Test {
		return mapped(test, func(x float64) float64 { return 200 * x }, same)
	}
	speed := compared(t, january(), march(), lactate.CompareOptions{Options: lactate.Options{Curve: exponential}})
	power, err := lactate.Compare(watts(january()), watts(march()), lactate.CompareOptions{Options: lactate.Options{Curve: exponential}})
	if err != nil || !(power.Exponential.Rate < 1) {
		t.Fatal(power, err)
	}
	close2(t, "shift", power.Shift.Value, 200*speed.Shift.Value, 1e-6)
	close2(t, "standard error", power.Measured.StandardError, 200*speed.Measured.StandardError, 1e-6)
}

// D: a comparison reads its first test as Analyze does, draws and all.
func TestCompareReadsAsAnalyze(t *testing.T) {
	o := lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Resamples: 100, Seed: 3}
	a := analysed(t, january(), o)
	c, err := lactate.Compare(january(), march(), lactate.CompareOptions{Options: o})
	if err != nil || c.Before.LT1.Intensity != a.LT1.Intensity || c.Before.LT2.Intensity != a.LT2.Intensity {
		t.Errorf("%v, %v and %v, %v: %v", c.Before.LT1.Intensity, c.Before.LT2.Intensity, a.LT1.Intensity, a.LT2.Intensity, err)
	}
	// 100 resamples are the fewest that an interval rests on.
	if !a.LT2.Intensity.HasInterval() || !c.Levels[0].LactateChange.HasInterval() {
		t.Errorf("100 resamples: %v, %v", a.LT2.Intensity, c.Levels)
	}
	three := january()
	three.Stages = three.Stages[3:]
	for n, want := range map[int]bool{0: false, 100: true} {
		a, err := lactate.Analyze(three, lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Resamples: n, Noise: lactate.Noise{Absolute: 0.2, Weight: -1}})
		if err != nil || has(a.Warnings, lactate.WarnNoScale) != want {
			t.Errorf("%d resamples without a scale: %v, %v", n, a.Warnings, err)
		}
	}
	if _, err := lactate.PooledNoise(lactate.Noise{Absolute: 0.2, Weight: -1}, three); !errors.Is(err, lactate.ErrTooFewStages) {
		t.Errorf("nothing to pool: %v", err)
	}
	// The most resamples are allowed, one more is not.
	for n, want := range map[int]bool{1_000_000: false, 1_000_001: true} {
		if _, err := lactate.Analyze(lactate.Test{}, lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Resamples: n}); strings.Contains(err.Error(), "Resamples") != want {
			t.Errorf("%d resamples: %v", n, err)
		}
	}
}
