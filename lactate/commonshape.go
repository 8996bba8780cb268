package lactate

import (
	"encoding/json"
	"fmt"
	"math"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
	"gonum.org/v1/gonum/mat"
)

// A commonShape is one shape through several tests, each shifted along the intensity
// axis.
type commonShape interface {
	// covariance of shifts 1, 2, … by measurement error alone.
	covariance() *mat.SymDense
	// sum is the posterior of a weighted sum of the shifts, with a normal variable of
	// the variance days added.
	sum(weights []float64, days float64) posterior
}

// fitCommon fits the common shape that the options ask for. exponential is the one of
// exponentials, or nil if there is none.
func fitCommon(tests []Test, o CompareOptions) (shape commonShape, exponential *joint, err error) {
	j, err := fitJoint(tests, o.Noise)
	if _, asked := o.Curve().(*curve.Exponential); asked {
		return j, j, err
	}
	if err != nil {
		j = nil
	}
	c, err := fitConvex(tests, j, o.Noise)
	return c, j, err
}

// anyConvex is any convex shape.
type anyConvex struct {
	curve.ConvexShifted
	dof float64 // of the scale of the noise
}

// fitConvex fits any convex shape; the noise of each stage is that about a common
// exponential if there is one, and about that of each test otherwise.
func fitConvex(tests []Test, j *joint, noise Noise) (*anyConvex, error) {
	var xs, ys, weights []float64
	var groups []int
	for g, t := range tests {
		stages := t.Sampled()
		from := len(xs)
		for _, s := range stages {
			xs, ys, groups = append(xs, s.Intensity), append(ys, s.Lactate), append(groups, g)
		}
		if j == nil {
			weights = append(weights, stageWeights(stages, xs[from:], ys[from:], noise)...)
			continue
		}
		for _, s := range stages {
			y := j.Predict(s.Intensity, g)
			sd := noise.Stage(s, max(y, smallestLactate), j.C*(y-j.A))
			weights = append(weights, 1/(sd*sd))
		}
	}
	c := new(anyConvex)
	c.Weight = noise.Weight
	if err := c.FitWeighted(xs, ys, weights, groups); err != nil {
		return nil, fmt.Errorf("lactate: common shape: %w", err)
	}
	c.dof = noise.PriorWeight() + float64(c.DegreesOfFreedom())
	return c, nil
}

func (c *anyConvex) covariance() *mat.SymDense {
	v := new(mat.SymDense)
	c.Covariance(v)
	return v
}

func (c *anyConvex) sum(weights []float64, days float64) posterior {
	p := c.Sum(weights)
	measured := p.StdDev() * p.StdDev()
	m := &moved{ShiftPosterior: p.Plus(math.Sqrt(days)), dof: uncertain.Satterthwaite(measured, days, c.dof)}
	for k, w := range weights {
		below, above := c.Open(k + 1)
		if w < 0 {
			below, above = above, below
		}
		m.openBelow = m.openBelow || w != 0 && below
		m.openAbove = m.openAbove || w != 0 && above
	}
	return m
}

func (j *joint) covariance() *mat.SymDense { return j.cov }

func (j *joint) sum(weights []float64, days float64) posterior {
	w := mat.NewVecDense(len(weights), weights)
	measured := mat.Inner(w, j.cov, w)
	shift := mat.Dot(w, mat.NewVecDense(len(weights), j.Shifts[1:]))
	return &student{shift, math.Sqrt(measured + days), uncertain.Satterthwaite(measured, days, j.dof)}
}

// CommonExponential is an exponential through several tests, each shifted along the
// intensity axis: y = A + B·exp(C·(x − shift)), see [curve.Shifted].
type CommonExponential struct {
	// Rate C [1/unit of intensity] and Asymptote A [mmol/L] of the common shape.
	Rate, Asymptote float64
	// RSS [(mmol/L)²] and DegreesOfFreedom of the joint fit.
	RSS              float64
	DegreesOfFreedom int
	// FitErrors are the standard errors of the shifts from the residuals alone, as
	// nonlinear least squares reports them: zero for the first test; NaN without
	// a degree of freedom. Measured.StandardError knows the stated noise too.
	FitErrors []float64
}

// common returns what was asked for as an exponential, and nil otherwise.
func common(shape commonShape) *CommonExponential {
	j, ok := shape.(*joint)
	if !ok {
		return nil
	}
	return &CommonExponential{j.C, j.A, j.RSS(), j.DegreesOfFreedom(), j.fitError}
}

// MarshalJSON leaves out what is NaN. It is written for readers of results and not
// read back.
func (e CommonExponential) MarshalJSON() ([]byte, error) {
	out := struct {
		Rate             float64   `json:"rate"`
		Asymptote        float64   `json:"asymptote_mmol_per_l"`
		RSS              float64   `json:"rss"`
		DegreesOfFreedom int       `json:"degrees_of_freedom"`
		FitErrors        []float64 `json:"fit_errors,omitempty"`
	}{e.Rate, e.Asymptote, e.RSS, e.DegreesOfFreedom, e.FitErrors}
	for _, v := range e.FitErrors {
		if !finite(v) {
			out.FitErrors = nil
		}
	}
	return json.Marshal(out)
}
