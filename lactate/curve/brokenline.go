package curve

import (
	"example.com/steptest/lactate/curve/internal/lines"
	"gonum.org/v1/gonum/interp"
)

var (
	_ interp.FittablePredictor   = (*BrokenLine)(nil)
	_ interp.DerivativePredictor = (*BrokenLine)(nil)
)

// BrokenLine is two straight lines that meet:
//
//	y = Level + Left·(x − Join)    for x ≤ Join
//	y = Level + Right·(x − Join)   for x > Join
//
// All four are estimated. Fitted to the logarithms of lactate and intensity it
// is the log–log method of Beaver, Wasserman & Whipp (1985), J Appl Physiol
// 59:1936–1940 (from memory), made continuous.
//
// The four fields are all there is to the curve: a literal predicts without a
// fit. The zero value predicts 0 everywhere. Fit and FitWeighted overwrite the
// receiver and must not run concurrently with any other method of it, nor with
// a fit of a copy, which shares its working space; the other methods may.
type BrokenLine struct {
	Join        float64 // x at which the lines meet
	Level       float64 // y at which they meet
	Left, Right float64 // slopes

	rss    float64
	dof    int
	search lines.Search
}

// Fit finds the continuous pair of lines with the least sum of squares, over
// all joins from the second to the last but one different x: each line holds at
// least two of them. The search is exact, without a grid or start
// values (Hudson 1966, JASA 61:1097–1129; from memory): inside a gap between
// two xs the best join is where the separate lines of the points on either
// side meet, if they meet in the gap; otherwise the best join is at a point,
// where the lines that are made to meet follow in closed form. Of joins that
// fit equally well the lowest is taken.
//
// Points may come in any order and xs may repeat; at least four must differ.
// Any scale of x and y will do. The arguments are neither kept nor changed.
// The work grows as that of sorting the points; refits of as many points as
// before do not allocate.
//
// The error wraps [ErrInput] for points that cannot be used, and
// [ErrUndetermined] for fewer than four different xs and for points on one
// straight line. After an error the curve is the zero curve.
func (b *BrokenLine) Fit(xs, ys []float64) error {
	return b.FitWeighted(xs, ys, nil)
}

// FitWeighted is Fit with a positive weight for each point: it minimises
// Σ w·(y − fitted)². Nil weights mean that all are 1.
func (b *BrokenLine) FitWeighted(xs, ys, weights []float64) error {
	b.Join, b.Level, b.Left, b.Right, b.rss, b.dof = 0, 0, 0, 0, 0, 0
	if err := checkPoints(xs, ys, weights); err != nil {
		return err
	}
	two, rss, err := b.search.FitTwo(xs, ys, weights)
	if err != nil {
		return err
	}
	b.Join, b.Level, b.Left, b.Right = two.Join, two.Level, two.Left, two.Right
	b.rss, b.dof = rss, len(xs)-4
	return nil
}

// Predict returns the value of the curve at x.
func (b *BrokenLine) Predict(x float64) float64 {
	if x > b.Join {
		return b.Level + b.Right*(x-b.Join)
	}
	return b.Level + b.Left*(x-b.Join)
}

// PredictDerivative returns the slope at x: Left up to and at the join, Right
// after it.
func (b *BrokenLine) PredictDerivative(x float64) float64 {
	if x > b.Join {
		return b.Right
	}
	return b.Left
}

// RSS returns the weighted residual sum of squares of the last fit.
func (b *BrokenLine) RSS() float64 { return b.rss }

// DegreesOfFreedom returns the number of points of the last fit less four.
func (b *BrokenLine) DegreesOfFreedom() int { return b.dof }
