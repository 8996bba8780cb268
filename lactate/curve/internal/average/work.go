package average

import (
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate/curve/internal/noise"
	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/shape"
)

// Work is the work space of a fit. It is a hundred times as large as a [Posterior], and
// the values of all shapes at the points of the last fit serve the next one of the same
// xs.
type Work struct {
	xs, u    []float64
	lo, rng  float64   // lowest x, and the range
	values   []float64 // f at the points, [shape*len(xs)+point]; of many points, of some at a time
	w        []float64 // 1/σ² of the points
	q0, q1   []float64 // of the points: rows of the projection on 1 and u
	residual []float64 // w times the residual of the line
	rss0     float64   // of the line, with the pseudo-row
	spread   float64   // weighted sum of squares of the ys about their mean
	shapes   []shapeFit
}

// negligible is the weight, relative to the largest, below which a shape is left
// out. All that are left out together weigh about a thousandth of the whole.
const negligible = 1e-4

// keptPoints is for how many points the values of all shapes are kept.
const keptPoints = 64

// Fit finds the posterior of points that have been checked, its mean curve, and the
// weighted sum of squares about that. The standard deviations that the weights say count
// for nu0 observations; tilt is the prior standard deviation of b.
func (k *Work) Fit(p *Posterior, mean *shape.Curve, xs, ys, weights []float64, nu0, tilt float64) (rss float64, err error) {
	if err := k.lay(xs); err != nil {
		return 0, err
	}
	p.shapes = shape.All()
	p.scale = noise.Scale{Prior: nu0, Nu: nu0 + float64(len(xs)-2)}
	p.t = noise.NewStudent(p.scale.Nu)
	if err := k.line(p, ys, weights, tilt); err != nil {
		return 0, err
	}
	if err := k.weigh(p); err != nil {
		return 0, err
	}
	mean.Lo, mean.Rng = k.lo, k.rng
	p.meanCurve(mean)
	for i, x := range xs {
		y, _ := mean.At(mean.Scaled(x))
		r := ys[i] - y
		rss += k.w[i] * r * r
	}
	return rss, nil
}

// evaluate sets values to those of all shapes at some of the points.
func (k *Work) evaluate(from, to int) {
	d := shape.All()
	for i, u := range k.u[from:to] {
		d.At(u, k.values[i:], to-from)
	}
}

// lay evaluates every shape at the points, unless they are those of the last fit.
func (k *Work) lay(xs []float64) error {
	if len(xs) > 0 && slices.Equal(xs, k.xs) {
		return nil
	}
	k.xs = k.xs[:0] // not laid until all is done
	if n := points.Distinct(xs, 3); n < 3 {
		return fmt.Errorf("curve: found %d different xs, want 3 or more: %w", n, points.ErrUndetermined)
	}
	lo, hi := xs[0], xs[0]
	for _, x := range xs {
		lo, hi = min(lo, x), max(hi, x)
	}
	if !points.Finite(hi - lo) {
		return fmt.Errorf("curve: the xs span more than a number can say: %w", points.ErrInput)
	}
	k.lo, k.rng = lo, hi-lo
	n, shapes := len(xs), len(shape.All().Prior)
	points.Share(n, &k.u, &k.w, &k.q0, &k.q1, &k.residual)
	for i, x := range xs {
		k.u[i] = (x - lo) / k.rng
	}
	k.shapes = points.Resize(k.shapes, shapes)
	k.values = points.Resize(k.values, min(n, keptPoints)*shapes)
	if n <= keptPoints {
		k.evaluate(0, n)
	}
	k.xs = append(k.xs, xs...)
	return nil
}

// line fits a + b·u alone, with the prior of b as one more row, and keeps what the
// shapes are projected with.
func (k *Work) line(p *Posterior, ys, weights []float64, tilt float64) error {
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
	if !(p.l11 > 0) || !points.Finite(p.l11) || !points.Finite(k.rss0) || !points.Finite(k.spread) {
		k.xs = k.xs[:0]
		return fmt.Errorf("curve: the ys or their weights are too large or too small to square: %w", points.ErrInput)
	}
	return nil
}

// weigh fits every shape and finds which of them have weight: for given shape the
// posterior of a, b, s and the scale is conjugate, and its evidence is
//
//	prior · |A|^(−½) · (ν₀ + RSS)^(−ν/2) · P(s > 0)
func (k *Work) weigh(p *Posterior) error {
	n := len(k.u)
	prior := p.shapes.Prior
	first := 0
	if k.u[0] == 0 { // as nearly always; there every shape is zero
		first = 1
	}
	rest := n - first
	w, q0, q1, residual := k.w[first:][:rest], k.q0[first:][:rest], k.q1[first:][:rest], k.residual[first:][:rest]
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
			for i, f := range k.values[j*n+first : (j+1)*n][:rest] {
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
		t.weight = prior[j] / t.l22
		rises = rises || num > 0
		least = min(least, t.rss)
	}
	if !points.Finite(least) || !rises {
		return fmt.Errorf("curve: no convex curve rises through the points: %w", points.ErrUndetermined)
	}
	best := 0
	for j := range k.shapes {
		t := &k.shapes[j]
		if t.weight == 0 {
			continue
		}
		t.weight *= p.scale.Likelihood(least, t.rss)
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
		return fmt.Errorf("curve: no convex curve rises through the points: %w", points.ErrUndetermined)
	}
	p.active = points.Resize(p.active, active)[:0]
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

// sumMany leaves in every shape its products with the points, some points at a time: with
// the residual of the line in s, with the line's two rows in l20 and l21, its own square in
// l22.
func (k *Work) sumMany() {
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
