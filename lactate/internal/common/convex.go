package common

import (
	"math"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
	"gonum.org/v1/gonum/mat"
)

// Convex is any convex shape through several tests.
type Convex struct {
	fit curve.ConvexShifted
	dof float64 // of the scale of the noise
}

// fitConvex fits any convex shape; the noise of each point is that about a common
// exponential if there is one, and about that of each test otherwise.
func fitConvex(p Points, e *Exponential) (*Convex, error) {
	var weights []float64
	if e != nil {
		weights = e.weights(p)
	} else {
		for len(weights) < len(p.Xs) {
			one := p.only(p.Groups[len(weights)])
			weights = append(weights, uncertain.Weights(one.Xs, one.Ys, one.Deviation)...)
		}
	}
	c := new(Convex)
	c.fit.Weight = p.Weight
	if err := c.fit.FitWeighted(p.Xs, p.Ys, weights, p.Groups); err != nil {
		return nil, err
	}
	c.dof = p.Prior + float64(c.fit.DegreesOfFreedom())
	return c, nil
}

// Covariance implements [Shape].
func (c *Convex) Covariance() *mat.SymDense {
	v := new(mat.SymDense)
	c.fit.Covariance(v)
	return v
}

// Sum implements [Shape].
func (c *Convex) Sum(coefficients []float64, dayVariance float64) Posterior {
	p := c.fit.Sum(coefficients)
	measured := p.StdDev() * p.StdDev()
	m := &convexPosterior{ShiftPosterior: p.Plus(math.Sqrt(dayVariance)), dof: uncertain.Satterthwaite(measured, dayVariance, c.dof)}
	for k, w := range coefficients {
		below, above := c.fit.Open(k + 1)
		if w < 0 {
			below, above = above, below
		}
		m.openBelow = m.openBelow || w != 0 && below
		m.openAbove = m.openAbove || w != 0 && above
	}
	return m
}
