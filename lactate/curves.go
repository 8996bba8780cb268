package lactate

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"
)

// Curve is a curve of lactate (mmol/L) against intensity. The regression
// curves of package lactate/curve and gonum's own interpolators are curves. One of your own
// that does not pass through all samples should be a [Regression].
type Curve interface{ interp.FittablePredictor }

// Regression is a curve that does not pass through all samples: the misfit says how large
// the noise is. A [Curve] that does not say how many degrees of freedom it leaves is taken
// for one that interpolates: its intervals rest on the stated noise alone, and nothing
// says that it misses. The regression curves of package lactate/curve are regressions.
type Regression interface {
	Curve
	// DegreesOfFreedom returns the number of points of the last fit less that of the
	// parameters.
	DegreesOfFreedom() int
}

// shaped curves answer the questions that the methods ask in closed form, or
// by a search that knows their shape. See [curve.Exponential] for what each
// method means.
type shaped interface {
	Upcrossing(level, lo, hi float64) (x float64, ok bool)
	FarthestBelow(slope, lo, hi float64) (x float64, ok bool)
	Minimum(lo, hi float64) (x, y float64)
}

// fit fits c to stages in order of intensity. Interpolators that panic on
// points they cannot pass through give an error instead.
func fit(c Curve, xs, ys []float64) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("lactate: %T cannot be fitted to these stages: %v", c, r)
		}
	}()
	return c.Fit(xs, ys)
}

// degreesOfFreedom returns what the fit left of the points; a curve that does
// not say passes through all of them.
func degreesOfFreedom(c Curve) int {
	if r, ok := c.(Regression); ok {
		return max(r.DegreesOfFreedom(), 0)
	}
	return 0
}

// slopeAt returns the slope of the curve at x inside [lo, hi].
func slopeAt(c Curve, x, lo, hi float64) float64 {
	if d, ok := c.(interp.DerivativePredictor); ok {
		return d.PredictDerivative(x)
	}
	h := (hi - lo) * 1e-5
	a, b := max(lo, x-h), min(hi, x+h)
	return (c.Predict(b) - c.Predict(a)) / (b - a)
}

// A curve of unknown shape is looked at in this many places from end to end
// before the search narrows down. A feature narrower than that can be missed.
const looks = 512

// upcrossing returns the highest x in [lo, hi] at which the curve crosses the
// level going upward.
func upcrossing(c Curve, level, lo, hi float64) (x float64, ok bool) {
	if s, ok := c.(shaped); ok {
		return s.Upcrossing(level, lo, hi)
	}
	return lastRise(c.Predict, level, lo, hi)
}

// lastRise returns the highest x in [lo, hi] at which f rises through a level.
func lastRise(f func(float64) float64, level, lo, hi float64) (x float64, ok bool) {
	above, b := f(hi) >= level, hi
	for k := looks - 1; k >= 0; k-- {
		a := lo + (hi-lo)*(float64(k)/looks)
		below := f(a) < level
		if above && below {
			return signChange(func(x float64) float64 { return f(x) - level }, a, b), true
		}
		above, b = !below, a
	}
	// A curve that starts at the level and rises crosses it at its start.
	return lo, above && f(lo) == level && f(lo+(hi-lo)/looks) > level
}

// signChange returns, to the last bit, the x in (a, b] at which f, below zero at a
// and not at b, ceases to be below zero.
func signChange(f func(float64) float64, a, b float64) float64 {
	for range 200 {
		mid := a/2 + b/2
		if mid <= a || mid >= b {
			break
		}
		if f(mid) < 0 {
			a = mid
		} else {
			b = mid
		}
	}
	return b
}

// farthestBelow returns the x inside (lo, hi) at which the curve lies farthest
// below a line of the given slope.
func farthestBelow(c Curve, slope, lo, hi float64) (x float64, ok bool) {
	if s, ok := c.(shaped); ok {
		return s.FarthestBelow(slope, lo, hi)
	}
	below := func(x float64) float64 { return c.Predict(x) - slope*x }
	if d, ok := c.(interp.DerivativePredictor); ok {
		return lowestBySlope(below, func(x float64) float64 { return d.PredictDerivative(x) - slope }, lo, hi)
	}
	return lowest(below, lo, hi)
}

// minimum returns the lowest point of the curve in [lo, hi].
func minimum(c Curve, lo, hi float64) (x, y float64) {
	if s, ok := c.(shaped); ok {
		return s.Minimum(lo, hi)
	}
	x, _ = lowest(c.Predict, lo, hi)
	return x, c.Predict(x)
}

// lowest returns where f is lowest in [lo, hi], and whether that is inside. The
// values of f alone place it to about half of the digits: [lowestBySlope] does
// better.
func lowest(f func(float64) float64, lo, hi float64) (x float64, inside bool) {
	at := func(k int) float64 { return lo + (hi-lo)*(float64(k)/looks) }
	best, least := 0, f(lo)
	for k := 1; k <= looks; k++ {
		if v := f(at(k)); v < least {
			best, least = k, v
		}
	}
	if best == 0 || best == looks {
		return at(best), false
	}
	// Golden section between the neighbours.
	const golden = 0.6180339887498949
	a, b := at(best-1), at(best+1)
	p, q := b-golden*(b-a), a+golden*(b-a)
	fp, fq := f(p), f(q)
	for range 46 { // to 1e-12 of the range, if numbers lie that close
		if fp < fq {
			b, q, fq = q, p, fp
			p = b - golden*(b-a)
			fp = f(p)
		} else {
			a, p, fp = p, q, fq
			q = a + golden*(b-a)
			fq = f(q)
		}
	}
	x = a/2 + b/2
	return x, x > lo && x < hi
}

// lowestBySlope is lowest with the rest of the digits, given a function of the
// sign of f's slope. Where that does not change sign, such as at a corner that
// the slope does not see, it is lowest.
func lowestBySlope(f, slope func(float64) float64, lo, hi float64) (x float64, inside bool) {
	x, inside = lowest(f, lo, hi)
	if !inside {
		return x, false
	}
	d := (hi - lo) * 1e-5
	if a, b := max(lo, x-d), min(hi, x+d); slope(a) < 0 && slope(b) > 0 {
		x = signChange(slope, a, b)
	}
	return x, true
}

var errFewSampled = errors.New("no two stages with a lactate sample at different intensities")

// testedRange returns the lowest and the highest intensity that has a lactate
// sample.
func testedRange(t Test) (lo, hi float64, err error) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range t.Stages {
		if s := &t.Stages[i]; s.sampled() {
			lo, hi = min(lo, s.Intensity), max(hi, s.Intensity)
		}
	}
	if !(hi > lo) {
		return 0, 0, fmt.Errorf("lactate: %w: %w", ErrTooFewStages, errFewSampled)
	}
	return lo, hi, nil
}
