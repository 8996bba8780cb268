package lactate_test

import (
	"math"
	"slices"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// D: the bracket beside an odd sample is the median and the central 90 % of a new sample on
// the convex curve through the others, to 0.01 mmol/L.
func TestOddSampleExpected(t *testing.T) {
	test := ramp(1.2, 1.3, 4.9, 2.1, 3.4, 5.6, 9.2)
	const at = 2
	noise := lactate.DefaultNoise()
	a := analysed(t, test, lactate.Options{Noise: noise})
	i := slices.IndexFunc(a.Warnings, func(w lactate.Warning) bool { return w.Kind == lactate.WarnOddSample })
	if i < 0 || a.Warnings[i].Stages[0] != at+1 {
		t.Fatalf("%v", a.Warnings)
	}
	var xs, ys, weights []float64
	others := slices.Delete(slices.Clone(test.Stages), at, at+1)
	for _, s := range others {
		xs, ys = append(xs, s.Intensity), append(ys, s.Lactate)
	}
	var e curve.Exponential
	if err := e.Fit(xs, ys); err != nil {
		t.Fatal(err)
	}
	for _, s := range others {
		sd := noise.Stage(s, e.Predict(s.Intensity), e.PredictDerivative(s.Intensity))
		weights = append(weights, 1/(sd*sd))
	}
	var c curve.Convex
	if err := c.FitWeighted(xs, ys, weights); err != nil {
		t.Fatal(err)
	}
	x := test.Stages[at].Intensity
	sd := noise.Stage(test.Stages[at], c.Predict(x), c.PredictDerivative(x))
	for k, share := range []float64{0.5, 0.05, 0.95} {
		v := a.Warnings[i].Values[k+1].(float64)
		low, high := c.Below(x, v-0.01, sd), c.Below(x, v+0.01, sd)
		if !(low <= share && share <= high) || math.IsNaN(v) {
			t.Errorf("%.2f: found %.3f mmol/L, below which lie %.4f to %.4f", share, v, low, high)
		}
	}
}
