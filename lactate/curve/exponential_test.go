package curve_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/steptest/lactate/curve"
	"pgregory.net/rapid"
)

// leastOnGrid returns the smallest residual sum of squares of
// y = a + b·exp(c·x) over a dense grid of scaled rates: a search that shares
// nothing with the fit.
func leastOnGrid(xs, ys []float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range xs {
		lo, hi = min(lo, x), max(hi, x)
	}
	n := float64(len(xs))
	least := math.Inf(1)
	for k := -1500; k <= 1500; k++ {
		c := math.Copysign(math.Expm1(math.Abs(float64(k))/1500*6), float64(k))
		if k == 0 {
			c = 1e-9
		}
		var sg, sy, sgg, sgy, syy float64
		g := make([]float64, len(xs))
		for i, x := range xs {
			if c > 0 {
				g[i] = math.Exp(c * (x - hi) / (hi - lo))
			} else {
				g[i] = math.Exp(c * (x - lo) / (hi - lo))
			}
			if math.Abs(c) < 1e-3 {
				g[i] = (x - lo) / (hi - lo)
			}
			sg += g[i]
			sy += ys[i]
		}
		for i := range xs {
			a, b := g[i]-sg/n, ys[i]-sy/n
			sgg += a * a
			sgy += a * b
			syy += b * b
		}
		least = min(least, syy-sgy*sgy/sgg)
	}
	return least
}

// D: no rate of a dense grid, scored by code that shares nothing with the fit,
// leaves a smaller residual sum of squares, whatever the points look like.
func TestExponentialIsGlobalOptimum(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var e curve.Exponential
	fitted := 0
	for range 1200 {
		n := 4 + rng.IntN(6)
		xs, ys := make([]float64, n), make([]float64, n)
		kind := rng.IntN(3)
		for i := range xs {
			xs[i] = 1 + 0.04*float64(i) + 0.03*rng.Float64()
			switch kind {
			case 0: // a step test with noise
				ys[i] = 1 + 2e-9*math.Exp(16*xs[i]) + 0.3*rng.NormFloat64()
			case 1: // anything at all
				ys[i] = rng.NormFloat64()
			case 2: // nearly a line
				ys[i] = xs[i] + 0.02*rng.NormFloat64()
			}
		}
		grid := leastOnGrid(xs, ys)
		if err := e.Fit(xs, ys); err != nil {
			if !errors.Is(err, curve.ErrUndetermined) {
				t.Fatal(err)
			}
			continue
		}
		fitted++
		if !(e.RSS() <= grid*(1+1e-9)+1e-14) {
			t.Errorf("kind %d: xs %v ys %v: RSS %.12g at C %g, a dense grid finds %.12g", kind, xs, ys, e.RSS(), e.C, grid)
		}
		rss := 0.0
		for i := range xs {
			r := ys[i] - e.Predict(xs[i])
			rss += r * r
		}
		if !(math.Abs(rss-e.RSS()) <= 1e-9*rss+1e-14) {
			t.Errorf("RSS() = %.15g, residuals give %.15g", e.RSS(), rss)
		}
	}
	if fitted < 800 {
		t.Errorf("only %d of 1200 fitted", fitted)
	}
}

// D: points on a known curve give its parameters back, in any unit.
func TestExponentialRecoversItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(0.1, 400).Draw(t, "lo")
		width := lo * rapid.Float64Range(0.05, 2).Draw(t, "relative width")
		n := rapid.IntRange(4, 12).Draw(t, "n")
		scaled := rapid.Float64Range(0.5, 12).Draw(t, "scaled rate")
		if rapid.Bool().Draw(t, "falling rate") {
			scaled = -scaled
		}
		a := rapid.Float64Range(-5, 5).Draw(t, "A")
		rise := rapid.Float64Range(0.5, 20).Draw(t, "rise")
		c := scaled / width
		b := rise / (math.Exp(c*(lo+width)) - math.Exp(c*lo))
		xs, ys := make([]float64, n), make([]float64, n)
		for i := range xs {
			xs[i] = lo + width*float64(i)/float64(n-1)
			ys[i] = a + b*math.Exp(c*xs[i])
		}
		var e curve.Exponential
		succeeds(t, e.Fit(xs, ys))
		if !(math.Abs(e.C-c) <= 1e-7*math.Abs(c)) {
			t.Errorf("C = %v, want %v", e.C, c)
		}
		for _, x := range []float64{lo, lo + width/3, lo + width} {
			want := a + b*math.Exp(c*x)
			if got := e.Predict(x); !(math.Abs(got-want) <= 1e-8*(math.Abs(want)+rise)) {
				t.Errorf("Predict(%v) = %v, want %v", x, got, want)
			}
		}
	})
}
