package curve_test

import (
	"math"
	"slices"
	"testing"

	"example.com/steptest/lactate/curve"
	"pgregory.net/rapid"
)

// Continuous pieces: a constant, and x before, between and after the joins.
func constant(float64) float64 { return 1 }
func before(j float64) func(float64) float64 {
	return func(x float64) float64 { return min(x-j, 0) }
}
func after(j float64) func(float64) float64 {
	return func(x float64) float64 { return max(x-j, 0) }
}
func between(a, b float64) func(float64) float64 {
	return func(x float64) float64 { return (min(max(x, a), b) - a) / (b - a) }
}

func different(xs []float64) []float64 {
	z := slices.Clone(xs)
	slices.Sort(z)
	return slices.Compact(z)
}

// Evidence D and C: the fit is the least-squares fit of its own join (QR
// decomposition of gonum/mat v0.17.0), and no join of a dense search does
// better. Hudson (1966) from memory.
func TestBrokenLineIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs, ys := drawPoints(t)
		var b curve.BrokenLine
		succeeds(t, b.Fit(xs, ys))
		z := different(xs)
		lo, hi := z[1], z[len(z)-2]
		if !(b.Join >= lo && b.Join <= hi) {
			t.Fatalf("join at %v, want %v to %v", b.Join, lo, hi)
		}
		small := 1e-18 * sumOfSquares(ys)
		profile := func(j float64) float64 { return leastSquares(xs, ys, constant, before(j), after(j)) }
		if want := profile(b.Join); !near(b.RSS(), want, 1e-9*want+small) {
			t.Fatalf("RSS at the join %v: got %v, want %v", b.Join, b.RSS(), want)
		}
		const places = 400
		for i := range places + 1 {
			j := lo + (hi-lo)*float64(i)/places
			if rss := profile(j); !(b.RSS() <= rss*(1+1e-9)+small) {
				t.Fatalf("join at %v leaves %v, less than %v at %v", j, rss, b.RSS(), b.Join)
			}
		}
		for _, j := range z[1 : len(z)-1] {
			if rss := profile(j); !(b.RSS() <= rss*(1+1e-9)+small) {
				t.Fatalf("join at the point %v leaves %v, less than %v at %v", j, rss, b.RSS(), b.Join)
			}
		}
	})
}

// Evidence D: points on two lines give the lines back.
func TestBrokenLineRecoversItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs, _ := drawPoints(t)
		z := different(xs)
		lo, hi := z[1], z[len(z)-2]
		width := z[len(z)-1] - z[0]
		want := curve.BrokenLine{
			Join:  lo + (hi-lo)*rapid.Float64Range(0, 1).Draw(t, "join"),
			Level: rapid.Float64Range(-10, 10).Draw(t, "level"),
			Left:  rapid.Float64Range(-10, 10).Draw(t, "left") / width,
		}
		bend := rapid.Float64Range(0.1, 10).Draw(t, "bend") / width
		if rapid.Bool().Draw(t, "downward") {
			bend = -bend
		}
		want.Right = want.Left + bend
		var ys []float64
		for _, x := range xs {
			ys = append(ys, want.Predict(x))
		}
		var b curve.BrokenLine
		succeeds(t, b.Fit(xs, ys))
		// Rounding of y by 1e-15 and of x by 1e-16 of their sizes, over the
		// narrowest line and the smallest bend drawn.
		top := 20 + math.Abs(z[0]/width)*20
		if !near(b.Join, want.Join, 1e-11*top*width) || !near(b.Level, want.Level, 1e-11*top) ||
			!near(b.Left, want.Left, 1e-11*top/width) || !near(b.Right, want.Right, 1e-11*top/width) {
			t.Fatalf("got %v %v %v %v, want %v %v %v %v",
				b.Join, b.Level, b.Left, b.Right, want.Join, want.Level, want.Left, want.Right)
		}
	})
}
