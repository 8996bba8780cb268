package curve

import (
	"math"
	"slices"

	"example.com/steptest/lactate/curve/internal/points"
)

// Sum returns the posterior of a weighted sum of the shifts of groups 1, 2, …, as a
// trend through them is: the zero value, of which nothing is known, unless there are
// Groups less one weights, finite and not all zero.
func (c *ConvexShifted) Sum(weights []float64) ShiftPosterior {
	n := c.Groups() - 1
	if len(weights) != n || n < 1 {
		return ShiftPosterior{}
	}
	only, used := 0, 0
	for k, w := range weights {
		if !points.Finite(w) {
			return ShiftPosterior{}
		}
		if w != 0 {
			only = k
			used++
		}
	}
	switch used {
	case 0:
		return ShiftPosterior{}
	case 1:
		return c.post[only].times(weights[only])
	}
	values, share := make([]float64, len(c.cumul)), make([]float64, len(c.cumul))
	mean, squares, before := 0.0, 0.0, 0.0
	for i, upTo := range c.cumul {
		for k, w := range weights {
			values[i] += w * c.shifts[i*n+k]
		}
		share[i] = upTo - before
		before = upTo
		mean += share[i] * values[i]
		squares += share[i] * share[i]
	}
	variance := 0.0
	for i, v := range values {
		variance += share[i] * (v - mean) * (v - mean)
	}
	var p ShiftPosterior
	p.smooth(values, 1, share, mean, math.Sqrt(variance), 1/squares)
	return p
}

// times returns the distribution of w times the shift; w is not zero.
func (p ShiftPosterior) times(w float64) ShiftPosterior {
	if w == 1 {
		return p
	}
	p.edges, p.below = slices.Clone(p.edges), slices.Clone(p.below)
	for k := range p.edges {
		p.edges[k] *= w
	}
	if w < 0 {
		slices.Reverse(p.edges)
		slices.Reverse(p.below)
		for k, v := range p.below {
			p.below[k] = 1 - v
		}
	}
	p.mean *= w
	p.own *= math.Abs(w)
	p.added *= math.Abs(w)
	return p
}
