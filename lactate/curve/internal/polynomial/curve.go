// Package polynomial knows the least-squares polynomial through points, on a basis that is
// orthogonal over them (Forsythe 1957, J SIAM 5:74–88), in float64 and in double-double
// arithmetic (Dekker 1971, Numer Math 18:224–242; both from memory), and where it crosses
// a level, lies farthest below a line, and is lowest.
package polynomial

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
)

const (
	Cubic     = 3  // the highest degree fitted in plain float64
	MaxDegree = 30 // beyond it, powers of x lose their meaning even in double-double
)

// A Curve is Σ (hi[k] + lo[k])·u^k with u = (x − centre)·scale, and |u| ≤ 1 in the range
// of the points. The scale is a power of two. The zero value is not fitted.
type Curve struct {
	degree        int  // 0: not fitted
	plain         bool // float64 will do to evaluate it; of degree 3 at most
	centre, scale float64
	hi, lo        [MaxDegree + 1]float64
	rss           float64

	work orthogonal
}

// Forget leaves the curve not fitted.
func (p *Curve) Forget() { p.degree, p.rss = 0, 0 }

// Fit fits a polynomial of degree d, 1 to [MaxDegree], through points that have been
// checked. After an error the curve is not fitted.
func (p *Curve) Fit(d int, xs, ys, weights []float64) error {
	p.Forget()
	if n := points.Distinct(xs, d+1); n <= d {
		return fmt.Errorf("curve: found %d different xs, a polynomial of degree %d needs %d: %w", n, d, d+1, points.ErrUndetermined)
	}
	unit := p.work.load(xs, ys, weights)
	p.plain = d <= Cubic && p.fitPlain(d)
	if !p.plain && !p.fitAccurate(d) {
		return fmt.Errorf("curve: xs too close together, or weights too unequal, for a polynomial of degree %d: %w", d, points.ErrUndetermined)
	}
	p.rss *= unit
	if !p.inRange(d) {
		p.rss = 0
		return fmt.Errorf("curve: a polynomial of degree %d through these points leaves the range of numbers; rescale the xs or ys: %w", d, points.ErrInput)
	}
	p.degree = d
	return nil
}

// inRange reports whether the fit and its coefficients are finite numbers.
func (p *Curve) inRange(d int) bool {
	size := 0.0
	for k := range d + 1 {
		size += math.Abs(p.hi[k])
	}
	if !(size <= math.MaxFloat64 && p.rss <= math.MaxFloat64) {
		return false
	}
	// No coefficient of 1, x, x², … exceeds Σ|c|·(2·max(1, s, s·|centre|))^d.
	for range d {
		size *= 2 * max(1, p.scale, p.scale*math.Abs(p.centre))
	}
	if size <= math.MaxFloat64 {
		return true
	}
	var b [MaxDegree + 1]float64
	p.powers(b[:d+1])
	for _, v := range b[:d+1] {
		if !points.Finite(v) {
			return false
		}
	}
	return true
}

// Degree returns the degree of the fit, 0 without one.
func (p *Curve) Degree() int { return p.degree }

// RSS returns the weighted residual sum of squares of the fit.
func (p *Curve) RSS() float64 { return p.rss }

// At returns the value of the curve at x; NaN without a fit.
func (p *Curve) At(x float64) float64 {
	u := (x - p.centre) * p.scale
	switch {
	case p.degree == 0:
		return math.NaN()
	case p.plain:
		return math.FMA(math.FMA(math.FMA(p.hi[3], u, p.hi[2]), u, p.hi[1]), u, p.hi[0])
	}
	return p.derivative(0, u).value()
}

// Slope returns the slope of the curve at x; NaN without a fit.
func (p *Curve) Slope(x float64) float64 {
	u := (x - p.centre) * p.scale
	switch {
	case p.degree == 0:
		return math.NaN()
	case p.plain:
		return p.scale * math.FMA(math.FMA(3*p.hi[3], u, 2*p.hi[2]), u, p.hi[1])
	}
	return p.scale * p.derivative(1, u).value()
}

// derivative evaluates the kth derivative by u of the fitted curve in
// double-double, divided by k! to keep its factors small.
func (p *Curve) derivative(k int, u float64) dd {
	var s dd
	for j := p.degree; j >= k; j-- {
		s = s.times(u).add(dd{p.hi[j], p.lo[j]}.times(binomial(j, k)))
	}
	return s
}

// binomial returns j over k.
func binomial(j, k int) float64 {
	b := 1.0
	for i := range k {
		b = b * float64(j-i) / float64(i+1)
	}
	return b
}

// Coefficients returns the coefficients of 1, x, x², …, x^d; nil without a fit.
func (p *Curve) Coefficients() []float64 {
	if p.degree == 0 {
		return nil
	}
	b := make([]float64, p.degree+1)
	p.powers(b)
	return b
}

// powers sets b to the coefficients of 1, x, x², …
func (p *Curve) powers(b []float64) {
	var c [MaxDegree + 1]dd
	for k := range b {
		c[k] = dd{p.hi[k], p.lo[k]}
		for range k { // the power itself may overflow though this does not
			c[k].hi *= p.scale
			c[k].lo *= p.scale
		}
	}
	// Shift the origin from the centre to 0 by repeated synthetic division.
	for i := range len(b) - 1 {
		for j := len(b) - 2; j >= i; j-- {
			c[j] = c[j].add(c[j+1].times(-p.centre))
		}
	}
	for k := range b {
		b[k] = c[k].value()
	}
}
