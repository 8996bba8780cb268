package uncertain

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// Sandwich is the covariance of the parameters of an unweighted least-squares fit
// to samples of unequal errors,
//
//	(JᵀJ)⁻¹ JᵀΣJ (JᵀJ)⁻¹
//
// J holds the derivatives of the curve by the parameters, one row for each
// sample, and Σ the variances of the samples (White 1980, Econometrica 48:817–838,
// from memory). The zero value is ready for Begin. It keeps its memory from one fit
// to the next.
type Sandwich struct {
	params       int
	rows, scaled []float64 // of J: columns of unit length, and those times the deviations
	sd           []float64
	norms        []float64 // of the columns, whose units differ
	factor       float64

	jac, weighted mat.Dense
	middle, half  mat.Dense
	cov           mat.Dense
	jtj, inverse  mat.SymDense
	chol          mat.Cholesky
}

// ErrSingular is returned by Solve for samples that do not determine the
// parameters.
var ErrSingular = errors.New("the samples do not determine the parameters")

// Begin starts a fit of a number of parameters.
func (s *Sandwich) Begin(params int) {
	if params != s.params {
		s.params = params
		s.jtj.Reset()
		s.inverse.Reset()
		s.chol.Reset()
	}
	s.rows, s.sd = s.rows[:0], s.sd[:0]
}

// Add adds a sample with its standard deviation and its row of J.
func (s *Sandwich) Add(sd float64, row ...float64) {
	s.rows, s.sd = append(s.rows, row...), append(s.sd, sd)
}

// Solve computes the covariance, with all standard deviations multiplied by a
// factor.
func (s *Sandwich) Solve(factor float64) error {
	n, k := len(s.sd), s.params
	s.factor = factor
	s.jac.SetRawMatrix(blas64.General{Rows: n, Cols: k, Stride: k, Data: s.rows})
	s.norms = s.norms[:0]
	for c := range k {
		norm := blas64.Nrm2(blas64.Vector{N: n, Inc: k, Data: s.rows[c:]})
		s.norms = append(s.norms, norm)
		for i := range n {
			s.rows[i*k+c] /= norm
		}
	}
	s.jtj.SymOuterK(1, s.jac.T())
	if !s.chol.Factorize(&s.jtj) {
		return ErrSingular
	}
	if err := s.chol.InverseTo(&s.inverse); err != nil {
		return err
	}
	s.scaled = append(s.scaled[:0], s.rows...)
	for i, sd := range s.sd {
		for c := range k {
			s.scaled[i*k+c] *= sd
		}
	}
	s.weighted.SetRawMatrix(blas64.General{Rows: n, Cols: k, Stride: k, Data: s.scaled})
	for _, m := range []*mat.Dense{&s.middle, &s.half, &s.cov} {
		m.Reset()
	}
	s.middle.Mul(s.weighted.T(), &s.weighted)
	s.half.Mul(&s.inverse, &s.middle)
	s.cov.Mul(&s.half, &s.inverse)
	return nil
}

// Covariance returns that of two parameters.
func (s *Sandwich) Covariance(a, b int) float64 {
	return s.factor * s.factor * s.cov.At(a, b) / (s.norms[a] * s.norms[b])
}

// FitError returns the standard error of a parameter by the variance of the
// residuals alone, σ²(JᵀJ)⁻¹, as nonlinear least squares reports it.
func (s *Sandwich) FitError(a int, residual float64) float64 {
	return math.Sqrt(residual*s.inverse.At(a, a)) / s.norms[a]
}
