package common

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Exponential is one exponential through several tests, with the covariance of the shifts.
type Exponential struct {
	curve.Shifted
	// FitErrors are the standard errors of the shifts from the residuals alone,
	// σ²(JᵀJ)⁻¹ with σ² = RSS/ν, as nonlinear least squares reports them.
	FitErrors []float64
	// cov is the covariance of shifts 1, 2, … under the stated noise and the
	// residuals: the sandwich (JᵀJ)⁻¹ JᵀΣJ (JᵀJ)⁻¹ times the squared scale.
	cov *mat.SymDense
	dof float64 // of Student's t that goes with cov
}

// fitExponential fits one exponential by least squares.
func fitExponential(p Points) (*Exponential, error) {
	e := new(Exponential)
	if err := e.Fit(p.Xs, p.Ys, p.Groups); err != nil {
		return nil, err
	}
	if !(e.B*e.C > 0 && e.C > 0) {
		return nil, ErrUnbent
	}
	return e, e.spread(p)
}

// spread computes the standard errors.
func (e *Exponential) spread(p Points) error {
	n, k := len(p.Xs), len(e.Shifts)
	// Parameters in this order: A, log B, C, shifts 1 … k−1. The curve's
	// derivatives by them, with e = B·exp(C·(x − δ)): 1, e, (x − δ − x̄)·e
	// and −C·e. Measuring x from x̄ in the third mixes it with the second,
	// which leaves the shifts' part of the covariance alone and the matrix
	// well conditioned.
	var w uncertain.Sandwich
	w.Begin(k + 2)
	centre := 0.0
	for _, x := range p.Xs {
		centre += x / float64(n)
	}
	sc := uncertain.Scale{Prior: p.Prior, DoF: float64(e.DegreesOfFreedom())}
	row := make([]float64, k+2)
	for i, x := range p.Xs {
		g := p.Groups[i]
		rise := e.Predict(x, g) - e.A
		clear(row)
		row[0], row[1], row[2] = 1, rise, (x-e.Shifts[g]-centre)*rise
		if g > 0 {
			row[2+g] = -e.C * rise
		}
		sd := p.Deviation(i, e.A+rise, e.C*rise)
		w.Add(sd, row...)
		r := p.Ys[i] - e.A - rise
		sc.Sum += r * r / (sd * sd)
	}
	factor, dof := sc.Mean()
	e.dof = dof
	if err := w.Solve(factor); err != nil {
		return fmt.Errorf("the stages do not determine the shifts: %w", err)
	}
	residual := math.NaN()
	if e.DegreesOfFreedom() > 0 {
		residual = e.RSS() / float64(e.DegreesOfFreedom())
	}
	e.FitErrors = make([]float64, k)
	if k > 1 {
		e.cov = mat.NewSymDense(k-1, nil)
	}
	for a := 1; a < k; a++ {
		e.FitErrors[a] = w.FitError(2+a, residual)
		for b := a; b < k; b++ {
			v := w.Covariance(2+a, 2+b)
			if !(math.Abs(v) <= math.MaxFloat64) || a == b && !(v > 0) {
				return ErrImmense
			}
			e.cov.SetSym(a-1, b-1, v)
		}
	}
	return nil
}

// Covariance implements [Shape].
func (e *Exponential) Covariance() *mat.SymDense { return e.cov }

// Sum implements [Shape].
func (e *Exponential) Sum(coefficients []float64, dayVariance float64) Posterior {
	w := mat.NewVecDense(len(coefficients), coefficients)
	measured := mat.Inner(w, e.cov, w)
	shift := mat.Dot(w, mat.NewVecDense(len(coefficients), e.Shifts[1:]))
	return &studentPosterior{shift, math.Sqrt(measured + dayVariance), uncertain.Satterthwaite(measured, dayVariance, e.dof)}
}

// weights returns one over the variance of each point about the exponential.
func (e *Exponential) weights(p Points) []float64 {
	weights := make([]float64, len(p.Xs))
	for i, x := range p.Xs {
		y := e.Predict(x, p.Groups[i])
		sd := p.Deviation(i, y, e.C*(y-e.A))
		weights[i] = 1 / (sd * sd)
	}
	return weights
}

// Same is the F test of an exponential of its own for each test, three parameters each,
// against the common one. It is NaN if too few points are left for it, or a test has no
// exponential.
func (e *Exponential) Same(p Points) (f, pValue float64) {
	tests, separate := len(e.Shifts), 0.0
	for g := range tests {
		own, err := fitExponential(p.only(g))
		if err != nil {
			return math.NaN(), math.NaN()
		}
		separate += own.RSS()
	}
	extra := float64(2 * (tests - 1))
	left := float64(len(p.Xs) - 3*tests)
	if left <= 0 || !(separate > 0) {
		return math.NaN(), math.NaN()
	}
	f = max(0, e.RSS()-separate) / extra / (separate / left)
	return f, distuv.F{D1: extra, D2: left}.Survival(f)
}
