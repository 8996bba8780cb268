package curve

import (
	"fmt"

	"example.com/steptest/lactate/curve/internal/points"
	"gonum.org/v1/gonum/interp"
)

var (
	_ interp.FittablePredictor   = (*ThreeLine)(nil)
	_ interp.DerivativePredictor = (*ThreeLine)(nil)
)

// ThreeLine is three straight lines, each of which meets the next:
//
//	y = Level + Left·(x − Lower)                            for x ≤ Lower
//	y = Level + Middle·(x − Lower)                          for Lower < x ≤ Upper
//	y = Level + Middle·(Upper − Lower) + Right·(x − Upper)  for x > Upper
//
// All six are estimated. Of lactate against intensity, Lower and Upper are the
// first and the second lactate turn point of Pokan et al. (1997) and of
// Hofmann & Tschakert (2011), Cardiol Res Pract 2011:209302 (from memory).
//
// The six fields are all there is to the curve: a literal predicts without a
// fit. The zero value predicts 0 everywhere. Fit and FitWeighted overwrite the
// receiver and must not run concurrently with any other method of it, nor with
// a fit of a copy, which shares its working space; the other methods may.
type ThreeLine struct {
	Lower, Upper        float64 // x of the joins
	Level               float64 // y at Lower
	Left, Middle, Right float64 // slopes

	rss  float64
	dof  int
	work grouped
}

// mostGroups is the largest number of different xs that ThreeLine takes.
const mostGroups = 4096

// Fit finds the continuous three lines with the least sum of squares over both
// joins at once. Each line, its ends included, holds at least two different
// xs; so the joins lie from the second to the last but one of them.
//
// The search is exact, without a grid or start values, in the manner of Hudson
// (1966), JASA 61:1097–1129 (from memory): at the optimum each join either
// lies strictly inside a gap, at no cost, and the lines on either
// side are free to be the best of their own points, or at a point. Either way
// the lines follow in closed form, and all pairs of places are compared. Of
// joins that fit equally well the lowest are taken.
//
// Points may come in any order and xs may repeat; at least six must differ.
// Any scale of x and y will do. The arguments are neither kept nor changed.
// The work grows with the square of the number of different xs, less what can
// be left out because its sum of squares is already larger than the best; so
// more than 4096 of them are refused. Refits of as many points as before do
// not allocate.
//
// The error wraps [ErrInput] for points that cannot be used, and
// [ErrUndetermined] for fewer than six different xs, and for points that lie
// on one or two straight lines. After an error the curve is the zero curve.
func (c *ThreeLine) Fit(xs, ys []float64) error {
	return c.FitWeighted(xs, ys, nil)
}

// FitWeighted is Fit with a positive weight for each point: it minimises
// Σ w·(y − fitted)². Nil weights mean that all are 1.
func (c *ThreeLine) FitWeighted(xs, ys, weights []float64) error {
	c.Lower, c.Upper, c.Level, c.Left, c.Middle, c.Right, c.rss, c.dof = 0, 0, 0, 0, 0, 0, 0, 0
	if err := checkPoints(xs, ys, weights); err != nil {
		return err
	}
	const need = 6
	g := &c.work
	g.load(xs, ys, weights)
	n := len(g.groups)
	if n < need {
		return fmt.Errorf("curve: found %d different xs, three lines need %d: %w", n, need, ErrUndetermined)
	}
	if n > mostGroups {
		return fmt.Errorf("curve: found %d different xs, three lines take at most %d: %w", n, mostGroups, ErrInput)
	}
	g.sweep()
	// Two lines that leave nothing but rounding leave the second join open.
	at := g.bestBreak()
	two := g.solveBreak(at)
	steepest := max(two.left, -two.left, two.right, -two.right)
	if g.straight(at.rss, steepest) {
		return fmt.Errorf("curve: the points lie on no more than two straight lines, which leaves a join open: %w", ErrUndetermined)
	}
	best := g.bestBreaks()
	s := g.solveBreaks(best)
	if g.parallel(s.left, s.middle) || g.parallel(s.middle, s.right) {
		return fmt.Errorf("curve: a third line does not bring the fit nearer to the points, which leaves a join open: %w", ErrUndetermined)
	}
	rss := 0.0
	for _, p := range g.points {
		r := p.y - s.at(p.x)
		rss += p.w * r * r
	}
	rss = g.toSquares(rss)
	lower, upper, level := g.toX(s.lower, best.lower), g.toX(s.upper, best.upper), g.toY(s.level)
	left, middle, right := g.toSlope(s.left), g.toSlope(s.middle), g.toSlope(s.right)
	if !points.Finite(lower) || !points.Finite(upper) || !points.Finite(level) || !points.Finite(left) || !points.Finite(middle) || !points.Finite(right) || !points.Finite(rss) {
		return fmt.Errorf("curve: three lines through these points leave the range of numbers; rescale the xs or ys: %w", ErrInput)
	}
	c.Lower, c.Upper, c.Level, c.Left, c.Middle, c.Right = lower, upper, level, left, middle, right
	c.rss, c.dof = rss, len(xs)-need
	return nil
}

// Predict returns the value of the curve at x.
func (c *ThreeLine) Predict(x float64) float64 {
	s := broken3{c.Lower, c.Upper, c.Level, c.Left, c.Middle, c.Right}
	return s.at(x)
}

// PredictDerivative returns the slope at x; at a join, that of the line that
// ends there.
func (c *ThreeLine) PredictDerivative(x float64) float64 {
	switch {
	case x <= c.Lower:
		return c.Left
	case x <= c.Upper:
		return c.Middle
	}
	return c.Right
}

// RSS returns the weighted residual sum of squares of the last fit.
func (c *ThreeLine) RSS() float64 { return c.rss }

// DegreesOfFreedom returns the number of points of the last fit less six.
func (c *ThreeLine) DegreesOfFreedom() int { return c.dof }
