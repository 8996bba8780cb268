package lactate

import (
	"encoding/json"
	"fmt"
	"math"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/common"
)

// A commonShape is one shape through several tests, each shifted along the intensity
// axis: the posterior of the shifts, and what it says of itself.
type commonShape struct {
	common.Shape
	exponential *CommonExponential // if an exponential was asked for
	oneShape    ShapeTest          // whether one shape does, by exponentials whatever the shape
}

// fitCommon fits the common shape that the options ask for.
func fitCommon(tests []Test, o CompareOptions) (commonShape, error) {
	var stages []Stage
	p := common.Points{Weight: o.Noise.Weight, Prior: o.Noise.PriorWeight()}
	for g, t := range tests {
		for _, s := range t.Sampled() {
			stages = append(stages, s)
			p.Xs, p.Ys, p.Groups = append(p.Xs, s.Intensity), append(p.Ys, s.Lactate), append(p.Groups, g)
		}
	}
	p.Deviation = o.Noise.about(stages)
	_, asked := o.Curve().(*curve.Exponential)
	shape, e, err := common.Fit(p, asked)
	switch {
	case err == common.ErrImmense:
		return commonShape{}, errImmense
	case err == common.ErrUnbent:
		return commonShape{}, fmt.Errorf("lactate: common shape: %w: %w", ErrShape, err)
	case err != nil:
		return commonShape{}, fmt.Errorf("lactate: common shape: %w", err)
	}
	c := commonShape{Shape: shape, oneShape: ShapeTest{F: math.NaN(), PValue: math.NaN()}}
	if e != nil {
		c.oneShape.F, c.oneShape.PValue = e.Same(p)
		c.oneShape.Changed = c.oneShape.PValue < (1-o.Confidence)/2
	}
	if asked {
		c.exponential = &CommonExponential{e.C, e.A, e.RSS(), e.DegreesOfFreedom(), e.FitErrors}
	}
	return c, nil
}

// CommonExponential is an exponential through several tests, each shifted along the intensity
// axis: y = A + B·exp(C·(x − shift)), see [curve.Shifted].
type CommonExponential struct {
	// Rate C [1/unit of intensity] and Asymptote A [mmol/L] of the common shape.
	Rate, Asymptote float64
	// RSS [(mmol/L)²] and DegreesOfFreedom of the joint fit.
	RSS              float64
	DegreesOfFreedom int
	// FitErrors are the standard errors of the shifts from the residuals alone, as nonlinear
	// least squares reports them: zero for the first test; NaN without a degree of freedom.
	// Measured.StandardError knows the stated noise too.
	FitErrors []float64
}

// MarshalJSON leaves out what is NaN.
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
