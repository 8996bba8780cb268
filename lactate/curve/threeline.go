package curve

import (
	"example.com/steptest/lactate/curve/internal/lines"
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

	rss    float64
	dof    int
	search lines.Search
}

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
	three, rss, err := c.search.FitThree(xs, ys, weights)
	if err != nil {
		return err
	}
	c.Lower, c.Upper, c.Level = three.Lower, three.Upper, three.Level
	c.Left, c.Middle, c.Right = three.Left, three.Middle, three.Right
	c.rss, c.dof = rss, len(xs)-6
	return nil
}

// Predict returns the value of the curve at x.
func (c *ThreeLine) Predict(x float64) float64 {
	s := lines.Three{Lower: c.Lower, Upper: c.Upper, Level: c.Level, Left: c.Left, Middle: c.Middle, Right: c.Right}
	return s.At(x)
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
