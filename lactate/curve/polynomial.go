package curve

import (
	"encoding/json"
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
	"gonum.org/v1/gonum/interp"
)

var (
	_ interp.FittablePredictor   = (*Polynomial)(nil)
	_ interp.DerivativePredictor = (*Polynomial)(nil)
)

const (
	cubic     = 3  // the default degree, and the highest fitted in plain float64
	maxDegree = 30 // beyond it, powers of x lose their meaning even in double-double
)

// Polynomial is the least-squares polynomial
//
//	y = b₀ + b₁·x + … + b_d·x^d
//
// of degree d. The cubic is the usual one for blood lactate against intensity;
// unlike [Exponential] it can dip.
//
// The zero value is a cubic that is not fitted yet: it predicts NaN. Fit and
// FitWeighted overwrite the receiver and must not run concurrently with any
// other method of it, nor with a fit of a copy, which shares its working
// space; the other methods may.
type Polynomial struct {
	// Degree is the degree that the next fit will have, 1 to 30.
	// Zero means 3, a cubic.
	Degree int

	// The fitted curve is Σ (hi[k] + lo[k])·u^k with u = (x − centre)·scale,
	// and |u| ≤ 1 in the range of the points. The scale is a power of two.
	degree        int  // 0: not fitted
	plain         bool // float64 will do to evaluate it; of degree 3 at most
	centre, scale float64
	hi, lo        [maxDegree + 1]float64
	rss           float64
	dof           int

	work orthogonal
}

// MarshalJSON writes the degree of the fit and its [Polynomial.Coefficients]; none
// without a fit, or if they leave the range of numbers. It is written for
// readers of results and not read back.
func (p *Polynomial) MarshalJSON() ([]byte, error) {
	out := struct {
		Degree       int       `json:"degree"`
		Coefficients []float64 `json:"coefficients,omitempty"`
	}{p.degree, p.Coefficients()}
	for _, b := range out.Coefficients {
		if !points.Finite(b) {
			out.Coefficients = nil
			break
		}
	}
	return json.Marshal(out)
}

// Fit finds the least-squares polynomial through the points, by the basis of
// polynomials orthogonal over the points of Forsythe (1957), J SIAM 5:74–88.
//
// Points may come in any order and xs may repeat; at least d+1 must differ. As
// many points as coefficients give the interpolating polynomial. Any scale of
// x and y will do. The arguments are neither kept nor changed. Refits of as
// many points as before do not allocate.
//
// Degrees up to three take two passes in float64: a fit, and a correction from
// its residuals. Higher degrees, and xs that lie so close together that the
// first pass would lose digits, are fitted in double-double arithmetic.
// [Polynomial.Coefficients] then has 12 or more correct digits on the
// certified NIST sets Norris, Pontius, Filip (degree 10), Wampler1 and
// Wampler4 (TestPolynomialCertified).
//
// The error wraps [ErrInput] for points or a degree that cannot be used, and
// [ErrUndetermined] if too few xs differ, or differ by too little. After an
// error the curve is not fitted.
func (p *Polynomial) Fit(xs, ys []float64) error {
	return p.FitWeighted(xs, ys, nil)
}

// FitWeighted is Fit with a positive weight for each point: it minimises
// Σ w·(y − p(x))². Nil weights mean that all are 1.
func (p *Polynomial) FitWeighted(xs, ys, weights []float64) error {
	p.degree = 0
	p.rss, p.dof = 0, 0
	d := p.Degree
	if d == 0 {
		d = cubic
	}
	if d < 1 || d > maxDegree {
		return fmt.Errorf("curve: found degree %d, want 1 to %d: %w", p.Degree, maxDegree, ErrInput)
	}
	if err := checkPoints(xs, ys, weights); err != nil {
		return err
	}
	if n := countDistinct(xs, d+1); n <= d {
		return fmt.Errorf("curve: found %d different xs, a polynomial of degree %d needs %d: %w", n, d, d+1, ErrUndetermined)
	}
	unit := p.work.load(xs, ys, weights)
	p.plain = d <= cubic && p.fitPlain(d)
	if !p.plain && !p.fitAccurate(d) {
		return fmt.Errorf("curve: xs too close together, or weights too unequal, for a polynomial of degree %d: %w", d, ErrUndetermined)
	}
	p.rss *= unit
	if !p.inRange(d) {
		p.rss = 0
		return fmt.Errorf("curve: a polynomial of degree %d through these points leaves the range of numbers; rescale the xs or ys: %w", d, ErrInput)
	}
	p.degree, p.dof = d, len(xs)-d-1
	return nil
}

// countDistinct counts the different xs, as far as enough.
func countDistinct(xs []float64, enough int) int {
	var seen [maxDegree + 1]float64
	n := 0
next:
	for _, x := range xs {
		for _, s := range seen[:n] {
			if s == x {
				continue next
			}
		}
		seen[n] = x
		if n++; n == enough {
			break
		}
	}
	return n
}

// inRange reports whether the fit and its coefficients are finite numbers.
func (p *Polynomial) inRange(d int) bool {
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
	var b [maxDegree + 1]float64
	p.powers(b[:d+1])
	for _, v := range b[:d+1] {
		if !points.Finite(v) {
			return false
		}
	}
	return true
}

// Predict returns the value of the curve at x; NaN without a fit.
func (p *Polynomial) Predict(x float64) float64 {
	u := (x - p.centre) * p.scale
	switch {
	case p.degree == 0:
		return math.NaN()
	case p.plain:
		return math.FMA(math.FMA(math.FMA(p.hi[3], u, p.hi[2]), u, p.hi[1]), u, p.hi[0])
	}
	return p.derivative(0, u).value()
}

// PredictDerivative returns the slope of the curve at x; NaN without a
// fit.
func (p *Polynomial) PredictDerivative(x float64) float64 {
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
func (p *Polynomial) derivative(k int, u float64) dd {
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

// Coefficients returns the coefficients of 1, x, x², …, x^d; nil without
// a fit. They are worked out afresh, in double-double arithmetic, from the
// curve about the middle of its points. Far from x = 0 they are large and of
// changing sign: [Polynomial.Predict] evaluates the curve more accurately than
// they do. A coefficient too small for a float64 is 0.
func (p *Polynomial) Coefficients() []float64 {
	if p.degree == 0 {
		return nil
	}
	b := make([]float64, p.degree+1)
	p.powers(b)
	return b
}

// powers sets b to the coefficients of 1, x, x², …
func (p *Polynomial) powers(b []float64) {
	var c [maxDegree + 1]dd
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

// RSS returns the weighted residual sum of squares of the last fit.
func (p *Polynomial) RSS() float64 { return p.rss }

// DegreesOfFreedom returns the number of points of the last fit less the
// number of coefficients.
func (p *Polynomial) DegreesOfFreedom() int { return p.dof }
