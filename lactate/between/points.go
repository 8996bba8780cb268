package between

import (
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// points are the stages of all tests.
type points struct {
	xs, ys, weights []float64
	groups          []int
	stages          []lactate.Stage
}

// gather weighs the stages by their noise about one exponential for all tests, or about
// their own lactate.
func gather(tests []lactate.DatedTest, noise lactate.Noise) points {
	var p points
	for g, t := range tests {
		for _, s := range t.Test.Sampled() {
			p.xs, p.ys, p.groups = append(p.xs, s.Intensity), append(p.ys, s.Lactate), append(p.groups, g)
			p.stages = append(p.stages, s)
		}
	}
	var e curve.Shifted
	about := e.Fit(p.xs, p.ys, p.groups) == nil
	p.weights = make([]float64, len(p.xs))
	for i, s := range p.stages {
		y, slope := s.Lactate, 0.0
		if about {
			const h = 1e-4
			y = math.Max(e.Predict(s.Intensity, p.groups[i]), 0.1)
			slope = (e.Predict(s.Intensity*(1+h), p.groups[i]) - e.Predict(s.Intensity*(1-h), p.groups[i])) / (2 * h * s.Intensity)
		}
		sd := noise.Stage(s, y, slope)
		p.weights[i] = 1 / (sd * sd)
	}
	return p
}

// aligned returns the stages with the shifts of their tests taken off, and their intensities
// in xs.
func (p points) aligned(xs, shifts []float64) lactate.Test {
	t := lactate.Test{Stages: append([]lactate.Stage(nil), p.stages...)}
	for i, x := range p.xs {
		if g := p.groups[i]; g > 0 {
			x -= shifts[g-1]
		}
		xs[i] = x
		t.Stages[i].Intensity = x
	}
	return t
}
