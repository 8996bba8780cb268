package common

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Trend is a straight line through the shifts of dated tests from the first test's true
// place, by generalised least squares: it weighs measurement error and the variation from
// day to day.
type Trend struct {
	shape Shape
	ages  *mat.VecDense // of tests 1, 2, …, since the first
	days  float64       // variance of one test's day
	cov   *mat.SymDense // of the shifts, with the days
	line  *mat.VecDense // weights of the shifts whose sum is the slope: Σ⁻¹t / tᵀΣ⁻¹t
}

// NewTrend draws the line, given the ages of all tests but the first.
func NewTrend(shape Shape, ages []float64, days float64) (*Trend, error) {
	n := len(ages)
	t := &Trend{shape, mat.NewVecDense(n, ages), days, mat.NewSymDense(n, nil), new(mat.VecDense)}
	measured := shape.Covariance()
	for a := range n {
		for b := a; b < n; b++ {
			d := days // the first test's day is in every shift
			if a == b {
				d *= 2
			}
			t.cov.SetSym(a, b, measured.At(a, b)+d)
		}
	}
	if err := t.solve(t.line, t.ages); err != nil {
		return nil, err
	}
	t.line.ScaleVec(1/mat.Dot(t.ages, t.line), t.line)
	return t, nil
}

func (t *Trend) solve(dst *mat.VecDense, v mat.Vector) error {
	var chol mat.Cholesky
	if !chol.Factorize(t.cov) {
		return errors.New("the covariance of the shifts is not positive definite")
	}
	return chol.SolveVecTo(dst, v)
}

// Slope is the posterior of the slope by age.
func (t *Trend) Slope() Posterior { return t.sum(t.line, 0) }

// Expected is the posterior of the true place of a new test on its day, as a shift from the
// first test: the line carried on, with what the tests say of the first test's day taken
// into account (best linear unbiased prediction).
func (t *Trend) Expected(age float64) (Posterior, error) {
	// Covariance of the new shift with the others: the first test's day.
	common := mat.NewVecDense(t.ages.Len(), nil)
	for i := range t.ages.Len() {
		common.SetVec(i, t.days)
	}
	var weights mat.VecDense
	if err := t.solve(&weights, common); err != nil {
		return nil, err
	}
	gap := age - mat.Dot(&weights, t.ages)
	weights.AddScaledVec(&weights, gap, t.line)
	return t.sum(&weights, 1), nil
}

// sum is the posterior of a weighted sum of the shifts, or of what it leaves open of the
// place of a new test if there is one. The day of the first test is in every shift, and in
// the new place, which has its own too.
func (t *Trend) sum(weights *mat.VecDense, fresh float64) Posterior {
	w := weights.RawVector().Data
	first, others := fresh, fresh
	for _, v := range w {
		first -= v
		others += float64(v * v)
	}
	days := t.days * (float64(first*first) + others)
	if mat.Norm(weights, 1) == 0 { // the days alone
		return &studentPosterior{0, math.Sqrt(days), math.Inf(1)}
	}
	return t.shape.Sum(w, days)
}
