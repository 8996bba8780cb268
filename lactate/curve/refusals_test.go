package curve_test

import (
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate/curve"
)

// After an error nothing of an earlier fit is left; D.
func TestNothingIsLeftAfterAnError(t *testing.T) {
	xs, ys := []float64{1, 2, 3, 4, 5, 6, 7, 8}, []float64{1, 1.1, 1.3, 2.2, 3.4, 4.4, 7.5, 11}
	b, l := new(curve.BrokenLine), new(curve.ThreeLine)
	bad := []float64{-1, -1, -1, -1, -1, -1, -1, -1} // every weight
	for _, r := range []regression{b, l, new(curve.Polynomial), new(curve.Exponential)} {
		if err := r.Fit(xs, ys); err != nil {
			t.Fatalf("%T: %v", r, err)
		}
		if err := r.FitWeighted(xs, ys, bad); err == nil {
			t.Errorf("%T takes negative weights", r)
		}
		if r.RSS() != 0 || r.DegreesOfFreedom() != 0 {
			t.Errorf("%T: RSS %v, %d degrees of freedom", r, r.RSS(), r.DegreesOfFreedom())
		}
	}
	if b.Join != 0 || b.Level != 0 || b.Left != 0 || b.Right != 0 || b.Predict(3) != 0 {
		t.Errorf("%+v", b)
	}
	if l.Lower != 0 || l.Upper != 0 || l.Level != 0 || l.Left != 0 || l.Middle != 0 || l.Right != 0 || l.Predict(3) != 0 {
		t.Errorf("%+v", l)
	}
}

// Which end stands alone is said, and how many xs are needed.
func TestWhichEnd(t *testing.T) {
	xs := []float64{1, 2, 3, 4, 5}
	for want, ys := range map[string][]float64{"highest": {1, 1, 1, 1, 9}, "lowest": {9, 1, 1, 1, 1}} {
		var e curve.Exponential
		if err := e.Fit(xs, ys); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v does not say %q", ys, err, want)
		}
	}
	var p curve.Polynomial
	if err := p.Fit([]float64{1, 2, 3}, []float64{1, 2, 4}); err == nil || !strings.Contains(err.Error(), "found 3 different xs, a polynomial of degree 3 needs 4") {
		t.Error(err)
	}
}

// D: closed forms on curves whose coefficients are all well below 1, as those
// of step tests are; and on straight lines.
func TestPointsOfSmallCurves(t *testing.T) {
	e := &curve.Exponential{A: 0.01, B: 4e-4, C: 6}
	if x, ok := e.Upcrossing(0.01+4e-4*math.Exp(6*0.3), 0, 1); !ok || !(math.Abs(x-0.3) <= 1e-12) {
		t.Errorf("level at %v, %v", x, ok)
	}
	if x, ok := e.FarthestBelow(24e-4*math.Exp(6*0.3), 0, 1); !ok || !(math.Abs(x-0.3) <= 1e-12) {
		t.Errorf("slope at %v, %v", x, ok)
	}
	line := &curve.Polynomial{Degree: 1}
	succeeds(t, line.Fit([]float64{0, 1, 2}, []float64{0.1, 0.3, 0.5}))
	if x, ok := line.Upcrossing(0.2, 0, 2); !ok || !(math.Abs(x-0.5) <= 1e-12) {
		t.Errorf("level of a line at %v, %v", x, ok)
	}
	if x, ok := line.FarthestBelow(0.3, 0, 2); ok {
		t.Errorf("a line lies farthest below a line at %v", x)
	}
	if x, y := line.Minimum(0, 2); x != 0 || !(math.Abs(y-0.1) <= 1e-12) {
		t.Errorf("a line is lowest at %v: %v", x, y)
	}
	// y = x²/10 and y = x³/10 − 3x/10, which is lowest at 1 and rises through 0
	// at √3.
	square, cubic := &curve.Polynomial{Degree: 2}, &curve.Polynomial{}
	xs := []float64{-2, -1, -0.5, 0.5, 1, 2, 3}
	succeeds(t, square.Fit(xs, mapped(xs, func(x float64) float64 { return x * x / 10 })))
	succeeds(t, cubic.Fit(xs, mapped(xs, func(x float64) float64 { return x*x*x/10 - 3*x/10 })))
	near := func(what string, x, want float64, ok bool) {
		t.Helper()
		if !ok || !(math.Abs(x-want) <= 1e-9) {
			t.Errorf("%s: %v (%v), want %v", what, x, ok, want)
		}
	}
	x, ok := square.Upcrossing(0.4, -3, 3)
	near("square", x, 2, ok)
	x, ok = square.FarthestBelow(0.2, -3, 3)
	near("square, slope", x, 1, ok)
	x, _ = square.Minimum(-3, 3)
	near("square, lowest", x, 0, true)
	x, ok = cubic.Upcrossing(0, -1.5, 2.5)
	near("cubic", x, math.Sqrt(3), ok)
	x, ok = cubic.Upcrossing(0.1, -3, 1)
	near("cubic, lower branch", cubic.Predict(x), 0.1, ok && x < -1)
	x, _ = cubic.Minimum(0, 2.5)
	near("cubic, lowest", x, 1, true)
	x, ok = cubic.FarthestBelow(0, 0, 2.5)
	near("cubic, slope 0", x, 1, ok)
	x, ok = cubic.FarthestBelow(0.9, -1, 2.5)
	near("cubic, slope 0.9", x, 2, ok)
}
