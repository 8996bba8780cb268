// Package outlier finds a point that lies far outside what the others lead to expect.
package outlier

import (
	"slices"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
)

// odd is how often a point as far off as one that is found occurs among good ones: in one
// set of points of a hundred at most.
const odd = 0.01

// Outlier is a point, and what the others lead to expect in its place: the median and the
// central 90 %.
type Outlier struct {
	Point             int
	Median, Low, High float64
}

// Find leaves out one inner point at a time and predicts it from the others on
// [curve.Convex]; it returns the least likely of them if that is odd. It finds one bad inner
// point: two of them hide one another, and the ends cannot be predicted, since nothing lies
// beyond them. The points are in order of x; deviation is the standard deviation of each about
// a curve that has this value and this slope there, weight as in [curve.Convex].
func Find(xs, ys []float64, deviation func(i int, y, slope float64) float64, weight float64) (Outlier, bool) {
	n := len(xs)
	found, least := 0, odd/float64(n-2)
	var from *expectation
	for i := 1; i < n-1; i++ {
		if xs[i] == xs[0] || xs[i] == xs[n-1] {
			continue
		}
		e, err := expect(i, xs, ys, deviation, weight)
		if err != nil {
			continue
		}
		if p := e.likely(ys[i]); p < least {
			found, least, from = i, p, e
		}
	}
	if found == 0 {
		return Outlier{}, false
	}
	return Outlier{found, from.value(0.5), from.value(0.05), from.value(0.95)}, true
}

// expectation is what the other points lead to expect of one.
type expectation struct {
	curve curve.Convex
	x, sd float64
}

// expect fits the points but i.
func expect(i int, xs, ys []float64, deviation func(i int, y, slope float64) float64, weight float64) (*expectation, error) {
	x := xs[i]
	xs, ys = slices.Concat(xs[:i], xs[i+1:]), slices.Concat(ys[:i], ys[i+1:])
	weights := uncertain.Weights(xs, ys, func(k int, y, slope float64) float64 {
		if k >= i {
			k++
		}
		return deviation(k, y, slope)
	})
	e := &expectation{x: x}
	e.curve.Weight = weight
	if err := e.curve.FitWeighted(xs, ys, weights); err != nil {
		return nil, err
	}
	e.sd = deviation(i, e.curve.Predict(x), e.curve.PredictDerivative(x))
	return e, nil
}

// likely returns how likely a point as far off as y is.
func (e *expectation) likely(y float64) float64 {
	below := e.curve.Below(e.x, y, e.sd)
	return 2 * min(below, 1-below)
}

// value returns the y that a share of points lies below, from 0 to 100, to 0.01.
func (e *expectation) value(share float64) float64 {
	lo, hi := 0.0, 100.0
	for hi-lo > 0.01 {
		if mid := lo/2 + hi/2; e.curve.Below(e.x, mid, e.sd) < share {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo/2 + hi/2
}
