package uncertain

import (
	"sync"

	"example.com/steptest/lactate/curve"
)

// exponentials are work space of Weights.
var exponentials = sync.Pool{New: func() any { return new(curve.Exponential) }}

// Weights returns one over the variance of each point, xs in order, about the exponential
// through them, or about the points themselves if there is none. deviation is the standard
// deviation of a point about a curve that has this value and this slope there.
func Weights(xs, ys []float64, deviation func(i int, y, slope float64) float64) []float64 {
	e := exponentials.Get().(*curve.Exponential)
	defer exponentials.Put(e)
	about := e.Fit(xs, ys) == nil
	weights := make([]float64, len(xs))
	for i, x := range xs {
		y, slope := ys[i], 0.0
		if about {
			y, slope = e.Predict(x), e.PredictDerivative(x)
		} else if before, after := max(i-1, 0), min(i+1, len(xs)-1); xs[after] > xs[before] {
			slope = (ys[after] - ys[before]) / (xs[after] - xs[before])
		}
		sd := deviation(i, y, slope)
		weights[i] = 1 / (sd * sd)
	}
	return weights
}
