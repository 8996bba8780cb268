package lactate_test

import (
	"encoding/json"
	"math/rand/v2"
	"sync/atomic"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/interp"
)

// D: samples without error from two straight lines lie farther from their
// exponential than the stated noise explains; those of an exponential with that
// noise do in 1 % of tests, by χ² (four standard errors of 2000 tests), and never
// where the stated noise has no weight.
func TestCurveMisses(t *testing.T) {
	warned := func(test lactate.Test, noise lactate.Noise) bool {
		a, err := lactate.Analyze(test, lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Noise: noise, Methods: []lactate.Method{}})
		if err != nil {
			t.Error(err)
			return false
		}
		return has(a.Warnings, lactate.WarnCurveMisses)
	}
	noise := lactate.Noise{Absolute: 0.2, Relative: 0.03, Resolution: 0.1}
	xs := even(7)
	ys := make([]float64, len(xs))
	for i, x := range xs {
		ys[i] = truths[3].curve(x) // two lines
	}
	if !warned(stages(xs, ys), noise) {
		t.Error("two lines: not warned")
	}
	unweighted := noise
	unweighted.Weight = -1
	if warned(stages(xs, ys), unweighted) {
		t.Error("two lines, stated noise without weight: warned")
	}
	const n = 2000
	var count atomic.Int64
	eachSimulated(n, 17, func(rng *rand.Rand) {
		if warned(sample(rng, truths[0].curve, xs, noise, 1), noise) {
			count.Add(1)
		}
	})
	if got := float64(count.Load()) / n; !(got >= 0.001 && got <= 0.019+0.002) {
		t.Errorf("exponential: warned of %.1f %%, expected about 1 %%", 100*got)
	}
}

// D: an analysis as JSON names its curve and its methods.
func TestAnalysisNamesItsCurve(t *testing.T) {
	for name, c := range map[string]func() lactate.Curve{
		"exponential":            func() lactate.Curve { return new(curve.Exponential) },
		"cubic":                  func() lactate.Curve { return new(curve.Polynomial) },
		"polynomial of degree 2": func() lactate.Curve { return &curve.Polynomial{Degree: 2} },
		"AkimaSpline":            func() lactate.Curve { return new(interp.AkimaSpline) },
	} {
		a := analysed(t, sixStages, lactate.Options{Curve: c})
		data, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		var got struct {
			Curve string
			LT2   struct{ Method string }
		}
		if err := json.Unmarshal(data, &got); err != nil {
			t.Fatal(err)
		}
		if got.Curve != name || got.LT2.Method != "baseline + 1.5 mmol/L" {
			t.Errorf("got %+v, want %s and the default", got, name)
		}
	}
}
