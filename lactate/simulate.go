package lactate

import (
	"math"
	"math/rand/v2"

	"example.com/steptest/lactate/internal/reading"
	"example.com/steptest/lactate/internal/uncertain"
)

// smallest lactate that a simulated sample may have (mmol/L); analysers print
// no less, and zero means lost.
const smallestLactate = 0.1

// A model is a fitted test to draw simulated tests from: true values, their
// standard deviations under the stated noise, and what the residuals say of
// the scale.
type model struct {
	truth, sigma []float64 // of the stages
	rest         float64   // standard deviation of the resting sample
	recovery     []float64 // standard deviations of the recovery samples
	scale        uncertain.Scale
}

func (a *Analysis) model() model {
	t, noise := a.test, a.opts.Noise
	n := len(a.stages)
	m := model{truth: make([]float64, n), sigma: make([]float64, n)}
	for i, s := range a.stages {
		y := max(a.Curve.Predict(s.Intensity), smallestLactate)
		m.truth[i] = y
		m.sigma[i] = noise.Stage(s, y, reading.Slope(a.Curve, s.Intensity, a.Lowest, a.Highest))
		r := (s.Lactate - y) / m.sigma[i]
		m.scale.Sum += r * r
	}
	m.rest = math.Sqrt(noise.variance(t.Rest))
	for _, r := range t.Recovery {
		m.recovery = append(m.recovery, math.Sqrt(noise.variance(r.Lactate)))
	}
	m.scale.Prior = noise.PriorWeight()
	m.scale.DoF = float64(reading.DegreesOfFreedom(a.Curve))
	return m
}

// simulated draws a test into dst, whose slices have the right lengths, and returns the
// scale of its noise.
func (m *model) simulated(t Test, dst *Test, ys []float64, rng *rand.Rand) float64 {
	s := m.scale.Draw(rng)
	for i, y := range m.truth {
		v := max(y+s*m.sigma[i]*rng.NormFloat64(), smallestLactate)
		dst.Stages[i].Lactate = v
		ys[i] = v
	}
	m.others(t, dst, s, rng)
	return s
}

// others draws the samples at rest and in recovery.
func (m *model) others(t Test, dst *Test, s float64, rng *rand.Rand) {
	if t.Rest > 0 {
		dst.Rest = max(t.Rest+s*m.rest*rng.NormFloat64(), smallestLactate)
	}
	for i, r := range t.Recovery {
		dst.Recovery[i].Lactate = max(r.Lactate+s*m.recovery[i]*rng.NormFloat64(), smallestLactate)
	}
}
