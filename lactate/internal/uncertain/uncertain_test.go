package uncertain_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/steptest/lactate/internal/uncertain"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.10g, want %.10g ± %g", what, got, want, tol)
	}
}

// Evidence B, printed tables of Student's t and of the normal distribution; the
// switch from one to the other changes no digit that they print.
func TestHalfWidth(t *testing.T) {
	for _, c := range []struct{ dof, confidence, want float64 }{
		{3, 0.90, 2.353}, {7, 0.90, 1.895}, {7, 0.95, 2.365}, {1, 0.95, 12.706}, {math.Inf(1), 0.90, 1.645}, {2e7, 0.95, 1.960}, {9e6, 0.95, 1.960},
	} {
		near(t, "t", uncertain.HalfWidth(c.dof, c.confidence), c.want, 5e-4)
	}
	near(t, "CDF", uncertain.Student(7).CDF(1.895), 0.95, 5e-5)
}

// D: two equal variances, one with dof and one known, have 4·dof; a known one of
// nothing changes nothing.
func TestSatterthwaite(t *testing.T) {
	near(t, "equal", uncertain.Satterthwaite(2, 2, 5), 20, 1e-12)
	near(t, "none", uncertain.Satterthwaite(2, 0, 5), 5, 1e-12)
	if got := uncertain.Satterthwaite(2, 1, math.Inf(1)); !math.IsInf(got, 1) {
		t.Errorf("of infinity: %v", got)
	}
}

// D: with known noise a shift of z(0.975) + z(0.80) standard errors is seen in
// 80 %; with few degrees of freedom the pairs are drawn.
func TestDetectable(t *testing.T) {
	near(t, "known noise", uncertain.Detectable(math.Inf(1), 0.05, 0.80), 1.959964+0.841621, 1e-6)
	rng := rand.New(rand.NewPCG(1, 2))
	const dof, n = 7, 200_000
	factor := func() float64 {
		chi := 0.0
		for range dof {
			z := rng.NormFloat64()
			chi += z * z
		}
		return math.Sqrt(chi / dof)
	}
	shift, half := uncertain.Detectable(dof, 0.05, 0.80), uncertain.HalfWidth(dof, 0.95)
	seen := 0
	for range n {
		if rng.NormFloat64()+shift*factor() > half*factor() {
			seen++
		}
	}
	near(t, "seen", float64(seen)/n, 0.80, 0.01)
}

// D: a prior of 4 observations and residuals twice as large as stated with 4
// degrees of freedom have a mean square of 2.5; the draws have the mean of the
// scaled inverse χ², (4 + 16)/(8 − 2).
func TestScale(t *testing.T) {
	s := uncertain.Scale{Prior: 4, Sum: 16, DoF: 4}
	scale, dof := s.Mean()
	near(t, "scale", scale, math.Sqrt(2.5), 1e-15)
	near(t, "dof", dof, 8, 0)
	rng := rand.New(rand.NewPCG(3, 4))
	square := 0.0
	const n = 200_000
	for range n {
		d := s.Draw(rng)
		square += d * d / n
	}
	near(t, "mean square", square, 20./6, 0.03)
	certain := uncertain.Scale{Prior: math.Inf(1), Sum: 16, DoF: 4}
	if scale, dof := certain.Mean(); scale != 1 || !math.IsInf(dof, 1) || certain.Draw(rng) != 1 || !certain.Known() {
		t.Errorf("certain: %v, %v", scale, dof)
	}
	if s := (uncertain.Scale{Prior: 0.5}); !s.Known() {
		t.Error("half an observation is none")
	}
	if none := (uncertain.Scale{}); none.Known() || !math.IsNaN(none.Draw(rng)) {
		t.Error("nothing is known, and yet drawn")
	}
}

// D: the k-th of n sorted values stands at (k − ½)/n; NaN do not count.
func TestCentral(t *testing.T) {
	values := []float64{5, math.NaN(), 1, 4, 2, 3}
	low, high := uncertain.Central(values, 0.8) // of five: at 0.1 and 0.9
	near(t, "low", low, 1, 0)
	near(t, "high", high, 5, 0)
	low, high = uncertain.Central([]float64{5, 1, 4, 2, 3}, 0.5)
	near(t, "low", low, 1.75, 1e-15)
	near(t, "high", high, 4.25, 1e-15)
	if low, high := uncertain.Central([]float64{math.NaN()}, 0.9); !math.IsNaN(low) || !math.IsNaN(high) {
		t.Errorf("of nothing: %v to %v", low, high)
	}
	rng := rand.New(rand.NewPCG(5, 6))
	for _, n := range []int{1, 2, 601, 5000} {
		values := make([]float64, n)
		for i := range values {
			values[i] = math.Floor(10 * rng.Float64() * float64(i%7))
		}
		sorted := slices.Sorted(slices.Values(values))
		k := rng.IntN(n)
		near(t, "order statistic", uncertain.Quantile(values, (float64(k)+0.5)/float64(n)), sorted[k], 1e-9)
	}
}

// D: a straight line through x = −1, 0, 1 is a mean and a slope of (y₃ − y₁)/2, so
// that samples of standard deviations 1, 2, 3 give them variances of 14/9 and 10/4
// and a covariance of 8/6. In other units the columns are of other sizes.
func TestSandwich(t *testing.T) {
	var s uncertain.Sandwich
	for _, unit := range []float64{1, 1e6} {
		s.Begin(2)
		for i, x := range []float64{-1, 0, 1} {
			s.Add(float64(i+1), 1, x*unit)
		}
		if err := s.Solve(2); err != nil {
			t.Fatal(err)
		}
		near(t, "mean", s.Covariance(0, 0), 4*14./9, 1e-12)
		near(t, "slope", unit*unit*s.Covariance(1, 1), 4*10./4, 1e-12)
		near(t, "covariance", unit*s.Covariance(0, 1), 4*8./6, 1e-12)
		near(t, "fit error", unit*s.FitError(1, 9), math.Sqrt(9./2), 1e-12)
	}
	s.Begin(3)
	for _, x := range []float64{-1, 0, 1} {
		s.Add(1, 1, x, 2*x)
	}
	if err := s.Solve(1); err == nil {
		t.Error("three parameters from two")
	}
}
