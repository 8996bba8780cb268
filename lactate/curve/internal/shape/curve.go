package shape

import "math"

// A Curve is a convex curve y = A + B·u + S·F(u) over the range of some points, u = (x −
// Lo)/Rng from 0 to 1. F is given with its slope at the nodes: F′ is a polygon and F is
// made of parabolas. Outside the range it goes on along straight lines.
type Curve struct {
	Lo, Rng  float64
	A, B, S  float64
	F, Slope []float64 // nil: there is no curve
	// Where it is lowest, and its value and slope there: every reading asks.
	lowest, least, flattest float64
}

// Set sets the curve but for its range.
func (c *Curve) Set(a, b, s float64, f, slope []float64) {
	c.A, c.B, c.S, c.F, c.Slope = a, b, s, f, slope
	c.lowest = 0
	if b < 0 { // F′ starts at zero or above
		c.lowest = min(max(c.whereRate(0), 0), 1)
	}
	c.least, c.flattest = c.within(c.lowest)
}

// from returns where the curve is lowest in [from, to], and its value and slope there.
func (c *Curve) from(from, to float64) (u, y, rate float64) {
	if from <= c.lowest && c.lowest <= to {
		return c.lowest, c.least, c.flattest
	}
	u = from
	if c.lowest > to {
		u = to
	}
	y, rate = c.within(u)
	return u, y, rate
}

// Value returns the curve at node k.
func (c *Curve) Value(k int) float64 { return c.A + c.B*(float64(k)*(1./Cells)) + c.S*c.F[k] }

// rate returns the slope by u at node k.
func (c *Curve) rate(k int) float64 { return c.B + c.S*c.Slope[k] }

// Cell returns the cell that holds u, and where in it, from 0 to 1.
func Cell(u float64) (k int, t float64) {
	k = min(int(u*Cells), Cells-1)
	return k, u*Cells - float64(k)
}

// At returns the curve and its slope by u.
func (c *Curve) At(u float64) (y, rate float64) {
	if c.F == nil {
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

// within is At for u from 0 to 1.
func (c *Curve) within(u float64) (y, rate float64) {
	k, t := Cell(u)
	from, to := c.rate(k), c.rate(k+1)
	rate = from + t*(to-from)
	return c.Value(k) + t*(from+rate)*(1./(2*Cells)), rate
}

// Scaled returns the u of x.
func (c *Curve) Scaled(x float64) float64 { return (x - c.Lo) / c.Rng }

// whereRate returns the first u at which the slope by u reaches a value, beyond
// the range if it does not.
func (c *Curve) whereRate(rate float64) float64 {
	k, after := 0, Nodes // the first node that is not less steep lies from k to after
	for k < after {
		if mid := (k + after) / 2; c.rate(mid) >= rate {
			after = mid
		} else {
			k = mid + 1
		}
	}
	switch k {
	case 0:
		return math.Inf(-1)
	case Nodes:
		return math.Inf(1)
	}
	from, to := c.rate(k-1), c.rate(k)
	return (float64(k-1) + (rate-from)/(to-from)) / Cells
}

// span returns [lo, hi] in u, cut off at the ends of the curve.
func (c *Curve) span(lo, hi float64) (from, to float64, ok bool) {
	if c.F == nil || !(lo <= hi) {
		return 0, 0, false
	}
	if lo > c.Lo {
		from = c.Scaled(lo)
	}
	to = 1
	if hi-c.Lo < c.Rng {
		to = c.Scaled(hi)
	}
	return from, to, from <= to
}

// back returns the x of u, between lo and hi.
func (c *Curve) back(u, lo, hi float64) float64 {
	x := c.Lo + u*c.Rng
	if x < lo {
		return lo
	}
	if x > hi {
		return hi
	}
	return x
}

// Minimum returns the x in [lo, hi] at which the curve is lowest, and its value.
func (c *Curve) Minimum(lo, hi float64) (x, y float64) {
	from, to, ok := c.span(lo, hi)
	if !ok {
		return math.NaN(), math.NaN()
	}
	u, y, _ := c.from(from, to)
	return c.back(u, lo, hi), y
}

// Upcrossing returns the x in [lo, hi] at which the curve rises through a level.
func (c *Curve) Upcrossing(level, lo, hi float64) (x float64, ok bool) {
	from, to, ok := c.span(lo, hi)
	if !ok {
		return 0, false
	}
	start, y0, rate0 := c.from(from, to)
	y1 := c.Value(Cells)
	if to < 1 {
		y1, _ = c.within(to)
	}
	slack := 1e-12 * (math.Abs(y0) + math.Abs(y1))
	if !(level >= y0-slack && level <= y1+slack && y1 > y0) {
		return 0, false
	}
	// The last node from the start on that is not above the level.
	first, _ := Cell(start)
	k := first
	for above := Cells; k < above; {
		if mid := (k + above + 1) / 2; c.Value(mid) > level {
			above = mid - 1
		} else {
			k = mid
		}
	}
	u := float64(k) / Cells
	if k == first {
		u = start
	} else {
		y0, rate0 = c.Value(k), c.rate(k)
	}
	if u >= to {
		return c.back(to, lo, hi), true
	}
	// y0 + rate0·d + q·d² = level, d from u on
	end := float64(k+1) / Cells
	q := (c.rate(min(k+1, Cells)) - rate0) / (2 * (end - u))
	rise := max(level-y0, 0)
	if rise == 0 {
		return c.back(u, lo, hi), true
	}
	d := 2 * rise / (rate0 + math.Sqrt(rate0*rate0+4*q*rise))
	return c.back(min(u+d, to), lo, hi), true
}

// FarthestBelow returns the x in (lo, hi) at which the curve first has a slope.
func (c *Curve) FarthestBelow(slope, lo, hi float64) (x float64, ok bool) {
	if _, _, ok := c.span(lo, hi); !ok {
		return 0, false
	}
	x = c.Lo + c.whereRate(slope*c.Rng)*c.Rng
	return x, x > lo && x < hi
}
