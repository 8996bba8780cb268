package curve_test

import (
	"testing"

	"example.com/steptest/lactate/curve"
)

// Refits of the exponential do not allocate, with the same xs, other xs, fewer
// points or weights, nor do the searches on the curve.
func TestExponentialAllocs(t *testing.T) {
	xs, ys := stepTest(8)
	moved := append([]float64(nil), xs...)
	moved[3] += 0.001
	ws := []float64{1, 2, 3, 4, 4, 3, 2, 1}
	var e curve.Exponential
	refit := func() {
		for _, err := range []error{
			e.Fit(xs, ys), e.Fit(xs, ys), e.Fit(moved, ys), e.Fit(xs[1:], ys[1:]), e.FitWeighted(xs, ys, ws),
		} {
			if err != nil {
				t.Fatal(err)
			}
		}
		e.Predict(1.2)
		e.PredictDerivative(1.2)
		e.Upcrossing(2, xs[0], xs[7])
		e.FarthestBelow(20, xs[0], xs[7])
		e.Minimum(xs[0], xs[7])
	}
	refit()
	if n := testing.AllocsPerRun(100, refit); n != 0 {
		t.Errorf("%v allocations, want 0", n)
	}
}

// Nor do refits of several tests with one shape.
func TestShiftedAllocs(t *testing.T) {
	xs, ys, groups := twoTests(6)
	moved := append([]float64(nil), xs...)
	moved[3] += 0.001
	var s curve.Shifted
	refit := func() {
		for _, err := range []error{s.Fit(xs, ys, groups), s.Fit(xs, ys, groups), s.Fit(moved, ys, groups), s.Fit(xs[:6], ys[:6], groups[:6])} {
			if err != nil {
				t.Fatal(err)
			}
		}
		s.Predict(1.2, 0)
	}
	refit()
	if n := testing.AllocsPerRun(100, refit); n != 0 {
		t.Errorf("%v allocations, want 0", n)
	}
}
