package curve

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"sync"

	"example.com/steptest/lactate/curve/internal/average"
	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/shape"
	"example.com/steptest/lactate/internal/noise"
	"gonum.org/v1/gonum/interp"
)

var (
	_ interp.FittablePredictor   = (*Convex)(nil)
	_ interp.DerivativePredictor = (*Convex)(nil)
)

// Convex is the posterior over convex shapes:
//
//	y = a + b·u + s·f(u),   u = (x − lowest x)/(highest x − lowest x)
//
// with s > 0 and f one of some 2,700 convex shapes, f(0) = f′(0) = 0, f(1) = 1. It
// does not presume a formula for the curve, as [Exponential] does, but that the
// curve is convex, and most probably near an exponential. The curve itself
// (Predict and the methods that read it) is the posterior mean;
// [Convex.Draw] gives curves from the posterior, for intervals.
//
// A shape is known by its curvature f″, normalised, a density on [0, 1]: of mean m and
// standard deviation ρ times that of the exponential of the same m. ρ = 1 is the
// exponential, ρ → 0 two lines that meet. The prior is uniform in m from 0.25 to
// 0.96; for ρ it is normal about 1 with a standard deviation of 0.10, but for a
// tenth that is uniform up to 1.6. Another tenth of the shapes are delayed: straight
// up to a point and exponential after it. The initial slope b is normal about zero,
// see Tilt; a and s are flat. The family of shapes and the priors are ours; their
// widths were chosen on real cycling tests, and are untried on swimmers' own. Averaging
// over models is after Draper (1995), J R Stat Soc B 57:45–97, and Hoeting and others
// (1999), Stat Sci 14:382–417, the scale of the noise after Box & Tiao (1973), Bayesian
// Inference in Statistical Analysis (from memory).
//
// The zero value has no curve yet and predicts NaN. Fit and FitWeighted overwrite
// the receiver and must not run concurrently with any other method of it; the
// other methods may. A copy shares its work space: do not fit both at the same time.
type Convex struct {
	// Weight is for how many observations the standard deviations of the ys count,
	// beside the residuals, in the scale of the noise (ν₀). Zero means 4; negative
	// means none; +Inf takes them as certain.
	Weight float64
	// Tilt is the prior standard deviation of b, the initial slope, as a rise over
	// the range of the xs [unit of y], times the scale of the noise. Zero means 0.2.
	Tilt float64

	curve shape.Curve
	rss   float64
	dof   int
	post  average.Posterior
}

// convexWork is the work space of a fit. Fits share a few of them.
type convexWork struct {
	average.Work
	pre     Exponential
	weights []float64 // for Fit
}

var convexWorks = sync.Pool{New: func() any { return new(convexWork) }}

func (c *Convex) tilt() float64 {
	if c.Tilt == 0 {
		return 0.2
	}
	return c.Tilt
}

// Fit finds the posterior with the standard deviations that it takes for those of
// blood lactate in mmol/L: 0.2 and 3 % of the value, in quadrature, the value being
// that of an [Exponential] through the same points if there is one, and y itself
// otherwise. Say others by FitWeighted.
//
// Points may come in any order and xs may repeat; at least three must differ. The
// arguments are neither kept nor changed. Refits of as many points as before do not
// allocate.
//
// The error wraps [ErrInput] for points that cannot be used, and [ErrUndetermined]
// for fewer than three different xs and for points through which no convex curve
// rises. After an error there is no curve.
func (c *Convex) Fit(xs, ys []float64) error {
	c.forget()
	if err := checkPoints(xs, ys, nil); err != nil {
		return err
	}
	w := convexWorks.Get().(*convexWork)
	defer convexWorks.Put(w)
	w.weights = points.Resize(w.weights, len(xs))
	about := w.pre.Fit(xs, ys) == nil
	for i, y := range ys {
		if about {
			y = w.pre.Predict(xs[i])
		}
		w.weights[i] = weightOf(y)
	}
	return c.fit(w, xs, ys, w.weights)
}

// weightOf returns one over the variance that Fit takes for that of a blood lactate y.
func weightOf(y float64) float64 {
	return 1 / (noise.Absolute*noise.Absolute + noise.Relative*noise.Relative*y*y)
}

func (c *Convex) forget() {
	c.curve = shape.Curve{}
	c.rss, c.dof = 0, 0
	c.post.Forget()
}

// FitWeighted is Fit with a weight for each point, one over the variance of its y.
// Nil weights mean that all are 1. The weights count in full, not only beside
// one another: see Weight.
func (c *Convex) FitWeighted(xs, ys, weights []float64) error {
	c.forget()
	if err := checkPoints(xs, ys, weights); err != nil {
		return err
	}
	w := convexWorks.Get().(*convexWork)
	defer convexWorks.Put(w)
	return c.fit(w, xs, ys, weights)
}

func (c *Convex) fit(w *convexWork, xs, ys, weights []float64) error {
	rss, err := w.Fit(&c.post, &c.curve, xs, ys, weights, noise.Prior(c.Weight), c.tilt())
	if err != nil {
		return err
	}
	if !points.Finite(rss) || !points.Finite(c.curve.Value(0)) || !points.Finite(c.curve.Value(shape.Cells)) {
		c.forget()
		return errTooLarge
	}
	c.rss, c.dof = rss, len(xs)-2
	return nil
}

// Draw sets dst to one curve from the posterior, to be read by the same methods as
// c, and returns how many times larger than stated the noise is in that draw. at, from
// 0 to 1, chooses the shape: uniform random numbers give independent draws, evenly
// spread ones a more even choice. dst must not be c; it is a curve without a
// posterior of its own. c is only read.
func (c *Convex) Draw(dst *Convex, at float64, rng *rand.Rand) (scale float64) {
	if c.post.Shapes() == 0 {
		dst.forget()
		return math.NaN()
	}
	dst.forget()
	dst.curve.Lo, dst.curve.Rng = c.curve.Lo, c.curve.Rng
	return c.post.Draw(&dst.curve, at, rng)
}

// Below returns the probability that a new y at x lies below a value: the posterior
// predictive distribution, Student's t for each shape. sd is the stated standard deviation
// of the new y; its scale is as uncertain as that of the others. NaN if there is no fit,
// and beyond the points of it.
func (c *Convex) Below(x, y, sd float64) float64 {
	u := c.curve.Scaled(x)
	if c.post.Shapes() == 0 || !(u >= 0 && u <= 1) {
		return math.NaN()
	}
	return c.post.Below(u, y, sd)
}

// Predict returns the value of the curve at x; NaN if there is no fit. Beyond the
// points of the fit it goes on along a straight line.
func (c *Convex) Predict(x float64) float64 {
	y, _ := c.curve.At(c.curve.Scaled(x))
	return y
}

// PredictDerivative returns the slope of the curve at x; NaN if there is no fit.
func (c *Convex) PredictDerivative(x float64) float64 {
	_, rate := c.curve.At(c.curve.Scaled(x))
	return rate / c.curve.Rng
}

// RSS returns the weighted sum of squares of the last fit's residuals about the
// posterior mean.
func (c *Convex) RSS() float64 { return c.rss }

// DegreesOfFreedom returns the number of points of the last fit less two: what the
// points add to Weight in the posterior of the scale. The two are a and s; b and the
// shape have priors.
func (c *Convex) DegreesOfFreedom() int { return c.dof }

// Upcrossing returns the x in [lo, hi] at which the curve rises through a level, in
// closed form. A curve that starts at the level at lo and rises counts; ok is false if
// there is no such x. Nothing beyond the points of the fit is found.
func (c *Convex) Upcrossing(level, lo, hi float64) (x float64, ok bool) {
	return c.curve.Upcrossing(level, lo, hi)
}

// FarthestBelow returns the x in (lo, hi) at which the curve lies farthest below a
// line of the given slope, in closed form: the first point where the curve has that
// slope itself. ok is false if it has none inside the interval.
func (c *Convex) FarthestBelow(slope, lo, hi float64) (x float64, ok bool) {
	return c.curve.FarthestBelow(slope, lo, hi)
}

// Minimum returns the x in [lo, hi] at which the curve is lowest, and its value
// there. Both are NaN if lo ≤ hi does not hold, and if there is no fit.
func (c *Convex) Minimum(lo, hi float64) (x, y float64) { return c.curve.Minimum(lo, hi) }

// String names the curve and its range.
func (c *Convex) String() string {
	if c.curve.F == nil {
		return "not fitted"
	}
	return fmt.Sprintf("mean of %d convex shapes from %.4g to %.4g", max(c.post.Shapes(), 1), c.curve.Lo, c.curve.Lo+c.curve.Rng)
}

// MarshalJSON writes the curve at 25 places from end to end of its range; none if
// there is no fit. It is written for readers of results and not read back.
func (c *Convex) MarshalJSON() ([]byte, error) {
	var out struct {
		X []float64 `json:"x"`
		Y []float64 `json:"y"`
	}
	const places = 25
	for i := range places {
		if c.curve.F == nil {
			break
		}
		x := c.curve.Lo + c.curve.Rng*float64(i)/(places-1)
		y := c.Predict(x)
		if !points.Finite(y) {
			break
		}
		out.X, out.Y = append(out.X, x), append(out.Y, y)
	}
	return json.Marshal(out)
}
