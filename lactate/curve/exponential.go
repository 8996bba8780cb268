package curve

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/rate"
	"gonum.org/v1/gonum/interp"
)

var (
	_ interp.FittablePredictor   = (*Exponential)(nil)
	_ interp.DerivativePredictor = (*Exponential)(nil)
)

// Exponential is the exponential-plus-constant curve
//
//	y = A + B·exp(C·x)
//
// of Hughson, Weisiger & Swanson (1987), J Appl Physiol 62:1975–1981, who used
// it for blood lactate against intensity (from memory). For a step test A is
// the lactate that the curve comes from at low intensity (mmol/L) and C how
// fast it bends upward [1/unit of intensity].
//
// A, B and C are all there is to the curve: a literal Exponential{A: 1,
// B: 0.0004, C: 6} predicts without a fit. The zero value predicts 0
// everywhere. Fit and FitWeighted overwrite the receiver and must not run
// concurrently with any other method of it; the other methods may. A copy
// shares its work space with the original: do not fit both at the same time.
type Exponential struct {
	A, B, C float64

	rss    float64
	dof    int
	search rate.Search
}

// Fit finds the least-squares curve through the points by variable projection
// (Golub & Pereyra 1973, SIAM J Numer Anal 10:413–432): for any given C the
// best A and B follow in closed form, which leaves a search over C alone. The
// search starts from a grid of rates that covers everything the points can tell
// apart: it needs no start values and finds the global optimum.
//
// Points may come in any order and xs may repeat; at least three must differ.
// Any scale of x and y will do. The arguments are neither kept nor changed.
// Refits of as many points as before do not allocate.
//
// The error wraps [ErrInput] for points that cannot be used, and
// [ErrUndetermined] if the points leave C open: fewer than three different
// xs, all ys equal, a straight line, or one end point that stands alone
// ("a spike"). After an error the curve is the zero curve.
func (e *Exponential) Fit(xs, ys []float64) error {
	return e.FitWeighted(xs, ys, nil)
}

// FitWeighted is Fit with a positive weight for each point: it minimises
// Σ w·(y − A − B·exp(C·x))². Nil weights mean that all are 1.
func (e *Exponential) FitWeighted(xs, ys, weights []float64) error {
	e.A, e.B, e.C, e.rss, e.dof = 0, 0, 0, 0, 0
	if err := checkPoints(xs, ys, weights); err != nil {
		return err
	}
	sol, err := e.search.Fit(xs, ys, weights)
	if err != nil {
		return err
	}
	steep := math.Abs(sol.Beta) // of the exponential at its steep end
	if sol.Rate < 0 {
		steep *= math.Exp(-sol.Rate)
	}
	if !(steep <= largest) {
		return errTooLarge
	}
	top, rng := e.search.Span()
	c := sol.Rate / rng
	b := sol.Beta * math.Exp(-c*top)
	a := sol.Top - sol.Beta
	if !(math.Abs(b) >= 0x1p-1000 && math.Abs(b) <= 0x1p1000 && points.Finite(a) && points.Finite(c) && sayable(c, top, rng)) {
		return fmt.Errorf("curve: B·exp(C·x) with rate %g leaves the range of numbers at x = 0; shift the xs nearer to zero: %w", c, ErrInput)
	}
	e.A, e.B, e.C = a, b, c
	e.rss, e.dof = sol.RSS, len(xs)-3
	return nil
}

// Predict returns A + B·exp(C·x).
func (e *Exponential) Predict(x float64) float64 {
	return e.A + e.B*math.Exp(e.C*x)
}

// PredictDerivative returns the slope B·C·exp(C·x).
func (e *Exponential) PredictDerivative(x float64) float64 {
	return e.B * e.C * math.Exp(e.C*x)
}

// RSS returns the weighted residual sum of squares of the last fit.
func (e *Exponential) RSS() float64 { return e.rss }

// DegreesOfFreedom returns the number of points of the last fit less three.
func (e *Exponential) DegreesOfFreedom() int { return e.dof }

// Upcrossing returns the highest x in [lo, hi] at which the curve crosses the
// level going upward, in closed form. A curve that starts at the level at lo
// and rises counts; ok is false if there is no such x.
func (e *Exponential) Upcrossing(level, lo, hi float64) (x float64, ok bool) {
	if !(e.B*e.C > 0) {
		return 0, false
	}
	x = math.Log((level-e.A)/e.B) / e.C
	slack := 1e-12 * (hi - lo) // of rounding
	if !(x >= lo-slack && x <= hi+slack) {
		return 0, false
	}
	return min(max(x, lo), hi), true
}

// FarthestBelow returns the x in (lo, hi) at which the curve lies farthest
// below a line of the given slope: the point where a curve that bends upward
// has that slope itself. It does not depend on the height of the line, nor on
// whether the distance is measured vertically or at right angles. ok is false
// if the curve has no such point inside the interval.
func (e *Exponential) FarthestBelow(slope, lo, hi float64) (x float64, ok bool) {
	if !(e.B > 0) { // bends downward, or is flat
		return 0, false
	}
	x = math.Log(slope/(e.B*e.C)) / e.C
	return x, x > lo && x < hi
}

// Minimum returns the x in [lo, hi] at which the curve is lowest, and its
// value there. The curve is monotone: x is one of the ends, and lo if the
// curve is flat. Both are NaN if lo ≤ hi does not hold.
func (e *Exponential) Minimum(lo, hi float64) (x, y float64) {
	if !(lo <= hi) {
		return math.NaN(), math.NaN()
	}
	x = lo
	if e.B*e.C < 0 {
		x = hi
	}
	return x, e.Predict(x)
}

// largest is how far the exponential may reach at its steep end. Beyond it,
// rounding could carry a prediction out of the range of numbers.
const largest = 0x1p1020

// sayable reports whether exp(c·x) is a normal number at the steep end of xs
// from max − rng to max, at which c·x is largest.
func sayable(c, max, rng float64) bool {
	if c < 0 {
		max -= rng
	}
	return math.Abs(c*max) <= 700
}

var errTooLarge = fmt.Errorf("curve: the curve leaves the range of numbers inside the range of the xs: %w", ErrInput)
