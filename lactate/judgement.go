package lactate

import (
	"math"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
)

// Judgement weighs a shift against one kind of variation. All of it comes from one
// posterior distribution of the shift, whose prior is flat.
type Judgement struct {
	// Shift along the intensity axis, in the tests' unit: the mean, with the central
	// interval of Options.Confidence. Above zero is to the right.
	Shift Estimate `json:"shift"`
	// StandardError of the shift.
	StandardError float64 `json:"standard_error"`
	// Probability that the curve lies to the right: more intensity at the same
	// lactate.
	Probability float64 `json:"probability_right"`
	// Grade says it in words. It is Faster or Slower exactly if the interval leaves
	// zero out: at the default confidence of 90 %, if Probability is at least 95 %
	// or at most 5 %.
	Grade Grade `json:"grade"`
	// BeyondMeaningful is the probability that the curve lies to the side of Shift by
	// more than CompareOptions.Meaningful. Zero if no such size was named.
	BeyondMeaningful float64 `json:"probability_beyond_meaningful,omitzero"`
	// Detectable is the smallest true shift that is graded Faster or Slower with
	// probability CompareOptions.Power by two tests like these.
	Detectable float64 `json:"detectable_shift"`

	of posterior
}

// Beyond returns the probability that the curve lies to the right by more than size,
// in the tests' unit of intensity; if size is below zero, to the left by more than
// that. Beyond(0) is Probability. It is NaN for the zero Judgement.
func (j Judgement) Beyond(size float64) float64 {
	switch {
	case j.of == nil:
		return math.NaN()
	case size < 0:
		return j.of.below(size)
	}
	return 1 - j.of.below(size)
}

// A posterior is the distribution of a shift, or of a sum of shifts.
type posterior interface {
	below(d float64) float64
	quantile(q float64) float64 // infinite if nothing but the prior ends it
	mean() float64
	sd() float64
	detectable(confidence, power float64) float64
}

// judge weighs a shift; meaningful is a size in its unit, or zero.
func (o CompareOptions) judge(p posterior, meaningful float64) Judgement {
	tail := (1 - o.Confidence) / 2
	j := Judgement{
		Shift:         Estimate{p.mean(), p.quantile(tail), p.quantile(1 - tail)},
		StandardError: p.sd(),
		Detectable:    p.detectable(o.Confidence, o.Power),
		of:            p,
	}
	j.Probability = j.Beyond(0)
	switch p := j.Probability; {
	case j.Shift.Low > 0:
		j.Grade = Faster
	case j.Shift.High < 0:
		j.Grade = Slower
	case p >= probable:
		j.Grade = ProbablyFaster
	case p <= 1-probable:
		j.Grade = ProbablySlower
	}
	if meaningful > 0 {
		j.BeyondMeaningful = j.Beyond(math.Copysign(meaningful, j.Shift.Value))
	}
	return j
}

// student is Student's t about a shift, as least squares gives it.
type student struct{ shift, error, dof float64 }

func (s *student) below(d float64) float64 {
	return uncertain.Student(s.dof).CDF((d - s.shift) / s.error)
}

func (s *student) quantile(q float64) float64 {
	if q < 0.5 { // symmetric to the bit
		return s.shift - s.error*uncertain.Student(s.dof).Quantile(1-q)
	}
	return s.shift + s.error*uncertain.Student(s.dof).Quantile(q)
}

func (s *student) mean() float64 { return s.shift }

func (s *student) sd() float64 { return s.error }

func (s *student) detectable(confidence, power float64) float64 {
	return s.error * uncertain.Detectable(s.dof, 1-confidence, power)
}

// moved is the posterior on convex shapes.
type moved struct {
	curve.ShiftPosterior
	dof                  float64 // of the scale of the noise, beside the days that are known
	openBelow, openAbove bool
}

func (m *moved) below(d float64) float64 { return m.CDF(d) }

func (m *moved) quantile(q float64) float64 {
	switch {
	case q < 0.5 && m.openBelow:
		return math.Inf(-1)
	case q > 0.5 && m.openAbove:
		return math.Inf(1)
	}
	return m.Quantile(q)
}

func (m *moved) mean() float64 { return m.Mean() }

func (m *moved) sd() float64 { return m.StdDev() }

// detectable takes the distances from the mean to the quantiles for what another pair
// would show: the one that must not reach zero, and the one that the power allows. They
// add up to more since the scale of the noise is known from this pair alone, and learnt
// anew by the other: by as much as with Student's t.
func (m *moved) detectable(confidence, power float64) float64 {
	tail := (1 - confidence) / 2
	size := (m.Quantile(1-tail) - m.Quantile(tail) + m.Quantile(power) - m.Quantile(1-power)) / 2
	if m.dof > 0 {
		t := uncertain.Student(m.dof)
		if sum := t.Quantile(1-tail) + t.Quantile(power); sum > 0 {
			size *= uncertain.Detectable(m.dof, 1-confidence, power) / sum
		}
	}
	return max(size, 0)
}
