package average

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
)

// A projection is one shape, with what the line explains of it taken out.
type projection struct {
	num      float64 // its product with the residual of the line
	l20, l21 float64 // with the two rows of the line
	square   float64 // its own square; zero if the line explains it all
	rss      float64 // of the fit, with the pseudo-row
}

// negligible is the weight, relative to the largest, below which a shape is left
// out. All that are left out together weigh about a thousandth of the whole.
const negligible = 1e-4

// project fits every shape, and returns the one that fits best.
func (k *Work) project() (best int, err error) {
	k.products()
	least, rises := math.Inf(1), false
	floor := 1e-13 * k.spread // what rounding leaves of a perfect fit
	for j := range k.shapes {
		t := &k.shapes[j]
		square := t.square - t.l20*t.l20 - t.l21*t.l21
		if !(square > 1e-12*t.square) {
			t.square = 0
			continue
		}
		num := t.num
		rss := k.rss0 - num*(num/square)
		if rss < floor {
			rss = floor
		}
		t.square, t.rss = square, rss
		rises = rises || num > 0
		if rss < least {
			least, best = rss, j
		}
	}
	if !points.Finite(least) || !rises {
		return 0, errFalls
	}
	return best, nil
}

var errFalls = fmt.Errorf("curve: no convex curve rises through the points: %w", points.ErrUndetermined)

// weigh finds which shapes have weight: for given shape the posterior of a, b, s and the
// scale is conjugate, and its evidence is
//
//	prior · |A|^(−½) · (ν₀ + RSS)^(−ν/2) · P(s > 0)
func (k *Work) weigh(p *Posterior, best int) error {
	least := k.shapes[best].rss
	// The one that fits best first: beside it most others do not matter.
	k.some = points.Resize(k.some, len(k.shapes))
	k.evidence(p, best, least, &k.some[0])
	top := k.some[0].weight
	rival := p.scale.Rival(least)
	n := 0
	for j, prior := range p.shapes.Prior {
		of := &k.shapes[j]
		limit := negligible * top
		// Most are ruled out by squares, which take no roots.
		if of.square == 0 || prior*prior < 0.999*rival.InverseSquare(of.rss)*(limit*of.square*limit) {
			continue
		}
		k.evidence(p, j, least, &k.some[n])
		if v := k.some[n].weight; v > limit {
			top = max(top, v)
			n++
		}
	}
	some := k.some[:n]
	active, total := 0, 0.0
	for i := range some {
		if v := some[i].weight; v > negligible*top {
			active++
			total += v
		}
	}
	if !(total > 0) {
		return errFalls
	}
	p.active = points.Resize(p.active, active)
	sum, m := 0.0, 0
	for i := range some {
		if !(some[i].weight > negligible*top) {
			continue
		}
		t := &p.active[m]
		*t = some[i]
		t.weight /= total
		sum += t.weight
		t.cumulative = sum
		m++
	}
	return nil
}

// evidence sets t to shape j, fitted, its weight not yet divided by that of all.
func (k *Work) evidence(p *Posterior, j int, least float64, t *shapeFit) {
	of := &k.shapes[j]
	t.shape, t.l20, t.l21, t.l22 = j, of.l20, of.l21, math.Sqrt(of.square)
	t.s, t.rss = of.num/of.square, of.rss
	t.weight = p.shapes.Prior[j] / t.l22 * p.scale.Likelihood(least, t.rss)
	p.truncate(t)
}

// products leaves in every shape its products with the points: with the residual of the line,
// with the line's two rows, and its own square.
func (k *Work) products() {
	n := len(k.u)
	for from := 0; from < n; from += keptPoints {
		to := min(from+keptPoints, n)
		if n > keptPoints {
			k.evaluate(from, to)
		}
		k.add(from, to)
	}
}

// add adds the products with some of the points.
func (k *Work) add(from, to int) {
	stride, first := to-from, 0
	if k.u[from] == 0 { // as the first point nearly always; there every shape is zero
		first = 1
	}
	n := stride - first
	w, q0, q1, residual := k.w[from+first:][:n], k.q0[from+first:][:n], k.q1[from+first:][:n], k.residual[from+first:][:n]
	values := k.values[first:]
	for j := range k.shapes {
		var num, l20, l21, square float64
		t := &k.shapes[j]
		if from > 0 {
			num, l20, l21, square = t.num, t.l20, t.l21, t.square
		}
		for i, f := range values[j*stride:][:n] {
			num += f * residual[i]
			l20 += f * q0[i]
			l21 += f * q1[i]
			square += f * f * w[i]
		}
		t.num, t.l20, t.l21, t.square = num, l20, l21, square
	}
}
