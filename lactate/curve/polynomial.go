package curve

import (
	"encoding/json"
	"fmt"

	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/polynomial"
	"gonum.org/v1/gonum/interp"
)

var (
	_ interp.FittablePredictor   = (*Polynomial)(nil)
	_ interp.DerivativePredictor = (*Polynomial)(nil)
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

	curve polynomial.Curve
	dof   int
}

// MarshalJSON writes the degree of the fit and its [Polynomial.Coefficients]; none
// without a fit, or if they leave the range of numbers. It is written for
// readers of results and not read back.
func (p *Polynomial) MarshalJSON() ([]byte, error) {
	out := struct {
		Degree       int       `json:"degree"`
		Coefficients []float64 `json:"coefficients,omitempty"`
	}{p.curve.Degree(), p.Coefficients()}
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
	p.curve.Forget()
	p.dof = 0
	d := p.Degree
	if d == 0 {
		d = 3
	}
	if d < 1 || d > polynomial.MaxDegree {
		return fmt.Errorf("curve: found degree %d, want 1 to %d: %w", p.Degree, polynomial.MaxDegree, ErrInput)
	}
	if err := checkPoints(xs, ys, weights); err != nil {
		return err
	}
	if err := p.curve.Fit(d, xs, ys, weights); err != nil {
		return err
	}
	p.dof = len(xs) - d - 1
	return nil
}

// Predict returns the value of the curve at x; NaN without a fit.
func (p *Polynomial) Predict(x float64) float64 { return p.curve.At(x) }

// PredictDerivative returns the slope of the curve at x; NaN without a
// fit.
func (p *Polynomial) PredictDerivative(x float64) float64 { return p.curve.Slope(x) }

// Coefficients returns the coefficients of 1, x, x², …, x^d; nil without
// a fit. They are worked out afresh, in double-double arithmetic, from the
// curve about the middle of its points. Far from x = 0 they are large and of
// changing sign: [Polynomial.Predict] evaluates the curve more accurately than
// they do. A coefficient too small for a float64 is 0.
func (p *Polynomial) Coefficients() []float64 { return p.curve.Coefficients() }

// RSS returns the weighted residual sum of squares of the last fit.
func (p *Polynomial) RSS() float64 { return p.curve.RSS() }

// DegreesOfFreedom returns the number of points of the last fit less the
// number of coefficients.
func (p *Polynomial) DegreesOfFreedom() int { return p.dof }

// Upcrossing returns the highest x in [lo, hi] at which the curve crosses the
// level going upward: below the level just to the left of x, above it just to
// the right. At lo it is enough that the curve leaves the level upward, at hi
// that it arrives from below, both up to rounding. A curve that only touches
// the level and turns back does not cross it. ok is false if there is no
// such x, if lo < hi does not hold, or without a fit.
//
// The interval may reach beyond the points; the caller then extrapolates.
func (p *Polynomial) Upcrossing(level, lo, hi float64) (x float64, ok bool) {
	return p.curve.Upcrossing(level, lo, hi)
}

// FarthestBelow returns the x in (lo, hi) at which the curve lies farthest
// below a line of the given slope: the x of the greatest slope·x − p(x). It does
// not depend on the height of the line, nor on whether the distance is
// measured vertically or at right angles. ok is false if the greatest
// distance is at an end, if lo < hi does not hold, or if there is no
// fit.
func (p *Polynomial) FarthestBelow(slope, lo, hi float64) (x float64, ok bool) {
	return p.curve.FarthestBelow(slope, lo, hi)
}

// Minimum returns the x in [lo, hi] at which the curve is lowest, the lowest
// of them if there are several, and its value there. Both are NaN if
// lo ≤ hi does not hold or there is no fit.
func (p *Polynomial) Minimum(lo, hi float64) (x, y float64) {
	return p.curve.Minimum(lo, hi)
}
