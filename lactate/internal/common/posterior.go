package common

import (
	"math"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
)

// A Posterior is the distribution of a shift, or of a sum of shifts.
type Posterior interface {
	Below(d float64) float64    // probability of less than d
	Quantile(q float64) float64 // infinite if nothing but the prior ends it
	Mean() float64
	StdDev() float64
	// Detectable is the smallest true value that a like pair of tests would tell from zero
	// with a probability of power.
	Detectable(confidence, power float64) float64
}

// studentPosterior is Student's t about a shift, as least squares gives it.
type studentPosterior struct{ shift, error, dof float64 }

func (s *studentPosterior) Below(d float64) float64 {
	return uncertain.Student(s.dof).CDF((d - s.shift) / s.error)
}

func (s *studentPosterior) Quantile(q float64) float64 {
	if q < 0.5 { // symmetric to the bit
		return s.shift - s.error*uncertain.Student(s.dof).Quantile(1-q)
	}
	return s.shift + s.error*uncertain.Student(s.dof).Quantile(q)
}

func (s *studentPosterior) Mean() float64 { return s.shift }

func (s *studentPosterior) StdDev() float64 { return s.error }

func (s *studentPosterior) Detectable(confidence, power float64) float64 {
	return s.error * uncertain.Detectable(s.dof, 1-confidence, power)
}

// convexPosterior is the posterior on convex shapes.
type convexPosterior struct {
	curve.ShiftPosterior
	dof                  float64 // of the scale of the noise, beside the days that are known
	openBelow, openAbove bool
}

func (m *convexPosterior) Below(d float64) float64 { return m.CDF(d) }

func (m *convexPosterior) Quantile(q float64) float64 {
	switch {
	case q < 0.5 && m.openBelow:
		return math.Inf(-1)
	case q > 0.5 && m.openAbove:
		return math.Inf(1)
	}
	return m.ShiftPosterior.Quantile(q)
}

// Detectable takes the distances from the mean to the quantiles for what another pair
// would show: the one that must not reach zero, and the one that the power allows. They
// add up to more since the scale of the noise is known from this pair alone, and learnt
// anew by the other: by as much as with Student's t.
func (m *convexPosterior) Detectable(confidence, power float64) float64 {
	tail, inner := (1-confidence)/2, m.ShiftPosterior
	size := (inner.Quantile(1-tail) - inner.Quantile(tail) + inner.Quantile(power) - inner.Quantile(1-power)) / 2
	if m.dof > 0 {
		t := uncertain.Student(m.dof)
		if sum := t.Quantile(1-tail) + t.Quantile(power); sum > 0 {
			size *= uncertain.Detectable(m.dof, 1-confidence, power) / sum
		}
	}
	return max(size, 0)
}
