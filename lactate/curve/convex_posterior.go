package curve

import (
	"fmt"
	"math"
	"slices"
	"sync"
)

// A posterior is what draws need: the shapes that have weight, and the line.
type posterior struct {
	nu0, nu float64
	t       student // of ν degrees of freedom
	top     float64 // weighted mean of the ys
	// Cholesky factor of the line's part, and the line itself.
	l00, l10, l11 float64
	z0, z1        float64
	active        []shapeFit
}

// shapeFit is one shape, fitted.
type shapeFit struct {
	shape         int
	l20, l21, l22 float64 // last row of the Cholesky factor
	s, rss        float64 // rss with the pseudo-row
	rise          float64 // posterior mean of s, which is above zero
	weight        float64 // the active ones sum to one
	cumulative    float64
}

// convexWork is the work space of a fit. Fits share a few of them: it is a
// hundred times as large as what a fitted curve keeps, and the values of all
// shapes at the points of the last fit serve the next one of the same xs.
type convexWork struct {
	xs, u    []float64
	values   []float64 // f at the points, [shape*len(xs)+point]; of many points, of some at a time
	w        []float64 // 1/σ² of the points
	q0, q1   []float64 // of the points: rows of the projection on 1 and u
	residual []float64 // w times the residual of the line
	rss0     float64   // of the line, with the pseudo-row
	spread   float64   // weighted sum of squares of the ys about their mean
	shapes   []shapeFit
	pre      Exponential
	weights  []float64 // for Fit
}

var convexWorks = sync.Pool{New: func() any { return &convexWork{shapes: make([]shapeFit, len(shapes().prior))} }}

// negligible is the weight, relative to the largest, below which a shape is left
// out. All that are left out together weigh about a thousandth of the whole.
const negligible = 1e-4

// keptPoints is for how many points the values of all shapes are kept.
const keptPoints = 64

// evaluate sets values to those of all shapes at some of the points.
func (k *convexWork) evaluate(from, to int) {
	d := shapes()
	for i, u := range k.u[from:to] {
		d.at(u, k.values[i:], to-from)
	}
}

// lay evaluates every shape at the points, unless they are those of the last fit.
func (k *convexWork) lay(xs []float64) error {
	if len(xs) > 0 && slices.Equal(xs, k.xs) {
		return nil
	}
	k.xs = k.xs[:0] // not laid until all is done
	if n := distinct(xs); n < 3 {
		return fmt.Errorf("curve: found %d different xs, want 3 or more: %w", n, ErrUndetermined)
	}
	lo, hi := minMax(xs)
	if !finite(hi - lo) {
		return fmt.Errorf("curve: the xs span more than a number can say: %w", ErrInput)
	}
	d := shapes()
	n := len(xs)
	share(n, &k.u, &k.w, &k.q0, &k.q1, &k.residual)
	for i, x := range xs {
		k.u[i] = (x - lo) / (hi - lo)
	}
	k.values = resize(k.values, min(n, keptPoints)*len(d.prior))
	if n <= keptPoints {
		k.evaluate(0, n)
	}
	k.xs = append(k.xs, xs...)
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
func (k *convexWork) line(p *posterior, ys, weights []float64, tilt float64) error {
	total, mean := 0.0, 0.0
	for i, y := range ys {
		w := 1.0
		if weights != nil {
			w = weights[i]
		}
		k.w[i] = w
		total += w
		mean += w * y
	}
	mean /= total
	wu := 0.0
	for i, u := range k.u {
		wu += k.w[i] * u
	}
	centre := wu / total
	var wuu, wuy float64
	for i, y := range ys {
		u, w := k.u[i]-centre, k.w[i]
		wuu += w * u * u
		wuy += w * u * (y - mean)
	}
	p.top = mean
	p.l00 = math.Sqrt(total)
	p.l10 = wu / p.l00
	p.l11 = math.Sqrt(wuu + 1/(tilt*tilt))
	p.z0 = 0
	p.z1 = wuy / p.l11
	b := p.z1 / p.l11
	a := -p.l10 * b / p.l00
	for i, y := range ys {
		u, w := k.u[i], k.w[i]
		k.q0[i] = w / p.l00
		k.q1[i] = w * (u - centre) / p.l11
		k.residual[i] = w * (y - mean - a - b*u)
	}
	b2 := b / tilt
	k.rss0, k.spread = b2*b2, 0
	for i, y := range ys {
		r := y - mean - a - b*k.u[i]
		k.rss0 += k.w[i] * r * r
		k.spread += k.w[i] * (y - mean) * (y - mean)
	}
	if !(p.l11 > 0) || !finite(p.l11) || !finite(k.rss0) || !finite(k.spread) {
		k.xs = k.xs[:0]
		return fmt.Errorf("curve: the ys or their weights are too large or too small to square: %w", ErrInput)
	}
	return nil
}

// weigh fits every shape and finds which of them have weight: for given shape the
// posterior of a, b, s and the scale is conjugate, and its evidence is
//
//	prior · |A|^(−½) · (ν₀ + RSS)^(−ν/2) · P(s > 0)
func (k *convexWork) weigh(p *posterior) error {
	d := shapes()
	n := len(k.u)
	w, q0, q1, residual := k.w[:n], k.q0[:n], k.q1[:n], k.residual[:n]
	least, rises := math.Inf(1), false
	// What rounding leaves of a perfect fit.
	floor := 1e-13 * k.spread
	if n > keptPoints {
		k.sumMany()
	}
	for j := range k.shapes {
		t := &k.shapes[j]
		num, l20, l21, ff := t.s, t.l20, t.l21, t.l22
		if n <= keptPoints {
			num, l20, l21, ff = 0, 0, 0, 0
			for i, f := range k.values[j*n : (j+1)*n][:n] {
				num += f * residual[i]
				l20 += f * q0[i]
				l21 += f * q1[i]
				ff += f * f * w[i]
			}
		}
		square := ff - l20*l20 - l21*l21
		if !(square > 1e-12*ff) {
			t.weight = 0
			continue
		}
		t.l20, t.l21 = l20, l21
		t.s = num / square
		t.rss = max(k.rss0-num*t.s, floor)
		t.l22 = math.Sqrt(square)
		t.weight = d.prior[j] / t.l22
		rises = rises || num > 0
		least = min(least, t.rss)
	}
	if !finite(least) || !rises {
		return fmt.Errorf("curve: no convex curve rises through the points: %w", ErrUndetermined)
	}
	best := 0
	for j := range k.shapes {
		t := &k.shapes[j]
		if t.weight == 0 {
			continue
		}
		t.weight *= p.likelihood(least, t.rss)
		if t.weight > k.shapes[best].weight {
			best = j
		}
	}
	// The likeliest first: beside it most others do not matter.
	p.truncate(&k.shapes[best])
	top := k.shapes[best].weight
	for j := range k.shapes {
		if t := &k.shapes[j]; j != best && t.weight > negligible*top {
			p.truncate(t)
			top = max(top, t.weight)
		}
	}
	active, total := 0, 0.0
	for j := range k.shapes {
		if v := k.shapes[j].weight; v > negligible*top {
			active++
			total += v
		}
	}
	if !(total > 0) {
		return fmt.Errorf("curve: no convex curve rises through the points: %w", ErrUndetermined)
	}
	p.active = resize(p.active, active)[:0]
	sum := 0.0
	for j := range k.shapes {
		t := &k.shapes[j]
		if !(t.weight > negligible*top) {
			continue
		}
		t.shape = j
		t.weight /= total
		sum += t.weight
		t.cumulative = sum
		p.active = append(p.active, *t)
	}
	return nil
}

// truncate weighs a shape by the probability that it rises, and finds its mean rise: s is
// Student's t about its estimate, and above zero.
func (p *posterior) truncate(t *shapeFit) {
	t.rise = t.s
	se := 1 / t.l22
	if !math.IsInf(p.nu0, 1) {
		se *= math.Sqrt((p.nu0 + t.rss) / p.nu)
	}
	x := t.s / se
	if x > 8 {
		return // next to certain
	}
	above := p.t.cdf(x)
	t.weight *= above
	if math.IsInf(p.nu, 1) {
		t.rise += se * p.t.prob(x) / above
	} else if p.nu > 1 {
		t.rise += se * (p.nu + x*x) / (p.nu - 1) * p.t.prob(x) / above
	}
	if !(t.rise > 0) || !finite(t.rise) {
		t.weight = 0
	}
}

// sumMany leaves in every shape its products with the points, some points at a time: with
// the residual of the line in s, with the line's two rows in l20 and l21, its own square in
// l22.
func (k *convexWork) sumMany() {
	for j := range k.shapes {
		k.shapes[j] = shapeFit{}
	}
	for from := 0; from < len(k.u); from += keptPoints {
		n := min(keptPoints, len(k.u)-from)
		k.evaluate(from, from+n)
		for j := range k.shapes {
			t := &k.shapes[j]
			for i, f := range k.values[j*n : (j+1)*n] {
				t.s += f * k.residual[from+i]
				t.l20 += f * k.q0[from+i]
				t.l21 += f * k.q1[from+i]
				t.l22 += f * f * k.w[from+i]
			}
		}
	}
}

// likelihood returns ((ν₀ + least)/(ν₀ + rss))^(ν/2).
func (p *posterior) likelihood(least, rss float64) float64 {
	if math.IsInf(p.nu0, 1) {
		return math.Exp((least - rss) / 2)
	}
	r := (p.nu0 + least) / (p.nu0 + rss)
	if p.nu > fewDegrees || p.nu != math.Trunc(p.nu) {
		return math.Pow(r, p.nu/2)
	}
	return halfPower(r, int(p.nu))
}

// solve returns a, b and s of a shape whose right-hand sides are z0, z1 and z2.
func (p *posterior) solve(t *shapeFit, z0, z1, z2 float64) (a, b, s float64) {
	s = z2 / t.l22
	b = (z1 - t.l21*s) / p.l11
	a = (z0 - p.l10*b - t.l20*s) / p.l00
	return a + p.top, b, s
}
