package curve

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"sort"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/stat/distuv"
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
// widths were chosen on real cycling tests, and are untried on swimmers' own. Averaging over models is after Draper (1995), J R Stat Soc B
// 57:45–97, and Hoeting and others (1999), Stat Sci 14:382–417, the scale of the
// noise after Box & Tiao (1973), Bayesian Inference in Statistical Analysis (from
// memory).
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

	bent
	rss  float64
	dof  int
	post posterior
	mean []float64 // the work space of the mean curve: f, then f′
}

func (c *Convex) tilt() float64 {
	if c.Tilt == 0 {
		return 0.2
	}
	return c.Tilt
}

func (c *Convex) prior() float64 {
	switch {
	case c.Weight == 0:
		return 4
	case c.Weight < 0:
		return 0
	}
	return c.Weight
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
	k := convexWorks.Get().(*convexWork)
	defer convexWorks.Put(k)
	k.weights = resize(k.weights, len(xs))
	about := k.pre.Fit(xs, ys) == nil
	for i, y := range ys {
		if about {
			y = k.pre.Predict(xs[i])
		}
		k.weights[i] = 1 / (0.2*0.2 + 0.03*0.03*y*y)
	}
	return c.fit(k, xs, ys, k.weights)
}

func (c *Convex) forget() {
	c.bent = bent{}
	c.rss, c.dof = 0, 0
	c.post.active = c.post.active[:0]
}

// FitWeighted is Fit with a weight for each point, one over the variance of its y.
// Nil weights mean that all are 1. The weights count in full, not only beside
// one another: see Weight.
func (c *Convex) FitWeighted(xs, ys, weights []float64) error {
	c.forget()
	if err := checkPoints(xs, ys, weights); err != nil {
		return err
	}
	k := convexWorks.Get().(*convexWork)
	defer convexWorks.Put(k)
	return c.fit(k, xs, ys, weights)
}

func (c *Convex) fit(k *convexWork, xs, ys, weights []float64) error {
	p := &c.post
	if err := k.lay(xs); err != nil {
		return err
	}
	p.nu0 = c.prior()
	p.nu = p.nu0 + float64(len(xs)-2)
	p.t = newStudent(p.nu)
	if err := k.line(p, ys, weights, c.tilt()); err != nil {
		return err
	}
	if err := k.weigh(p); err != nil {
		return err
	}
	lo, hi := minMax(xs)
	c.lo, c.rng = lo, hi-lo
	c.average()
	for i, x := range xs {
		r := ys[i] - c.Predict(x)
		c.rss += k.w[i] * r * r
	}
	if !finite(c.rss) || !finite(c.value(0)) || !finite(c.value(cells)) {
		c.forget()
		return errTooLarge
	}
	c.dof = len(xs) - 2
	return nil
}

func minMax(xs []float64) (lo, hi float64) {
	lo, hi = xs[0], xs[0]
	for _, x := range xs {
		lo, hi = min(lo, x), max(hi, x)
	}
	return lo, hi
}

// average makes the posterior mean curve.
func (c *Convex) average() {
	p, d := &c.post, shapes()
	c.mean = resize(c.mean, 2*nodes)
	f, slope := c.mean[:nodes], c.mean[nodes:]
	clear(slope)
	mean := shapeFit{l22: 1}
	for i := range p.active {
		t := &p.active[i]
		s := t.weight * t.rise
		mean.l20 += s * t.l20
		mean.l21 += s * t.l21
		_, of := d.row(t.shape)
		floats.AddScaled(slope, s, of)
	}
	c.a, c.b, c.s = p.solve(&mean, p.z0, p.z1, 1)
	f[0] = 0
	for k := range cells {
		f[k+1] = f[k] + (slope[k]+slope[k+1])/(2*cells)
	}
	c.f, c.slope = f, slope
}

// Draw sets dst to one curve from the posterior, to be read by the same methods as
// c, and returns how many times larger than stated the noise is in that draw. at, from
// 0 to 1, chooses the shape: uniform random numbers give independent draws, evenly
// spread ones a more even choice. dst must not be c; it is a curve without a
// posterior of its own. c is only read.
func (c *Convex) Draw(dst *Convex, at float64, rng *rand.Rand) (scale float64) {
	p := &c.post
	if len(p.active) == 0 {
		dst.forget()
		return math.NaN()
	}
	i := sort.Search(len(p.active)-1, func(i int) bool { return p.active[i].cumulative >= at })
	t := &p.active[i]
	chi := distuv.ChiSquared{K: p.nu, Src: rng}
	dst.bent = bent{lo: c.lo, rng: c.rng}
	dst.f, dst.slope = shapes().row(t.shape)
	z2 := t.s * t.l22
	for range 1000 {
		scale = 1
		if !math.IsInf(p.nu0, 1) {
			scale = math.Sqrt((p.nu0 + t.rss) / chi.Rand())
		}
		r2 := z2 + scale*rng.NormFloat64()
		if !(r2 > 0) {
			continue // the curve would not rise
		}
		dst.a, dst.b, dst.s = p.solve(t, p.z0+scale*rng.NormFloat64(), p.z1+scale*rng.NormFloat64(), r2)
		return scale
	}
	dst.a, dst.b, dst.s = p.solve(t, p.z0, p.z1, t.rise*t.l22)
	return scale
}

// Below returns the probability that a new y at x lies below a value: the posterior
// predictive distribution, Student's t for each shape. sd is the stated standard deviation
// of the new y; its scale is as uncertain as that of the others. NaN if there is no fit,
// and beyond the points of it.
func (c *Convex) Below(x, y, sd float64) float64 {
	p := &c.post
	u := c.scaled(x)
	if len(p.active) == 0 || !(u >= 0 && u <= 1) {
		return math.NaN()
	}
	d := shapes()
	k, at := cell(u)
	sum := 0.0
	for i := range p.active {
		t := &p.active[i]
		f, slope := d.row(t.shape)
		fu := f[k] + at*(slope[k]+at*(slope[k+1]-slope[k])/2)/cells
		a, b, s := p.solve(t, p.z0, p.z1, t.s*t.l22)
		q0 := 1 / p.l00
		q1 := (u - p.l10*q0) / p.l11
		q2 := (fu - t.l20*q0 - t.l21*q1) / t.l22
		se := math.Sqrt(q0*q0 + q1*q1 + q2*q2 + sd*sd)
		z := y - a - b*u - s*fu
		if !math.IsInf(p.nu0, 1) {
			se *= math.Sqrt((p.nu0 + t.rss) / p.nu)
		}
		sum += t.weight * p.t.cdf(z/se)
	}
	return sum
}

// Predict returns the value of the curve at x; NaN if there is no fit. Beyond the
// points of the fit it goes on along a straight line.
func (c *Convex) Predict(x float64) float64 {
	y, _ := c.at(c.scaled(x))
	return y
}

// PredictDerivative returns the slope of the curve at x; NaN if there is no fit.
func (c *Convex) PredictDerivative(x float64) float64 {
	_, rate := c.at(c.scaled(x))
	return rate / c.rng
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
	return c.upcrossing(level, lo, hi)
}

// FarthestBelow returns the x in (lo, hi) at which the curve lies farthest below a
// line of the given slope, in closed form: the first point where the curve has that
// slope itself. ok is false if it has none inside the interval.
func (c *Convex) FarthestBelow(slope, lo, hi float64) (x float64, ok bool) {
	return c.farthestBelow(slope, lo, hi)
}

// Minimum returns the x in [lo, hi] at which the curve is lowest, and its value
// there. Both are NaN if lo ≤ hi does not hold, and if there is no fit.
func (c *Convex) Minimum(lo, hi float64) (x, y float64) { return c.minimum(lo, hi) }

// String names the curve and its range.
func (c *Convex) String() string {
	if c.f == nil {
		return "not fitted"
	}
	return fmt.Sprintf("mean of %d convex shapes from %.4g to %.4g", max(len(c.post.active), 1), c.lo, c.lo+c.rng)
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
		if c.f == nil {
			break
		}
		x := c.lo + c.rng*float64(i)/(places-1)
		y := c.Predict(x)
		if !finite(y) {
			break
		}
		out.X, out.Y = append(out.X, x), append(out.Y, y)
	}
	return json.Marshal(out)
}
