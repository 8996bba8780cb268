package curve

import (
	"math"
	"sort"
)

// bent is a convex curve y = a + b·u + s·f(u) over the range of some points, u = (x
// − lo)/rng from 0 to 1, where f is given with its slope at the ends of even
// cells: f′ is a polygon and f is made of parabolas. Outside the range it goes
// on along straight lines.
type bent struct {
	lo, rng  float64
	a, b, s  float64
	f, slope []float64
}

// value and rate are the curve and its slope by u at node k.
func (c *bent) value(k int) float64 { return c.a + c.b*(float64(k)*(1./cells)) + c.s*c.f[k] }
func (c *bent) rate(k int) float64  { return c.b + c.s*c.slope[k] }

// cell returns the cell that holds u, and where in it, from 0 to 1.
func cell(u float64) (k int, t float64) {
	k = min(int(u*cells), cells-1)
	return k, u*cells - float64(k)
}

// at returns the curve and its slope by u.
func (c *bent) at(u float64) (y, rate float64) {
	if c.f == nil {
		return math.NaN(), math.NaN()
	}
	if u >= 0 && u <= 1 {
		return c.within(u)
	}
	if math.IsNaN(u) {
		return u, u
	}
	end := min(max(u, 0), 1)
	y, rate = c.within(end)
	return y + (u-end)*rate, rate
}

// within is at for u from 0 to 1.
func (c *bent) within(u float64) (y, rate float64) {
	k, t := cell(u)
	from, to := c.rate(k), c.rate(k+1)
	rate = from + t*(to-from)
	return c.value(k) + t*(from+rate)*(1./(2*cells)), rate
}

func (c *bent) scaled(x float64) float64 { return (x - c.lo) / c.rng }

// lowestAt returns the u in [from, to] at which the curve is lowest.
func (c *bent) lowestAt(from, to float64) float64 {
	if c.b >= 0 {
		return from // f′ starts at zero or above
	}
	return min(max(c.whereRate(0), from), to)
}

// whereRate returns the first u at which the slope by u reaches a value, beyond
// the range if it does not.
func (c *bent) whereRate(rate float64) float64 {
	k := sort.Search(nodes, func(k int) bool { return c.rate(k) >= rate })
	switch k {
	case 0:
		return math.Inf(-1)
	case nodes:
		return math.Inf(1)
	}
	before, after := c.rate(k-1), c.rate(k)
	return (float64(k-1) + (rate-before)/(after-before)) / cells
}

// span returns [lo, hi] in u, cut off at the ends of the curve.
func (c *bent) span(lo, hi float64) (from, to float64, ok bool) {
	if c.f == nil || !(lo <= hi) {
		return 0, 0, false
	}
	from, to = max(c.scaled(lo), 0), min(c.scaled(hi), 1)
	return from, to, from <= to
}

// back returns the x of u, between lo and hi.
func (c *bent) back(u, lo, hi float64) float64 { return min(max(c.lo+u*c.rng, lo), hi) }

func (c *bent) minimum(lo, hi float64) (x, y float64) {
	from, to, ok := c.span(lo, hi)
	if !ok {
		return math.NaN(), math.NaN()
	}
	u := c.lowestAt(from, to)
	y, _ = c.at(u)
	return c.back(u, lo, hi), y
}

func (c *bent) upcrossing(level, lo, hi float64) (x float64, ok bool) {
	from, to, ok := c.span(lo, hi)
	if !ok {
		return 0, false
	}
	start := c.lowestAt(from, to)
	y0, rate0 := c.within(start)
	y1, _ := c.within(to)
	slack := 1e-12 * (math.Abs(y0) + math.Abs(y1))
	if !(level >= y0-slack && level <= y1+slack && y1 > y0) {
		return 0, false
	}
	// The last node from the start on that is not above the level.
	first, _ := cell(start)
	k := first
	for above := cells; k < above; {
		if mid := (k + above + 1) / 2; c.value(mid) > level {
			above = mid - 1
		} else {
			k = mid
		}
	}
	u := float64(k) / cells
	if k == first {
		u = start
	} else {
		y0, rate0 = c.value(k), c.rate(k)
	}
	if u >= to {
		return c.back(to, lo, hi), true
	}
	// y0 + rate0·d + q·d² = level, d from u on
	end := float64(k+1) / cells
	q := (c.rate(min(k+1, cells)) - rate0) / (2 * (end - u))
	rise := max(level-y0, 0)
	if rise == 0 {
		return c.back(u, lo, hi), true
	}
	d := 2 * rise / (rate0 + math.Sqrt(rate0*rate0+4*q*rise))
	return c.back(min(u+d, to), lo, hi), true
}

func (c *bent) farthestBelow(slope, lo, hi float64) (x float64, ok bool) {
	if _, _, ok := c.span(lo, hi); !ok {
		return 0, false
	}
	x = c.lo + c.whereRate(slope*c.rng)*c.rng
	return x, x > lo && x < hi
}
