package lactate

import (
	"math"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/crew"
	"example.com/steptest/lactate/internal/reading"
	"example.com/steptest/lactate/internal/uncertain"
)

// fitStages fits a curve to sampled stages in order of intensity, at xs and ys.
// A [curve.Convex] is told the noise of each stage, about the exponential through
// the stages; weights are what it was told, nil for other curves.
func fitStages(c Curve, stages []Stage, xs, ys []float64, noise Noise) (weights []float64, err error) {
	v, ok := c.(*curve.Convex)
	if !ok {
		return nil, reading.Fit(c, xs, ys)
	}
	v.Weight = noise.Weight
	weights = uncertain.Weights(xs, ys, noise.about(stages))
	return weights, v.FitWeighted(xs, ys, weights)
}

// refit fits a curve to other lactates at the stages of the analysis.
func (a *Analysis) refit(c Curve, xs, ys []float64) error {
	v, ok := c.(*curve.Convex)
	if !ok {
		return reading.Fit(c, xs, ys)
	}
	v.Weight = a.opts.Noise.Weight
	return v.FitWeighted(xs, ys, a.weights)
}

// drawPosterior hands over draws from the posterior of a [curve.Convex], each
// with a test simulated about it: methods that read the curve read the draw,
// those that read stages read what such a test might have shown.
func (a *Analysis) drawPosterior(c *curve.Convex, each func(i int, d drawn)) {
	m := a.model()
	type state struct {
		*refit
		draw *curve.Convex
		at   [blockSize]float64
	}
	setup := func() *state { return &state{refit: a.refitter(), draw: new(curve.Convex)} }
	crew.Share(a.opts.done, a.opts.Resamples, blockSize, setup, func(block, from, to int, s *state) {
		s.source.Seed(a.opts.Seed, uint64(a.stream)<<40|uint64(block))
		at := s.at[:to-from]
		uncertain.Strata(at, s.rng) // shapes evenly within a block, independent of another test's
		for i := from; i < to; i++ {
			scale := c.Draw(s.draw, at[i-from], s.rng)
			for k, x := range s.xs {
				y := max(s.draw.Predict(x), smallestLactate)
				s.test.Stages[k].Lactate = max(y+scale*m.sigma[k]*s.rng.NormFloat64(), smallestLactate)
			}
			m.others(a.test, &s.test, scale, s.rng)
			each(i, drawn{s.test, s.draw, scale, nil})
		}
	})
}

// holding widens an interval to hold its value: the reading of a curve can lie
// outside the central readings of its draws.
func (e Estimate) holding() Estimate {
	if e.HasInterval() && !math.IsNaN(e.Value) {
		e.Low, e.High = min(e.Low, e.Value), max(e.High, e.Value)
	}
	return e
}
