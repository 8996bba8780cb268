package curve_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate/curve"
)

// Evidence D: y = x³ − 3x has a peak of 2 at −1, a trough of −2 at 1, and is
// 0 at −√3, 0 and √3. It is fitted by cubic and by quintic, so that both
// evaluations are seen.
func TestPolynomialCrossings(t *testing.T) {
	var xs, ys []float64
	for i := -3; i <= 3; i++ {
		x := float64(i)
		xs, ys = append(xs, x), append(ys, x*x*x-3*x)
	}
	root3 := math.Sqrt(3)
	tests := []struct {
		name          string
		level, lo, hi float64
		want          float64
		ok            bool
	}{
		{"the highest of three", 0, -3, 3, root3, true},
		{"the lowest, the others being outside", 0, -3, -0.5, -root3, true},
		{"downward only", 0, -1.5, 1.5, 0, false},
		{"level never reached", 20, -3, 3, 0, false},
		{"level always passed", -20, -3, 3, 0, false},
		{"above the level at lo", -10, -2, 3, 0, false},
		{"leaves the level at lo", 2, 2, 3, 2, true},
		{"arrives at the level at hi", 18, 0, 3, 3, true},
		{"arrives at hi, crosses earlier", 0, -3, root3, root3, true},
		{"a peak below the level", 2.5, -3, 0, 0, false},
		{"rising through a trough at lo", -2, 1, 3, 1, true},
		{"rising to a peak at hi", 2, -3, -1, -1, true},
		{"no interval", 0, 2, 2, 0, false},
		{"turned round", 0, 3, -3, 0, false},
		{"NaN level", math.NaN(), -3, 3, 0, false},
		{"NaN end", 0, math.NaN(), 3, 0, false},
		{"infinite end", 0, -3, math.Inf(1), 0, false},
	}
	for _, degree := range []int{3, 5} {
		p := curve.Polynomial{Degree: degree}
		succeeds(t, p.Fit(xs, ys))
		for _, c := range tests {
			x, ok := p.Upcrossing(c.level, c.lo, c.hi)
			// At a trough or peak the crossing is a double root: half the digits.
			tol := 1e-13
			if c.lo == 1 || c.hi == -1 {
				tol = 1e-7
			}
			if ok != c.ok || !near(x, c.want, tol) {
				t.Errorf("degree %d, %s: got %v, %v, want %v, %v", degree, c.name, x, ok, c.want, c.ok)
			}
		}
		if x, y := p.Minimum(-2.5, 3); x != -2.5 || !near(y, -8.125, 1e-13) {
			t.Errorf("degree %d: Minimum: got (%v, %v), want (−2.5, −8.125)", degree, x, y)
		}
		if x, y := p.Minimum(-1.5, 3); !near(x, 1, 1e-13) || !near(y, -2, 1e-13) {
			t.Errorf("degree %d: Minimum: got (%v, %v), want (1, −2)", degree, x, y)
		}
		if x, y := p.Minimum(3, -3); !math.IsNaN(x) || !math.IsNaN(y) {
			t.Errorf("degree %d: Minimum of no interval: got (%v, %v), want NaN", degree, x, y)
		}
		// 3x² − 3 = 9 at ±2; only at 2 does the curve bend upward.
		if x, ok := p.FarthestBelow(9, -1.5, 3); !ok || !near(x, 2, 1e-13) {
			t.Errorf("degree %d: FarthestBelow: got %v, %v, want 2", degree, x, ok)
		}
		// From −3 on, slope 9 is farthest below at −3 itself: 9·(−3) + 18 < 16 is
		// false for 2, so the end loses; from −6 on it wins.
		if x, ok := p.FarthestBelow(9, -3, 3); !ok || !near(x, 2, 1e-13) {
			t.Errorf("degree %d: FarthestBelow: got %v, %v, want 2", degree, x, ok)
		}
		if x, ok := p.FarthestBelow(9, -6, 3); ok {
			t.Errorf("degree %d: FarthestBelow with an end that is farther: got %v", degree, x)
		}
		if x, ok := p.FarthestBelow(-5, -3, 3); ok && !(p.Predict(x)+5*x <= p.Predict(3)+15) {
			t.Errorf("degree %d: FarthestBelow of a slope the curve does not have: got %v", degree, x)
		}
		if _, ok := p.FarthestBelow(math.NaN(), -3, 3); ok {
			t.Errorf("degree %d: FarthestBelow of NaN: got ok", degree)
		}
	}
}
