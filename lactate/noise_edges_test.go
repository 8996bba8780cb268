package lactate_test

import (
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// A curve that does not say how much its fit left over is taken to pass through
// all points, so that residuals say nothing: with no weight for the stated noise
// there is no interval, with half an observation there is.
func TestNothingLeftOver(t *testing.T) {
	for _, c := range []struct {
		weight float64
		known  bool
	}{{-1, false}, {0.5, true}} {
		a := analysed(t, january(), lactate.Options{
			Curve: func() lactate.Curve { return bare{new(curve.Exponential)} },
			Noise: lactate.Noise{Absolute: 0.2, Weight: c.weight}, Resamples: 100,
		})
		if a.LT1.Intensity.HasInterval() != c.known || has(a.Warnings, lactate.WarnNoScale) == c.known {
			t.Errorf("weight %v: %v, %v", c.weight, a.LT1.Intensity, a.Warnings)
		}
	}
	// Half an observation is enough to pool; the factor is the square root of the
	// mean square, and rounding moves into Absolute.
	n := lactate.Noise{Absolute: 0.2, Relative: 0.03, Resolution: 0.5, Weight: 0.5}
	pooled, err := lactate.PooledNoise(n)
	if err != nil || pooled.Weight != 0.5 {
		t.Fatalf("%+v, %v", pooled, err)
	}
	factor := pooled.Relative / n.Relative
	if want := factor * math.Sqrt(0.2*0.2+0.5*0.5/12); !(math.Abs(pooled.Absolute-want) <= 1e-12) {
		t.Errorf("absolute %v, want %v", pooled.Absolute, want)
	}
	if _, err := lactate.PooledNoise(n, january(), lactate.Test{}); err == nil || !strings.Contains(err.Error(), "test 2") {
		t.Errorf("one of two tests that cannot be fitted: %v", err)
	}
}

// D: resting lactate below 1 mmol/L has its share in an interval: with noise in
// the resting sample and next to none in the stages, a level above rest moves by
// the slope's share of it.
func TestRestIsResampled(t *testing.T) {
	test := january()
	test.Rest = 0.9
	for i := range test.Stages { // on the curve itself
		test.Stages[i].Lactate = 0.95 + math.Exp(14*(test.Stages[i].Intensity-1.2))
	}
	width := func(m lactate.Method) float64 {
		a, err := lactate.Analyze(test, lactate.Options{LT1: m, Resamples: 400, Noise: lactate.Noise{Absolute: 0.1, Weight: math.Inf(1)}})
		if err != nil || a.LT1.Err != nil {
			t.Fatal(err, a.LT1.Err)
		}
		return a.LT1.Intensity.High - a.LT1.Intensity.Low
	}
	if fixed, rest := width(lactate.Fixed{Lactate: 1.9}), width(lactate.AboveBaseline{Rise: 1, From: lactate.BaselineRestingSample}); !(rest > 1.2*fixed) {
		t.Errorf("%v wide above rest, %v at the same level", rest, fixed)
	}
}
