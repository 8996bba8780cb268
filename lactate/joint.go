package lactate

import (
	"errors"
	"fmt"
	"math"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
	"gonum.org/v1/gonum/mat"
)

// A joint fit is one exponential shape through several tests, each shifted
// along the intensity axis, with the covariance of the shifts.
type joint struct {
	curve.Shifted
	stages []Stage // of all tests, sampled
	group  []int   // the test that each belongs to
	// fitError is the standard error of each shift from the residuals alone,
	// σ²(JᵀJ)⁻¹ with σ² = RSS/ν, as nonlinear least squares reports it.
	fitError []float64
	// cov is the covariance of shifts 1, 2, … under the stated noise and the
	// residuals: the sandwich (JᵀJ)⁻¹ JᵀΣJ (JᵀJ)⁻¹ times the squared scale.
	cov *mat.SymDense
	dof float64 // of Student's t that goes with cov
}

func fitJoint(tests []Test, noise Noise) (*joint, error) {
	j := new(joint)
	for g, t := range tests {
		for _, s := range t.Sampled() {
			j.stages = append(j.stages, s)
			j.group = append(j.group, g)
		}
	}
	xs, ys := make([]float64, len(j.stages)), make([]float64, len(j.stages))
	for i, s := range j.stages {
		xs[i], ys[i] = s.Intensity, s.Lactate
	}
	if err := j.Fit(xs, ys, j.group); err != nil {
		return nil, fmt.Errorf("lactate: common shape: %w", err)
	}
	if !(j.B*j.C > 0 && j.C > 0) {
		return nil, fmt.Errorf("lactate: common shape: %w: it does not bend upward, so that a shift means nothing", ErrShape)
	}
	return j, j.spread(noise)
}

// spread computes the standard errors.
func (j *joint) spread(noise Noise) error {
	n, k := len(j.stages), len(j.Shifts)
	// Parameters in this order: A, log B, C, shifts 1 … k−1. The curve's
	// derivatives by them, with e = B·exp(C·(x − δ)): 1, e, (x − δ − x̄)·e
	// and −C·e. Measuring x from x̄ in the third mixes it with the second,
	// which leaves the shifts' part of the covariance alone and the matrix
	// well conditioned.
	var w uncertain.Sandwich
	w.Begin(k + 2)
	centre := 0.0
	for _, s := range j.stages {
		centre += s.Intensity / float64(n)
	}
	sc := uncertain.Scale{Weight: noise.PriorWeight(), DoF: float64(j.DegreesOfFreedom())}
	row := make([]float64, k+2)
	for i, s := range j.stages {
		g := j.group[i]
		e := j.Predict(s.Intensity, g) - j.A
		clear(row)
		row[0], row[1], row[2] = 1, e, (s.Intensity-j.Shifts[g]-centre)*e
		if g > 0 {
			row[2+g] = -j.C * e
		}
		sd := noise.Stage(s, max(j.A+e, smallestLactate), j.C*e)
		w.Add(sd, row...)
		r := s.Lactate - j.A - e
		sc.Sum += r * r / (sd * sd)
	}
	factor, dof := sc.Mean()
	j.dof = dof
	if err := w.Solve(factor); err != nil {
		return fmt.Errorf("lactate: common shape: the stages do not determine the shifts: %w", err)
	}
	residual := math.NaN()
	if j.DegreesOfFreedom() > 0 {
		residual = j.RSS() / float64(j.DegreesOfFreedom())
	}
	j.fitError = make([]float64, k)
	if k > 1 {
		j.cov = mat.NewSymDense(k-1, nil)
	}
	for a := 1; a < k; a++ {
		j.fitError[a] = w.FitError(2+a, residual)
		for b := a; b < k; b++ {
			v := w.Covariance(2+a, 2+b)
			if !finite(v) || a == b && !(v > 0) {
				return errImmense
			}
			j.cov.SetSym(a-1, b-1, v)
		}
	}
	return nil
}

var errImmense = errors.New("lactate: the numbers of the tests, or of their noise, are too large or too small to reckon with")
