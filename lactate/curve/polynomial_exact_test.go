package curve_test

import (
	"math"
	"math/big"
	"testing"

	"example.com/steptest/lactate/curve"
	"pgregory.net/rapid"
)

// exactFit solves the normal equations of a weighted polynomial fit in exact
// rational arithmetic.
func exactFit(xs, ys, ws []float64, degree int) []*big.Rat {
	n := degree + 1
	rat := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	a := make([][]*big.Rat, n)
	for j := range a {
		a[j] = make([]*big.Rat, n+1)
		for k := range a[j] {
			a[j][k] = new(big.Rat)
		}
	}
	for i := range xs {
		x, wp := rat(xs[i]), rat(ws[i])
		var moments []*big.Rat // w·x^k
		for range 2*n - 1 {
			moments = append(moments, wp)
			wp = new(big.Rat).Mul(wp, x)
		}
		for j := range n {
			for k := range n {
				a[j][k].Add(a[j][k], moments[j+k])
			}
			a[j][n].Add(a[j][n], new(big.Rat).Mul(moments[j], rat(ys[i])))
		}
	}
	for j := range n { // positive definite: the pivots are not zero
		inv := new(big.Rat).Inv(a[j][j])
		for k := j; k <= n; k++ {
			a[j][k] = new(big.Rat).Mul(a[j][k], inv)
		}
		for i := range n {
			if i == j {
				continue
			}
			f := a[i][j]
			for k := j; k <= n; k++ {
				a[i][k] = new(big.Rat).Sub(a[i][k], new(big.Rat).Mul(f, a[j][k]))
			}
		}
	}
	b := make([]*big.Rat, n)
	for j := range b {
		b[j] = a[j][n]
	}
	return b
}

func exactValue(b []*big.Rat, x float64) float64 {
	s, r := new(big.Rat), new(big.Rat).SetFloat64(x)
	for k := len(b) - 1; k >= 0; k-- {
		s.Add(s.Mul(s, r), b[k])
	}
	v, _ := s.Float64()
	return v
}

// Evidence D: exact rational arithmetic. The curve is right at the points
// wherever they lie, also if they crowd together.
func TestPolynomialExact(t *testing.T) {
	for _, crowd := range []string{"spread", "crowded"} {
		t.Run(crowd, rapid.MakeCheck(func(t *rapid.T) {
			degree := rapid.IntRange(1, 6).Draw(t, "degree")
			n := rapid.IntRange(degree+1, 11).Draw(t, "n")
			x := rapid.Float64Range(-100, 100).Draw(t, "first")
			var xs, ys, ws []float64
			for range n {
				xs = append(xs, x)
				ys = append(ys, rapid.Float64Range(-10, 10).Draw(t, "y"))
				ws = append(ws, rapid.Float64Range(0.1, 10).Draw(t, "w"))
				gap := rapid.Float64Range(0.3, 1).Draw(t, "gap")
				if crowd == "crowded" {
					gap *= math.Pow(10, float64(rapid.IntRange(-5, 1).Draw(t, "decade")))
				}
				x += gap
			}
			p := curve.Polynomial{Degree: degree}
			succeeds(t, p.FitWeighted(xs, ys, ws))
			b := exactFit(xs, ys, ws, degree)
			var want []float64
			for _, x := range xs {
				want = append(want, exactValue(b, x))
			}
			digits := 2e-14 // of ys up to 10
			if crowd == "crowded" {
				digits = 2e-13 // the three digits that Fit may lose before it turns to double-double
			}
			steepest := 0.0
			for _, x := range xs {
				steepest = max(steepest, math.Abs(p.PredictDerivative(x)))
			}
			for i, x := range xs {
				// Every x is rounded: so is the curve, by as much as its slope
				// there, and a point that moves tilts the curve at the others.
				tol := digits*10 + 4e-16*steepest*(math.Abs(x)+xs[n-1]-xs[0])
				if got := p.Predict(x); !near(got, want[i], tol) {
					t.Fatalf("at %v: got %v, want %v", x, got, want[i])
				}
			}
		}))
	}
}
