package curve_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/mat"
)

// Kind D: the posterior of a weighted sum of the shifts has the mean and the variance
// that their means and covariance make, turned round if the weights are, and is a
// shift's own if its weight is the only one.
func TestConvexShiftedSum(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	var c curve.ConvexShifted
	succeeds(t, c.Fit(movedTests(rng, 4, 0.008)))
	var cov mat.SymDense
	c.Covariance(&cov)
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol) {
			t.Errorf("%s: got %v, want %v", what, got, want)
		}
	}
	for _, w := range [][]float64{{0.2, 0.3, 0.5}, {-1, 0, 2}, {1, -1, 0}} {
		p, mean := c.Sum(w), 0.0
		for k, v := range w {
			mean += v * c.Shift(k+1).Mean()
		}
		v := mat.NewVecDense(3, w)
		sd := math.Sqrt(mat.Inner(v, &cov, v))
		near("mean", p.Mean(), mean, 0.02*sd)
		near("standard deviation", p.StdDev(), sd, 0.02*sd)
		other := c.Sum([]float64{-w[0], -w[1], -w[2]})
		for _, q := range []float64{0.05, 0.5, 0.9} {
			near("turned round", other.Quantile(1-q), -p.Quantile(q), 0.01*sd)
		}
	}
	for g, w := range [][]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} {
		if own := c.Shift(g + 1); c.Sum(w).Quantile(0.3) != own.Quantile(0.3) {
			t.Errorf("group %d is not its own", g+1)
		}
	}
	own, twice := c.Shift(2), c.Sum([]float64{0, -2, 0})
	for _, q := range []float64{0.1, 0.5, 0.8} {
		near("minus twice", twice.Quantile(q), -2*own.Quantile(1-q), 1e-9)
	}
	near("its mean", twice.Mean(), -2*own.Mean(), 1e-12)
	near("its standard deviation", twice.StdDev(), 2*own.StdDev(), 1e-12)
	for _, w := range [][]float64{nil, {1, 2}, {0, 0, 0}, {1, math.NaN(), 0}} {
		if p := c.Sum(w); !math.IsNaN(p.Quantile(0.5)) || !math.IsNaN(p.CDF(0)) {
			t.Errorf("%v: median %v, want nothing known", w, p.Quantile(0.5))
		}
	}
}
