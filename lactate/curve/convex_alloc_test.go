//go:build !race

// Under the race detector the pools that the fits work in forget at random.

package curve_test

import (
	"errors"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/steptest/lactate/curve"
)

func TestConvexAllocs(t *testing.T) {
	xs, ys := even(6, 1.10, 1.45), []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9}
	moved := append([]float64(nil), xs...)
	moved[2] += 0.01
	weights := []float64{1, 2, 3, 3, 2, 1}
	var c, d curve.Convex
	rng := rand.New(rand.NewPCG(1, 2))
	refit := func() {
		succeeds(t, errors.Join(c.Fit(xs, ys), c.Fit(moved, ys), c.FitWeighted(xs, ys, weights), c.Fit(xs[1:], ys[1:])))
		c.Draw(&d, rng.Float64(), rng)
		risen(0.5)(&d, xs[1], xs[5])
		farthest(&d, xs[1], xs[5])
	}
	refit()
	if n := testing.AllocsPerRun(50, refit); n != 0 {
		t.Errorf("%v allocations, want 0", n)
	}
}

func TestConvexShiftedAllocs(t *testing.T) {
	pair := shiftPairs[0]
	moved := slices.Clone(pair.xs)
	moved[3] += 0.001
	weights := stated(pair.ys)
	var c curve.ConvexShifted
	var d [1]float64
	refit := func() {
		succeeds(t, errors.Join(c.Fit(pair.xs, pair.ys, pair.groups), c.Fit(moved, pair.ys, pair.groups), c.FitWeighted(pair.xs, pair.ys, weights, pair.groups)))
		p := c.Shift(1).Plus(0.01)
		p.Quantile(0.05)
		p.Survival(0)
		c.Draw(d[:], 0.3)
	}
	refit()
	if n := testing.AllocsPerRun(20, refit); n != 0 {
		t.Errorf("%v allocations, want 0", n)
	}
}
