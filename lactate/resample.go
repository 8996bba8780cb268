package lactate

import (
	"math/rand/v2"
	"slices"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/crew"
	"example.com/steptest/lactate/internal/uncertain"
)

// Resamples are made in blocks of this many, each with a random stream of its
// own: the result does not depend on how many cores share them.
const blockSize = 256

// refit is what one core needs to analyse simulated tests.
type refit struct {
	curve  Curve
	test   Test
	xs, ys []float64
	source *rand.PCG
	rng    *rand.Rand // from source
}

func (a *Analysis) refitter() *refit {
	r := &refit{curve: a.opts.Curve(), test: a.test, source: rand.NewPCG(0, 0)}
	r.rng = rand.New(r.source)
	r.test.Stages = slices.Clone(a.test.Stages)
	r.test.Recovery = slices.Clone(a.test.Recovery)
	r.xs, r.ys = points(a.stages)
	return r
}

// drawn is one resample: a simulated test, the curve to read it with or the error of
// its fit, and how many times larger than stated its noise is.
type drawn struct {
	test  Test
	curve Curve
	scale float64
	err   error
}

// resample draws simulated tests, fits the curve to each and hands it over. A [curve.Convex]
// gives draws from its posterior instead.
func (a *Analysis) resample(each func(i int, d drawn)) {
	if c, ok := a.Curve.(*curve.Convex); ok {
		a.drawPosterior(c, each)
		return
	}
	m := a.model()
	crew.Share(a.opts.done, a.opts.Resamples, blockSize, a.refitter, func(block, from, to int, r *refit) {
		r.source.Seed(a.opts.Seed, uint64(a.stream)<<40|uint64(block))
		for i := from; i < to; i++ {
			scale := m.simulated(a.test, &r.test, r.ys, r.rng)
			each(i, drawn{r.test, r.curve, scale, a.opts.Noise.fit(r.curve, r.xs, r.ys, a.weights)})
		}
	})
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
