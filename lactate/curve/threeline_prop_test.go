package curve_test

import (
	"testing"

	"example.com/steptest/lactate/curve"
	"pgregory.net/rapid"
)

// feasible reports whether three lines with these joins hold two different xs
// each, ends included.
func feasible(z []float64, lower, upper float64) bool {
	l, m, r := 0, 0, 0
	for _, x := range z {
		if x <= lower {
			l++
		}
		if x >= lower && x <= upper {
			m++
		}
		if x >= upper {
			r++
		}
	}
	return l >= 2 && m >= 2 && r >= 2
}

// Evidence D and C: the fit is the least-squares fit of its own joins (QR
// decomposition of gonum/mat v0.17.0), and no pair of joins of a search over
// all pairs does better.
func TestThreeLineIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs, ys := drawPoints(t)
		var c curve.ThreeLine
		succeeds(t, c.Fit(xs, ys))
		z := different(xs)
		if !feasible(z, c.Lower, c.Upper) {
			t.Fatalf("joins at %v and %v leave a line with fewer than two of %v", c.Lower, c.Upper, z)
		}
		small := 1e-18 * sumOfSquares(ys)
		profile := func(a, b float64) float64 {
			return leastSquares(xs, ys, constant, before(a), between(a, b), after(b))
		}
		if want := profile(c.Lower, c.Upper); !near(c.RSS(), want, 1e-8*want+small) {
			t.Fatalf("RSS at the joins %v and %v: got %v, want %v", c.Lower, c.Upper, c.RSS(), want)
		}
		// All points, and five places in each gap, some close to its ends.
		var places []float64
		for i := 1; i < len(z)-1; i++ {
			places = append(places, z[i])
			if i < len(z)-2 {
				for _, f := range []float64{0.02, 0.25, 0.5, 0.75, 0.98} {
					places = append(places, z[i]+f*(z[i+1]-z[i]))
				}
			}
		}
		// And places close to the joins.
		width := z[len(z)-1] - z[0]
		for _, f := range []float64{-1e-2, -1e-3, 1e-3, 1e-2} {
			places = append(places, c.Lower+f*width, c.Upper+f*width)
		}
		for _, a := range append(places, c.Lower) {
			for _, b := range append(places, c.Upper) {
				if !(a < b) || !feasible(z, a, b) {
					continue
				}
				if rss := profile(a, b); !(c.RSS() <= rss*(1+1e-8)+small) {
					t.Fatalf("joins at %v and %v leave %v, less than %v at %v and %v", a, b, rss, c.RSS(), c.Lower, c.Upper)
				}
			}
		}
	})
}

// Evidence D: points on three lines give the lines back.
func TestThreeLineRecoversItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(8, 14).Draw(t, "n")
		first := rapid.Float64Range(-20, 20).Draw(t, "first")
		var xs []float64
		for i := range n {
			xs = append(xs, first+float64(i)+rapid.Float64Range(-0.3, 0.3).Draw(t, "off"))
		}
		// Two points or more strictly inside each line.
		a := rapid.IntRange(1, n-6).Draw(t, "a")
		b := rapid.IntRange(a+3, n-3).Draw(t, "b")
		within := func(i int, name string) float64 {
			return xs[i] + (xs[i+1]-xs[i])*rapid.Float64Range(0, 1).Draw(t, name)
		}
		slope := func(from float64, name string) float64 {
			bend := rapid.Float64Range(0.2, 10).Draw(t, name)
			if rapid.Bool().Draw(t, "downward") {
				bend = -bend
			}
			return from + bend
		}
		want := curve.ThreeLine{Lower: within(a, "lower"), Upper: within(b, "upper")}
		want.Level = rapid.Float64Range(-10, 10).Draw(t, "level")
		want.Left = rapid.Float64Range(-10, 10).Draw(t, "left")
		want.Middle = slope(want.Left, "first bend")
		want.Right = slope(want.Middle, "second bend")
		var ys []float64
		for _, x := range xs {
			ys = append(ys, want.Predict(x))
		}
		var c curve.ThreeLine
		succeeds(t, c.Fit(xs, ys))
		const tol = 1e-9
		if !near(c.Lower, want.Lower, tol) || !near(c.Upper, want.Upper, tol) || !near(c.Level, want.Level, tol) ||
			!near(c.Left, want.Left, tol) || !near(c.Middle, want.Middle, tol) || !near(c.Right, want.Right, tol) {
			t.Fatalf("got %v %v %v %v %v %v, want %v %v %v %v %v %v", c.Lower, c.Upper, c.Level, c.Left, c.Middle, c.Right,
				want.Lower, want.Upper, want.Level, want.Left, want.Middle, want.Right)
		}
	})
}
