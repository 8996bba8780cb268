package average

import (
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/shape"
	"example.com/steptest/lactate/internal/noise"
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
	shapes   []projection
	some     []shapeFit // that may have weight
}

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
	best, err := k.project()
	if err != nil {
		return 0, err
	}
	if err := k.weigh(p, best); err != nil {
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

// evaluate sets values to those of all shapes at some of the points, so many shapes at a
// time that they stay in the nearest cache.
func (k *Work) evaluate(from, to int) {
	const some = 256
	d, n := shape.All(), to-from
	for j := 0; j < len(d.Prior); j += some {
		end := min(j+some, len(d.Prior))
		for i, u := range k.u[from:to] {
			d.At(u, j, end, k.values[j*n+i:], n)
		}
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
