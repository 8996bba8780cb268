package polynomial

import (
	"math"

	"example.com/steptest/lactate/curve/internal/points"
)

// Upcrossing returns the highest x in [lo, hi] at which the curve crosses the level going
// upward; at an end it is enough that it leaves or arrives so, up to rounding.
func (p *Curve) Upcrossing(level, lo, hi float64) (x float64, ok bool) {
	width := hi - lo
	if p.degree == 0 || !(lo < hi) || !points.Finite(width) || !points.Finite(level) {
		return 0, false
	}
	const slack = 1e-12 // what rounding can move a crossing out of the interval by
	a := (lo - slack*width - p.centre) * p.scale
	b := (hi + slack*width - p.centre) * p.scale
	var turn [MaxDegree + 1]float64
	n := p.turns(0, a, b, turn[1:])
	turn[0] = a
	turn[n+1] = b
	// From the right: the first monotone piece that starts below the level and
	// after which the curve does not fall below it before it is above.
	small := 0x1p-50 * (math.Abs(level) + math.Abs(p.hi[0]) + math.Abs(p.hi[1]) + math.Abs(p.hi[2]) + math.Abs(p.hi[3]))
	atEnd := func(u float64) float64 {
		if h := p.height(level, u); math.Abs(h) > small {
			return h
		}
		return 0
	}
	right := atEnd(b)
	next := right // the nearest height to the right that is not 0, if any
	for i := n; i >= 0; i-- {
		var left float64
		if i > 0 {
			left = p.height(level, turn[i])
		} else {
			left = atEnd(a)
		}
		if left < 0 && right > 0 {
			return p.into(p.root(level, turn[i], left, turn[i+1], right), lo, hi), true
		}
		if left < 0 && right == 0 && next >= 0 {
			return p.into(turn[i+1], lo, hi), true
		}
		if left != 0 {
			next = left
		}
		right = left
	}
	if right == 0 && next > 0 {
		return lo, true
	}
	return 0, false
}

// FarthestBelow returns the x in (lo, hi) of the greatest slope·x − p(x), unless that is at
// an end.
func (p *Curve) FarthestBelow(slope, lo, hi float64) (x float64, ok bool) {
	if p.degree == 0 || !(lo < hi) {
		return 0, false
	}
	a, b := (lo-p.centre)*p.scale, (hi-p.centre)*p.scale
	m := slope / p.scale
	if !points.Finite(m) {
		return 0, false
	}
	var turn [MaxDegree]float64
	n := p.turns(m, a, b, turn[:])
	end := max(p.depth(m, a), p.depth(m, b))
	u := 0.0
	for _, v := range turn[:n] {
		if h := p.depth(m, v); h > end {
			u, end, ok = v, h, true
		}
	}
	if !ok {
		return 0, false
	}
	x = p.centre + u/p.scale
	return x, x > lo && x < hi
}

// Minimum returns the lowest x in [lo, hi] at which the curve is lowest, and its value.
func (p *Curve) Minimum(lo, hi float64) (x, y float64) {
	if p.degree == 0 || !(lo <= hi) {
		return math.NaN(), math.NaN()
	}
	x, y = lo, p.At(lo)
	var turn [MaxDegree]float64
	n := p.turns(0, (lo-p.centre)*p.scale, (hi-p.centre)*p.scale, turn[:])
	for _, u := range turn[:n] {
		v := p.into(u, lo, hi)
		if h := p.At(v); h < y {
			x, y = v, h
		}
	}
	if h := p.At(hi); h < y {
		x, y = hi, h
	}
	return x, y
}

// into returns the x of u, which lies in [lo, hi] up to rounding.
func (p *Curve) into(u, lo, hi float64) float64 {
	return min(max(p.centre+u/p.scale, lo), hi)
}

// height returns p(u) − level.
func (p *Curve) height(level, u float64) float64 {
	if p.plain {
		c := &p.hi
		return math.FMA(u, math.FMA(math.FMA(c[3], u, c[2]), u, c[1]), (c[0]-level)+p.lo[0])
	}
	return p.derivative(0, u).sub(dd{level, 0}).value()
}

// depth returns m·u − p(u).
func (p *Curve) depth(m, u float64) float64 {
	if p.plain {
		c := &p.hi
		return -math.FMA(u, math.FMA(math.FMA(c[3], u, c[2]), u, c[1]-m), c[0])
	}
	return twoProd(m, u).sub(p.derivative(0, u)).value()
}

// root returns the u in [a, b] at which the curve, monotone between them,
// reaches the level. fa < 0 and fb > 0 are its heights above it at the ends.
func (p *Curve) root(level, a, fa, b, fb float64) float64 {
	return rising(a, fa, b, fb, func(u float64) (f, slope float64) {
		if p.plain {
			c := &p.hi
			return p.height(level, u), math.FMA(math.FMA(3*c[3], u, 2*c[2]), u, c[1])
		}
		return p.height(level, u), p.derivative(1, u).hi
	})
}

// rising returns the root between a and b of a function that is below zero at
// a and above it at b, by Newton's method, with bisection if that would
// leave the bracket or is slow.
func rising(a, fa, b, fb float64, f func(u float64) (value, slope float64)) float64 {
	u := a + (b-a)*(fa/(fa-fb))
	if !(u > a && u < b) {
		u = a + (b-a)/2
	}
	for range 200 {
		v, slope := f(u)
		switch {
		case v < 0:
			a = u
		case v > 0:
			b = u
		default:
			return u
		}
		next := u - v/slope
		if !(next > a && next < b) {
			// Out of the bracket by rounding alone, or by far?
			if math.Abs(v) <= 0x1p-50*math.Abs(slope*u) && next >= a-0x1p-50*math.Abs(u) && next <= b+0x1p-50*math.Abs(u) {
				return min(max(next, a), b)
			}
			next = a + (b-a)/2
			if next == a || next == b {
				return next
			}
			u = next
			continue
		}
		if math.Abs(next-u) <= 1e-13*math.Abs(next)+1e-300 {
			return next
		}
		u = next
	}
	return u
}

// turns puts into dst the u strictly between a and b at which the slope of the
// curve is m, in rising order, and returns how many there are. Where the slope
// touches m without passing it, the point may be left out.
func (p *Curve) turns(m, a, b float64, dst []float64) int {
	if p.degree <= Cubic {
		c := &p.hi
		return quadraticRoots(3*c[3], 2*c[2], c[1]-m, a, b, dst)
	}
	// The roots of each derivative split [a, b] into pieces on which the one
	// before it is monotone: from the linear one up to the first.
	var split [MaxDegree]float64
	n := 0
	for k := p.degree - 1; k >= 1; k-- {
		level := 0.0
		if k == 1 {
			level = m
		}
		found := 0
		left := a
		fl := p.derivative(k, left).sub(dd{level, 0}).value()
		for i := range n + 1 {
			right := b
			if i < n {
				right = split[i]
			}
			fr := p.derivative(k, right).sub(dd{level, 0}).value()
			if fl < 0 && fr > 0 || fl > 0 && fr < 0 {
				sign := math.Copysign(1, fr)
				dst[found] = rising(left, sign*fl, right, sign*fr, func(u float64) (f, slope float64) {
					f = p.derivative(k, u).sub(dd{level, 0}).value()
					return sign * f, sign * float64(k+1) * p.derivative(k+1, u).hi
				})
				found++
			} else if fr == 0 && i < n {
				dst[found] = right
				found++
			}
			left, fl = right, fr
		}
		copy(split[:], dst[:found])
		n = found
	}
	return n
}

// quadraticRoots puts into dst the different roots of q2·u² + q1·u + q0
// strictly between a and b, in rising order, and returns how many there are.
func quadraticRoots(q2, q1, q0, a, b float64, dst []float64) int {
	if m := max(math.Abs(q2), math.Abs(q1), math.Abs(q0)); m < 1e-100 || m > 1e100 {
		q2, q1, q0 = q2/m, q1/m, q0/m // squares would leave the range of numbers
	}
	h := -q1 / 2
	// h² − q2·q0 without cancellation (Kahan 2004; from memory).
	s := q2 * q0
	disc := math.FMA(h, h, -s) - math.FMA(q2, q0, -s)
	if !(disc >= 0) {
		return 0
	}
	t := h + math.Copysign(math.Sqrt(disc), h)
	if t == 0 {
		if q2 != 0 && a < 0 && b > 0 {
			dst[0] = 0
			return 1
		}
		return 0
	}
	u, v := q0/t, t/q2 // v is infinite for a line
	if u > v {
		u, v = v, u
	}
	n := 0
	if u > a && u < b {
		dst[n] = u
		n++
	}
	if v > a && v < b && v != u {
		dst[n] = v
		n++
	}
	return n
}
