package polynomial

import (
	"math"

	"example.com/steptest/lactate/curve/internal/points"
)

// orthogonal is the working space of a polynomial fit: the points, and the
// polynomials of Forsythe (1957) at the points.
//
//	P₀ = 1,  P₁ = u − α₀,  P_{k+1} = (u − α_k)·P_k − β_k·P_{k−1}
//	α_k = Σ w·u·P_k² / N_k,  β_k = N_k / N_{k−1},  N_k = Σ w·P_k²
//
// are orthogonal over the points: each coefficient of the fit, Σ w·y·P_k / N_k,
// is found by itself.
type orthogonal struct {
	points []orthogonalPoint
	basis  []orthogonalValues
	mid    float64
	step   float64 // power of two
}

type orthogonalPoint struct {
	u, ulo float64 // (x − mid)·step and its rounding error
	y, w   float64
	r      float64 // residual
	p      [Cubic + 1]float64
}

// orthogonalValues are the two latest polynomials and the residual at a point.
type orthogonalValues struct{ prev, now, r dd }

// load scales the points into the working space: |u| ≤ 1, largest weight
// between 1/2 and 1. It returns the unit of the weights.
func (o *orthogonal) load(xs, ys, weights []float64) (unit float64) {
	o.points = points.Resize(o.points, len(xs))
	lo, hi := xs[0], xs[0]
	for _, x := range xs {
		if x < lo {
			lo = x
		}
		if x > hi {
			hi = x
		}
	}
	o.mid = lo/2 + hi/2
	o.step = 1 / points.PowerOfTwo(max(o.mid-lo, hi-o.mid))
	for i := range o.points {
		t := twoSum(xs[i], -o.mid)
		q := &o.points[i]
		q.u, q.ulo, q.y, q.w = t.hi*o.step, t.lo*o.step, ys[i], 1
	}
	if weights == nil {
		return 1
	}
	top := 0.0
	for _, w := range weights {
		top = max(top, w)
	}
	unit = points.PowerOfTwo(top)
	for i, w := range weights {
		o.points[i].w = w / unit
	}
	return unit
}

// fitPlain fits a polynomial of degree at most three in float64. It reports
// false, and leaves the work to fitAccurate, if the points are so placed
// that a polynomial of the basis is small at all of them: its coefficient is
// then large, and digits would be lost, in the fit and in evaluating it.
func (p *Curve) fitPlain(d int) bool {
	const small = 1e-6 // of N_k to N_0, for |u| ≤ 1: at most three digits lost
	pts := p.work.points
	var alpha, beta, norm, coef [Cubic + 1]float64
	var weight, sum, uw float64
	for i := range pts {
		q := &pts[i]
		weight += q.w
		sum += q.w * q.y
		uw += q.w * q.u
	}
	norm[0], coef[0], alpha[0] = weight, sum/weight, uw/weight
	for i := range pts {
		q := &pts[i]
		q.p[0] = 1
		q.r = q.y - coef[0]
	}
	for k := 1; k <= d; k++ {
		var nk, uk, yk float64
		a, b := alpha[k-1], beta[k-1]
		for i := range pts {
			q := &pts[i]
			v := (q.u - a) * q.p[k-1]
			if k > 1 {
				v -= b * q.p[k-2]
			}
			q.p[k] = v
			wv := q.w * v
			nk += wv * v
			uk += wv * v * q.u
			yk += wv * q.r
		}
		if !(nk > small*weight) {
			return false
		}
		c := yk / nk
		norm[k], coef[k], alpha[k], beta[k] = nk, c, uk/nk, nk/norm[k-1]
		if k < d {
			for i := range pts {
				pts[i].r -= c * pts[i].p[k]
			}
		}
	}
	c := inPowers(&alpha, &beta, &coef, d)
	// The residuals, once more from the points: what is left in them of the
	// basis corrects the rounding of the first pass, and the rounding of u.
	var left [Cubic + 1]float64
	p.rss = 0
	for i := range pts {
		q := &pts[i]
		slope := math.FMA(math.FMA(3*c[3], q.u, 2*c[2]), q.u, c[1])
		r := math.FMA(-q.u, math.FMA(math.FMA(c[3], q.u, c[2]), q.u, c[1]), q.y-c[0]) - slope*q.ulo
		wr := q.w * r
		p.rss += wr * r
		for k := range left {
			left[k] += wr * q.p[k]
		}
	}
	for k := range d + 1 {
		left[k] /= norm[k]
	}
	rest := inPowers(&alpha, &beta, &left, d)
	for k := range c {
		s := twoSum(c[k], rest[k])
		p.hi[k], p.lo[k] = s.hi, s.lo
	}
	p.centre, p.scale = p.work.mid, p.work.step
	return true
}

// inPowers returns Σ coef[k]·P_k, of degree d ≤ 3, as coefficients of 1, u,
// u², u³.
func inPowers(alpha, beta, coef *[Cubic + 1]float64, d int) (c [Cubic + 1]float64) {
	// P₁ = u − α₀; P₂ = u² + e·u + f; P₃ = u³ + g·u² + h·u + m.
	c[0] = coef[0] - alpha[0]*coef[1]
	c[1] = coef[1]
	if d < 2 {
		return c
	}
	e := -(alpha[0] + alpha[1])
	f := alpha[0]*alpha[1] - beta[1]
	c[0] += coef[2] * f
	c[1] += coef[2] * e
	c[2] = coef[2]
	if d < 3 {
		return c
	}
	g := e - alpha[2]
	h := f - alpha[2]*e - beta[2]
	m := beta[2]*alpha[0] - alpha[2]*f
	c[0] += coef[3] * m
	c[1] += coef[3] * h
	c[2] += coef[3] * g
	c[3] = coef[3]
	return c
}

// fitAccurate fits a polynomial of any degree in double-double arithmetic. It
// reports false if a polynomial of the basis vanishes at all points to
// within rounding.
func (p *Curve) fitAccurate(d int) bool {
	const vanishing = 0x1p-180 // of N_k to N_0: 2^-90 squared
	pts := p.work.points
	p.work.basis = points.Resize(p.work.basis, len(pts))
	basis := p.work.basis
	var c, now, prev [MaxDegree + 1]dd // the fit, P_k and P_{k−1} in powers of u
	var norm, lastNorm, weight, sum, uw dd
	for i := range pts {
		q := &pts[i]
		weight = weight.add(dd{q.w, 0})
		sum = sum.add(twoProd(q.w, q.y))
		uw = uw.add(dd{q.u, q.ulo}.times(q.w))
	}
	alpha := uw.div(weight)
	norm = weight
	c[0] = sum.div(weight)
	now[0] = dd{1, 0}
	for i := range pts {
		basis[i] = orthogonalValues{now: dd{1, 0}, r: dd{pts[i].y, 0}.sub(c[0])}
	}
	for k := 1; k <= d; k++ {
		var beta dd
		if k > 1 {
			beta = norm.div(lastNorm)
		}
		lastNorm = norm
		norm = dd{}
		var uk, yk dd
		for i := range pts {
			b := &basis[i]
			u := dd{pts[i].u, pts[i].ulo}
			v := u.sub(alpha).mul(b.now).sub(beta.mul(b.prev))
			b.prev, b.now = b.now, v
			wv := v.times(pts[i].w)
			wvv := wv.mul(v)
			norm = norm.add(wvv)
			uk = uk.add(wvv.mul(u))
			yk = yk.add(wv.mul(b.r))
		}
		if !(norm.hi > vanishing*weight.hi) {
			return false
		}
		var next [MaxDegree + 1]dd
		for j := range k {
			next[j+1] = now[j]
		}
		for j := range k {
			next[j] = next[j].sub(alpha.mul(now[j])).sub(beta.mul(prev[j]))
		}
		prev, now = now, next
		coef := yk.div(norm)
		for j := range k + 1 {
			c[j] = c[j].add(coef.mul(now[j]))
		}
		for i := range pts {
			basis[i].r = basis[i].r.sub(coef.mul(basis[i].now))
		}
		alpha = uk.div(norm)
	}
	var rss dd
	for i := range pts {
		r := basis[i].r
		rss = rss.add(r.mul(r).times(pts[i].w))
	}
	p.rss = rss.value()
	for k := range c {
		p.hi[k], p.lo[k] = c[k].hi, c[k].lo
	}
	p.centre, p.scale = p.work.mid, p.work.step
	return true
}
