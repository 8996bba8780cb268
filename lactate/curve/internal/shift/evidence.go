package shift

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/shape"
	"example.com/steptest/lactate/internal/noise"
)

// evidence weighs shifts of groups of points against one another: the
// posterior density of the shifts, over all shapes of a dictionary, the shapes' three
// coefficients and the scale of the noise.
type evidence struct {
	scale noise.Scale
	tilt  float64
	// The points.
	xs, ys, w []float64 // ys about their weighted mean
	group     []int
	l00       float64
	spread    float64 // weighted sum of squares of the ys
	// The groups.
	lo, hi     []float64
	loAt, hiAt []int // the points at their ends
	// Of the points at one place of the groups.
	u, q0, q1, residual []float64
	values              []float64 // f, [point*shapes+shape]
	// Of the shapes.
	num, l20, l21, ff, rss []float64
}

// set takes points and groups over; they have been checked.
func (e *evidence) set(xs, ys, weights []float64, groups []int, n int, nu0, tilt float64) error {
	e.scale, e.tilt = noise.Scale{Prior: nu0, Nu: nu0 + float64(len(xs)-2)}, tilt
	points.Share(len(xs), &e.xs, &e.ys, &e.w, &e.u, &e.q0, &e.q1, &e.residual)
	points.Share(n, &e.lo, &e.hi)
	e.group = append(e.group[:0], groups...)
	e.loAt, e.hiAt = points.Resize(e.loAt, n), points.Resize(e.hiAt, n)
	for g := range n {
		e.loAt[g], e.hiAt[g] = -1, -1
	}
	total, mean := 0.0, 0.0
	for i, g := range groups {
		if k := e.loAt[g]; k < 0 || xs[i] < xs[k] {
			e.loAt[g] = i
		}
		if k := e.hiAt[g]; k < 0 || xs[i] > xs[k] {
			e.hiAt[g] = i
		}
		e.xs[i], e.w[i] = xs[i], 1
		if weights != nil {
			e.w[i] = weights[i]
		}
		total += e.w[i]
		mean += e.w[i] * ys[i]
	}
	mean /= total
	e.l00 = math.Sqrt(total)
	e.spread = 0
	for i, y := range ys {
		e.ys[i] = y - mean
		e.spread += e.w[i] * e.ys[i] * e.ys[i]
	}
	for g := range n {
		e.lo[g], e.hi[g] = xs[e.loAt[g]], xs[e.hiAt[g]]
	}
	if !points.Finite(e.spread) || !(total > 0) || !points.Finite(total) || !points.Finite(1/(e.tilt*e.tilt)) {
		return fmt.Errorf("curve: the ys or their weights are too large or too small to square: %w", points.ErrInput)
	}
	if !(e.spread > 1e-250) {
		return fmt.Errorf("curve: the ys are all alike: %w", points.ErrUndetermined)
	}
	return nil
}

// log returns the log of the posterior density of the shifts, but for a constant;
// −Inf where no shape of the dictionary rises through the points.
func (e *evidence) log(d *shape.Dictionary, shifts []float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for g, s := range shifts {
		lo, hi = min(lo, e.lo[g]-s), max(hi, e.hi[g]-s)
	}
	if !(hi > lo) {
		return math.Inf(-1)
	}
	for i, x := range e.xs {
		e.u[i] = min(max((x-shifts[e.group[i]]-lo)/(hi-lo), 0), 1)
	}
	rss0, l11 := e.line()
	if !(l11 > 0) || !points.Finite(rss0) {
		return math.Inf(-1)
	}
	e.project(d)
	return e.sum(d, rss0) - math.Log(l11)
}

// line fits a + b·u alone, with the prior of b as one more row.
func (e *evidence) line() (rss, l11 float64) {
	var wu, wuu, wuy float64
	for i, u := range e.u {
		w := e.w[i]
		wu += w * u
		wuu += w * u * u
		wuy += w * u * e.ys[i]
	}
	l10 := wu / e.l00
	l11 = math.Sqrt(wuu + 1/(e.tilt*e.tilt) - l10*l10)
	b := wuy / (l11 * l11)
	a := -l10 * b / e.l00
	scaled := b / e.tilt
	rss = scaled * scaled
	for i, u := range e.u {
		w := e.w[i]
		e.q0[i] = w / e.l00
		e.q1[i] = (w*u - l10*e.q0[i]) / l11
		r := e.ys[i] - a - b*u
		e.residual[i] = w * r
		rss += w * r * r
	}
	return rss, l11
}

// project evaluates every shape at the points, and takes its inner products.
func (e *evidence) project(d *shape.Dictionary) {
	n := len(d.Prior)
	e.values = points.Resize(e.values, n*len(e.u))
	points.Share(n, &e.num, &e.l20, &e.l21, &e.ff, &e.rss)
	num, l20, l21, ff := e.num[:n], e.l20[:n], e.l21[:n], e.ff[:n]
	clear(num)
	clear(l20)
	clear(l21)
	clear(ff)
	for i := 0; i < len(e.u); i += 2 { // by twos, to touch the sums less often
		k := min(i+1, len(e.u)-1)
		first, second := e.values[i*n : (i+1)*n][:n], e.values[k*n : (k+1)*n][:n]
		d.At(e.u[i], 0, len(first), first, 1)
		w, q0, q1, r := e.w[i], e.q0[i], e.q1[i], e.residual[i]
		var w2, q02, q12, r2 float64
		if k > i {
			d.At(e.u[k], 0, len(second), second, 1)
			w2, q02, q12, r2 = e.w[k], e.q0[k], e.q1[k], e.residual[k]
		}
		for j, f := range first {
			g := second[j]
			num[j] += f*r + g*r2
			l20[j] += f*q0 + g*q02
			l21[j] += f*q1 + g*q12
			ff[j] += f*f*w + g*g*w2
		}
	}
}

// sum adds up the evidence of the shapes: for given shape the posterior of a, b, s and
// the scale is conjugate, and its evidence is
//
//	prior · r · |A|^(−½) · (ν₀ + RSS)^(−ν/2)
//
// where r is the root mean square of what f rises by across each group's range: s·r,
// whose prior is flat, does not change as the joint range does. Without r, shifts
// that widen the joint range would gain weight as s stretches. In place of num stays
// the weight of each shape.
func (e *evidence) sum(d *shape.Dictionary, rss0 float64) float64 {
	n := len(d.Prior)
	least := math.Inf(1)
	floor := 1e-13 * e.spread
	for j, num := range e.num[:n] {
		square := e.ff[j] - e.l20[j]*e.l20[j] - e.l21[j]*e.l21[j]
		if !(num > 0) || !(square > 1e-12*e.ff[j]) {
			e.num[j] = 0
			continue
		}
		rss := max(rss0-num*(num/square), floor)
		e.rss[j] = rss
		least = min(least, rss)
		rise2 := 0.0
		for g, k := range e.hiAt {
			rise := e.values[k*n+j] - e.values[e.loAt[g]*n+j]
			rise2 += rise * rise
		}
		e.num[j] = d.Prior[j] * math.Sqrt(rise2/square)
	}
	if !points.Finite(least) {
		return math.Inf(-1)
	}
	total := 0.0
	for j, v := range e.num[:n] {
		if v == 0 {
			continue
		}
		v *= e.scale.Likelihood(least, e.rss[j])
		e.num[j] = v
		total += v
	}
	if !(total > 0 && points.Finite(total)) {
		return math.Inf(-1)
	}
	if e.scale.Certain() {
		return math.Log(total) - least/2
	}
	return math.Log(total) - e.scale.Nu/2*math.Log(e.scale.Prior+least)
}
