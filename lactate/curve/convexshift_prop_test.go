package curve_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"example.com/steptest/lactate/curve"
	"pgregory.net/rapid"
)

// drawPair draws two tests of one curve.
func drawPair(t *rapid.T) (xs, ys, weights []float64, groups []int) {
	for g := range 2 {
		x, y, w := drawRising(t)
		if g == 1 { // of the same range of x, about
			lo, rng := xs[0], xs[len(xs)-1]-xs[0]
			from, scale := x[0], rng/(x[len(x)-1]-x[0])
			for i := range x {
				x[i] = lo + (x[i]-from)*scale
			}
		}
		xs, ys, weights = append(xs, x...), append(ys, y...), append(weights, w...)
		for range x {
			groups = append(groups, g)
		}
	}
	return xs, ys, weights, groups
}

// alike compares two posteriors, the second shifted by d and stretched by k.
func alike(t *rapid.T, what string, p, q curve.ShiftPosterior, k, d float64) {
	t.Helper()
	tol := 2e-3 * p.StdDev()
	for _, at := range []float64{0.02, 0.05, 0.25, 0.5, 0.75, 0.95, 0.98} {
		from := at
		if k < 0 {
			from = 1 - at
		}
		if a, b := p.Quantile(from), (q.Quantile(at)-d)/k; !(math.Abs(a-b) <= tol+1e-9*math.Abs(d)) {
			t.Fatalf("%s: quantile %v is %v, want %v ± %v", what, at, b, a, tol)
		}
	}
}

// Kind D: a test moved by δ, groups that change places, another order of points, other
// units.
func TestPropConvexShifted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs, ys, weights, groups := drawPair(t)
		var c, m curve.ConvexShifted
		if err := c.FitWeighted(xs, ys, weights, groups); err != nil {
			t.Skip(err)
		}
		p := c.Shift(1)
		if lo, hi := p.Quantile(0.05), p.Quantile(0.95); !(lo < p.Mean() && p.Mean() < hi && p.StdDev() > 0) {
			t.Fatalf("%v ± %v, quantiles %v and %v", p.Mean(), p.StdDev(), lo, hi)
		}
		rng := xs[len(xs)-1] - xs[0]
		fit := func(xs, ys, weights []float64, groups []int) curve.ShiftPosterior {
			t.Helper()
			succeeds(t, m.FitWeighted(xs, ys, weights, groups))
			return m.Shift(1)
		}
		d := rng * rapid.Float64Range(-0.3, 0.3).Draw(t, "d")
		moved := slices.Clone(xs)
		swapped := slices.Clone(groups)
		for i, g := range groups {
			moved[i] += d * float64(g)
			swapped[i] = 1 - g
		}
		// The prior's ends do not move by as much: only if no weight lies near them.
		if p.CDF(-rng/2)+p.Survival(rng/2) < 1e-5 {
			alike(t, "moved", p, fit(moved, ys, weights, groups), 1, d)
		}
		alike(t, "swapped", p, fit(xs, ys, weights, swapped), -1, 0)
		perm := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 0)).Perm(len(xs))
		xs2, ys2, w2, g2 := slices.Clone(xs), slices.Clone(ys), slices.Clone(weights), slices.Clone(groups)
		for i, k := range perm {
			xs2[i], ys2[i], w2[i], g2[i] = xs[k], ys[k], weights[k], groups[k]
		}
		alike(t, "reordered", p, fit(xs2, ys2, w2, g2), 1, 0)
		kx, ky := rapid.Float64Range(0.01, 100).Draw(t, "kx"), rapid.Float64Range(0.01, 100).Draw(t, "ky")
		for i := range xs2 {
			xs2[i] *= kx
			ys2[i] = ky*ys2[i] + 3
			w2[i] /= ky * ky
		}
		m.Tilt = 0.2 * ky
		alike(t, "in other units", p, fit(xs2, ys2, w2, g2), kx, 0)
	})
}

// Bits depend neither on what was fitted before nor on fits at the same time.
func TestConvexShiftedSameBits(t *testing.T) {
	three := slices.Concat(shiftPairs[1].groups, []int{2, 2, 2, 2, 2, 2})
	xs3, ys3 := append(slices.Clone(shiftPairs[1].xs), even(6, 1.1, 1.45)...), append(slices.Clone(shiftPairs[1].ys), 1.2, 1.1, 1.5, 3.2, 5.6, 8.1)
	read := func() (out [6]float64) {
		var c curve.ConvexShifted
		for k, pair := range shiftPairs[:2] {
			if err := c.Fit(pair.xs, pair.ys, pair.groups); err != nil {
				t.Error(err)
				return out
			}
			out[k], out[k+2] = c.Shift(1).Quantile(0.05), c.Shift(1).Mean()
		}
		if err := c.Fit(xs3, ys3, three); err != nil {
			t.Error(err)
			return out
		}
		out[4], out[5] = c.Shift(1).Quantile(0.95), c.Shift(2).Mean()
		return out
	}
	want := read()
	var wg sync.WaitGroup
	for range 4 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			if got := read(); got != want {
				t.Errorf("%v, and %v before", got, want)
			}
		}()
	}
	wg.Wait()
}
