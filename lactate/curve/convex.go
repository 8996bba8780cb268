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
// see Tilt; a and s are flat. The priors are ours, tuned on real cycling tests; see
// testdata/README.md. Averaging over models is after Draper (1995), J R Stat Soc B
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
	// the range of the xs [unit of y]. Zero means 0.2.
	Tilt float64

	bent
	rss  float64
	dof  int
	post posterior
	mean []float64 // the work space of the mean curve: f, then f′
}

// A posterior is what a fit knows of every shape.
type posterior struct {
	nu0, nu  float64
	xs, u    []float64
	values   []float64 // f at the points, [shape*len(xs)+point]
	w        []float64 // 1/σ² of the points
	q0, q1   []float64 // of the points: rows of the projection on 1 and u
	residual []float64 // w times the residual of the line
	top      float64   // weighted mean of the ys
	// Cholesky factor of the line's part, and the line itself.
	l00, l10, l11 float64
	z0, z1        float64
	rss0          float64 // of the line, with the pseudo-row
	spread        float64 // weighted sum of squares of the ys about their mean
	// Of every shape.
	shapes  []shapeFit
	active  []int     // shapes with weight, in order
	cumul   []float64 // of the weights of the active ones, ends at one
	weights []float64 // of the active ones
	pre     *Exponential
	sigma   []float64
}

type shapeFit struct {
	l20, l21, l22 float64 // last row of the Cholesky factor
	s, rss        float64 // rss with the pseudo-row
	weight        float64 // not normalised
}

// negligible is the weight, relative to the largest, below which a shape is left
// out. All that are left out together weigh about a thousandth of the whole.
const negligible = 1e-4

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
	p := &c.post
	if err := checkPoints(xs, ys, nil); err != nil {
		c.forget()
		return err
	}
	if p.pre == nil {
		p.pre = new(Exponential)
	}
	share(len(xs), &p.sigma)
	about := p.pre.Fit(xs, ys) == nil
	for i, y := range ys {
		if about {
			y = p.pre.Predict(xs[i])
		}
		v := 0.2*0.2 + 0.03*0.03*y*y
		p.sigma[i] = 1 / v
	}
	return c.FitWeighted(xs, ys, p.sigma)
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
	p := &c.post
	if err := p.lay(xs); err != nil {
		return err
	}
	p.nu0 = c.prior()
	p.nu = p.nu0 + float64(len(xs)-2)
	if err := p.line(ys, weights, c.tilt()); err != nil {
		return err
	}
	if err := p.weigh(); err != nil {
		return err
	}
	lo, hi := minMax(xs)
	c.lo, c.rng = lo, hi-lo
	c.average()
	for i, x := range xs {
		r := ys[i] - c.Predict(x)
		c.rss += p.w[i] * r * r
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

// lay evaluates every shape at the points, unless they are those of the last fit.
func (p *posterior) lay(xs []float64) error {
	same := len(xs) > 0 && len(xs) == len(p.xs)
	for i := 0; same && i < len(xs); i++ {
		same = xs[i] == p.xs[i]
	}
	if same {
		return nil
	}
	p.xs = p.xs[:0] // not laid until all is done
	if k := distinct(xs); k < 3 {
		return fmt.Errorf("curve: found %d different xs, want 3 or more: %w", k, ErrUndetermined)
	}
	lo, hi := minMax(xs)
	if !finite(hi - lo) {
		return fmt.Errorf("curve: the xs span more than a number can say: %w", ErrInput)
	}
	d := shapes()
	n := len(xs)
	share(n, &p.u, &p.w, &p.q0, &p.q1, &p.residual)
	p.values = resize(p.values, n*len(d.prior))
	if len(p.shapes) == 0 {
		p.shapes = make([]shapeFit, len(d.prior))
		p.active = make([]int, 0, len(d.prior))
		p.cumul = make([]float64, 0, len(d.prior))
		p.weights = make([]float64, 0, len(d.prior))
	}
	for i, x := range xs {
		p.u[i] = (x - lo) / (hi - lo)
		d.at(p.u[i], p.values[i:], n)
	}
	p.xs = append(p.xs, xs...)
	return nil
}

// distinct counts the different xs, up to three.
func distinct(xs []float64) int {
	n := min(len(xs), 1)
	second := math.NaN()
	for _, x := range xs {
		switch {
		case x == xs[0] || x == second:
		case n == 1:
			second, n = x, 2
		default:
			return 3
		}
	}
	return n
}

// line fits a + b·u alone, with the prior of b as one more row, and keeps what the
// shapes are projected with.
func (p *posterior) line(ys, weights []float64, tilt float64) error {
	total, mean := 0.0, 0.0
	for i, y := range ys {
		w := 1.0
		if weights != nil {
			w = weights[i]
		}
		p.w[i] = w
		total += w
		mean += w * y
	}
	mean /= total
	var wu, wuu, wuy float64
	for i, y := range ys {
		u, w := p.u[i], p.w[i]
		wu += w * u
		wuu += w * u * u
		wuy += w * u * (y - mean)
	}
	p.top = mean
	p.l00 = math.Sqrt(total)
	p.l10 = wu / p.l00
	p.l11 = math.Sqrt(wuu + 1/(tilt*tilt) - p.l10*p.l10)
	p.z0 = 0
	p.z1 = wuy / p.l11
	b := p.z1 / p.l11
	a := -p.l10 * b / p.l00
	for i, y := range ys {
		u, w := p.u[i], p.w[i]
		p.q0[i] = w / p.l00
		p.q1[i] = (w*u - p.l10*p.q0[i]) / p.l11
		p.residual[i] = w * (y - mean - a - b*u)
	}
	b2 := b / tilt
	p.rss0, p.spread = b2*b2, 0
	for i, y := range ys {
		r := y - mean - a - b*p.u[i]
		p.rss0 += p.w[i] * r * r
		p.spread += p.w[i] * (y - mean) * (y - mean)
	}
	if !(p.l11 > 0) || !finite(p.l11) || !finite(p.rss0) || !finite(p.spread) {
		p.xs = p.xs[:0]
		return fmt.Errorf("curve: the ys or their weights are too large or too small to square: %w", ErrInput)
	}
	return nil
}

// weigh fits every shape and finds which of them have weight: for given shape the
// posterior of a, b, s and the scale is conjugate, and its evidence is
//
//	prior · |A|^(−½) · (ν₀ + RSS)^(−ν/2)
func (p *posterior) weigh() error {
	d := shapes()
	n := len(p.u)
	w, q0, q1, residual := p.w[:n], p.q0[:n], p.q1[:n], p.residual[:n]
	least := math.Inf(1)
	// What rounding leaves of a perfect fit.
	floor := 1e-13 * p.spread
	for j := range p.shapes {
		row := p.values[j*n : (j+1)*n][:n]
		var num, l20, l21, ff float64
		for i, f := range row {
			num += f * residual[i]
			l20 += f * q0[i]
			l21 += f * q1[i]
			ff += f * f * w[i]
		}
		t := &p.shapes[j]
		square := ff - l20*l20 - l21*l21
		if !(num > 0) || !(square > 1e-12*ff) {
			t.weight = 0
			continue
		}
		t.l20, t.l21 = l20, l21
		t.s = num / square
		t.rss = max(p.rss0-num*t.s, floor)
		t.l22 = math.Sqrt(square)
		t.weight = d.prior[j] / t.l22
		least = min(least, t.rss)
	}
	if !finite(least) {
		return fmt.Errorf("curve: no convex curve rises through the points: %w", ErrUndetermined)
	}
	top := 0.0
	for j := range p.shapes {
		t := &p.shapes[j]
		if t.weight == 0 {
			continue
		}
		t.weight *= p.likelihood(least, t.rss)
		top = max(top, t.weight)
	}
	p.active, p.weights, p.cumul = p.active[:0], p.weights[:0], p.cumul[:0]
	total := 0.0
	for j := range p.shapes {
		if v := p.shapes[j].weight; v > negligible*top {
			p.active = append(p.active, j)
			p.weights = append(p.weights, v)
			total += v
		}
	}
	if !(total > 0) {
		return fmt.Errorf("curve: no convex curve rises through the points: %w", ErrUndetermined)
	}
	sum := 0.0
	for i := range p.weights {
		p.weights[i] /= total
		sum += p.weights[i]
		p.cumul = append(p.cumul, sum)
	}
	return nil
}

// likelihood returns ((ν₀ + least)/(ν₀ + rss))^(ν/2).
func (p *posterior) likelihood(least, rss float64) float64 {
	if math.IsInf(p.nu0, 1) {
		return math.Exp((least - rss) / 2)
	}
	r := (p.nu0 + least) / (p.nu0 + rss)
	if p.nu > 64 || p.nu != math.Trunc(p.nu) {
		return math.Pow(r, p.nu/2)
	}
	k := int(p.nu)
	v := 1.0
	if k%2 == 1 {
		v = math.Sqrt(r)
	}
	for k /= 2; k > 0; k /= 2 {
		if k%2 == 1 {
			v *= r
		}
		r *= r
	}
	return v
}

// solve returns a, b and s of a shape whose right-hand sides are z0, z1 and z2.
func (p *posterior) solve(t *shapeFit, z0, z1, z2 float64) (a, b, s float64) {
	s = z2 / t.l22
	b = (z1 - t.l21*s) / p.l11
	a = (z0 - p.l10*b - t.l20*s) / p.l00
	return a + p.top, b, s
}

// average makes the posterior mean curve.
func (c *Convex) average() {
	p, d := &c.post, shapes()
	c.mean = resize(c.mean, 2*nodes)
	f, slope := c.mean[:nodes], c.mean[nodes:]
	clear(slope)
	c.a, c.b, c.s = 0, 0, 1
	for i, j := range p.active {
		t := &p.shapes[j]
		a, b, s := p.solve(t, p.z0, p.z1, t.s*t.l22)
		w := p.weights[i]
		c.a += w * a
		c.b += w * b
		_, of := d.row(j)
		floats.AddScaled(slope, w*s, of)
	}
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
	i := min(sort.SearchFloat64s(p.cumul, at), len(p.active)-1)
	j := p.active[i]
	t := &p.shapes[j]
	chi := distuv.ChiSquared{K: p.nu, Src: rng}
	dst.bent = bent{lo: c.lo, rng: c.rng}
	dst.f, dst.slope = shapes().row(j)
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
	dst.a, dst.b, dst.s = p.solve(t, p.z0, p.z1, z2)
	return scale
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
