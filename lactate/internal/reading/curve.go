// Package reading asks curves what the methods ask: where they rise through a level, where
// they are lowest, how steep they are. Curves that answer in closed form are asked; all
// others are searched, knowing nothing but their values and, if they have it, their slope.
package reading

import (
	"fmt"

	"gonum.org/v1/gonum/interp"
)

// Curve is any curve that can be fitted.
type Curve = interp.FittablePredictor

// shaped curves answer in closed form, or by a search that knows their shape. See
// [curve.Exponential] for what each method means.
type shaped interface {
	Upcrossing(level, lo, hi float64) (x float64, ok bool)
	FarthestBelow(slope, lo, hi float64) (x float64, ok bool)
	Minimum(lo, hi float64) (x, y float64)
}

// Fit fits c to stages in order of intensity. Interpolators that panic on
// points they cannot pass through give an error instead.
func Fit(c Curve, xs, ys []float64) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("lactate: %T cannot be fitted to these stages: %v", c, r)
		}
	}()
	return c.Fit(xs, ys)
}

// DegreesOfFreedom returns what the fit left of the points; a curve that does
// not say passes through all of them.
func DegreesOfFreedom(c Curve) int {
	if r, ok := c.(interface{ DegreesOfFreedom() int }); ok {
		return max(r.DegreesOfFreedom(), 0)
	}
	return 0
}

// Slope returns the slope of the curve at x inside [lo, hi].
func Slope(c Curve, x, lo, hi float64) float64 {
	if d, ok := c.(interp.DerivativePredictor); ok {
		return d.PredictDerivative(x)
	}
	h := (hi - lo) * 1e-5
	a, b := max(lo, x-h), min(hi, x+h)
	return (c.Predict(b) - c.Predict(a)) / (b - a)
}

// Upcrossing returns the highest x in [lo, hi] at which the curve crosses the
// level going upward.
func Upcrossing(c Curve, level, lo, hi float64) (x float64, ok bool) {
	if s, ok := c.(shaped); ok {
		return s.Upcrossing(level, lo, hi)
	}
	return LastRise(c.Predict, level, lo, hi)
}

// FarthestBelow returns the x inside (lo, hi) at which the curve lies farthest
// below a line of the given slope.
func FarthestBelow(c Curve, slope, lo, hi float64) (x float64, ok bool) {
	if s, ok := c.(shaped); ok {
		return s.FarthestBelow(slope, lo, hi)
	}
	below := func(x float64) float64 { return c.Predict(x) - slope*x }
	return LowestOn(c, below, func(x float64, d interp.DerivativePredictor) float64 { return d.PredictDerivative(x) - slope }, lo, hi)
}

// Minimum returns the lowest point of the curve in [lo, hi].
func Minimum(c Curve, lo, hi float64) (x, y float64) {
	if s, ok := c.(shaped); ok {
		return s.Minimum(lo, hi)
	}
	x, _ = Lowest(c.Predict, lo, hi)
	return x, c.Predict(x)
}

// LowestOn is Lowest of a function f of a curve, with the rest of the digits if the curve has
// a slope: sign is a function of the sign of f's slope, given the curve's own. Where that
// does not change sign, such as at a corner that the slope does not see, it is Lowest.
func LowestOn(c Curve, f func(x float64) float64, sign func(x float64, d interp.DerivativePredictor) float64, lo, hi float64) (x float64, inside bool) {
	x, inside = Lowest(f, lo, hi)
	d, ok := c.(interp.DerivativePredictor)
	if !ok || !inside {
		return x, inside
	}
	slope := func(x float64) float64 { return sign(x, d) }
	h := (hi - lo) * 1e-5
	if a, b := max(lo, x-h), min(hi, x+h); slope(a) < 0 && slope(b) > 0 {
		x = signChange(slope, a, b)
	}
	return x, true
}
