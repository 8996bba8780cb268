package lactate

import (
	"cmp"
	"math"

	"example.com/steptest/lactate/internal/common"
)

// Judgement weighs a shift against one kind of variation, by the posterior of the shift under a
// flat prior.
type Judgement struct {
	// Shift along the intensity axis, in the tests' unit: the mean, with the central
	// interval of Options.Confidence. Above zero is to the right.
	Shift Estimate `json:"shift"`
	// StandardError of the shift.
	StandardError float64 `json:"standard_error"`
	// Probability that the curve lies to the right: more intensity at the same lactate.
	Probability float64 `json:"probability_right"`
	// Grade is Faster or Slower exactly if the interval leaves zero out: at the default
	// confidence of 90 %, if Probability is at least 95 % or at most 5 %.
	Grade Grade `json:"grade"`
	// BeyondMeaningful is the probability that the curve lies to the side of Grade, or of Shift, by more
	// than CompareOptions.Meaningful. Zero if no such size was named.
	BeyondMeaningful float64 `json:"probability_beyond_meaningful,omitzero"`
	// Detectable is the smallest true shift that two tests like these grade Faster or Slower
	// with probability CompareOptions.Power.
	Detectable float64 `json:"detectable_shift"`

	of common.Posterior
}

// Beyond returns the probability that the curve lies to the right by more than size, in the
// tests' unit of intensity, or to the left if size is below zero. Beyond(0) is Probability. It
// is NaN for the zero Judgement.
func (j Judgement) Beyond(size float64) float64 {
	switch {
	case j.of == nil:
		return math.NaN()
	case size < 0:
		return j.of.Below(size) // to the left of it
	}
	return 1 - j.of.Below(size)
}

// betweenDays is the variance that days add to a shift: each of its two tests has one of its own.
// The conversion keeps the last bit the same where a machine would fuse what follows.
func betweenDays(day float64) float64 { return 2 * float64(day*day) }

// judge weighs a shift; meaningful is a size in its unit, or zero.
func (o CompareOptions) judge(p common.Posterior, meaningful float64) Judgement {
	j := Judgement{
		Shift:         o.estimate(p),
		StandardError: p.StdDev(),
		Detectable:    p.Detectable(o.Confidence, o.Power),
		of:            p,
	}
	j.Probability = j.Beyond(0)
	j.Grade = gradeOf(j.Shift, j.Probability)
	if meaningful > 0 {
		j.BeyondMeaningful = j.Beyond(math.Copysign(meaningful, cmp.Or(float64(j.Grade), j.Shift.Value)))
	}
	return j
}

// estimate returns the mean of a posterior with its central interval.
func (o CompareOptions) estimate(p common.Posterior) Estimate {
	tail := (1 - o.Confidence) / 2
	return Estimate{p.Mean(), p.Quantile(tail), p.Quantile(1 - tail)}
}
