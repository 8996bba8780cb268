package curve

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
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

	rss  float64
	dof  int
	work grouped
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
	const need = 4
	g := &b.work
	g.load(xs, ys, weights)
	if n := len(g.groups); n < need {
		return fmt.Errorf("curve: found %d different xs, two lines need %d: %w", n, need, ErrUndetermined)
	}
	g.sweep()
	all := g.left[len(g.groups)-1]
	best := g.bestBreak()
	s := g.solveBreak(best)
	if g.straight(all.rss, all.slope) || g.parallel(s.left, s.right) {
		return fmt.Errorf("curve: the points lie on one straight line, which leaves the join open: %w", ErrUndetermined)
	}
	rss := 0.0
	for _, p := range g.points {
		slope := s.left
		if p.x > s.join {
			slope = s.right
		}
		r := (p.y - s.level) - slope*(p.x-s.join)
		rss += p.w * r * r
	}
	join, level := g.toX(s.join, best.gap), g.toY(s.level)
	left, right := g.toSlope(s.left), g.toSlope(s.right)
	rss = g.toSquares(rss)
	if !points.Finite(join) || !points.Finite(level) || !points.Finite(left) || !points.Finite(right) || !points.Finite(rss) {
		return fmt.Errorf("curve: two lines through these points leave the range of numbers; rescale the xs or ys: %w", ErrInput)
	}
	b.Join, b.Level, b.Left, b.Right = join, level, left, right
	b.rss, b.dof = rss, len(xs)-need
	return nil
}

// A breakAt is a place for the join: in the gap after a group, where the
// separate lines meet, or pinned at the group before or after the gap.
type breakAt struct {
	gap  int // between this group and the next
	kind breakKind
	rss  float64 // about the means of the groups
}

type breakKind int

const (
	inGap breakKind = iota
	atStart
	atEnd
)

// better reports whether a sum of squares is less than the best so far by more
// than rounding: of equals the first one stays.
func better(rss, best float64) bool { return rss < best*(1-1e-12) }

// bestBreak finds the best join of two lines.
func (g *grouped) bestBreak() breakAt {
	best := breakAt{rss: math.Inf(1)}
	for i := 1; i <= len(g.groups)-3; i++ {
		l, r := &g.left[i], &g.right[i+1]
		rss := l.rss + r.rss
		if best.gap > 0 && !better(rss, best.rss) {
			continue
		}
		x0, x1 := g.groups[i].x, g.groups[i+1].x
		if _, ok := meet(l, r, x0, x1); ok {
			best = breakAt{i, inGap, rss}
			continue
		}
		if s := rss + pinned(l, r, x0); better(s, best.rss) || best.gap == 0 {
			best = breakAt{i, atStart, s}
		}
		if s := rss + pinned(l, r, x1); better(s, best.rss) {
			best = breakAt{i, atEnd, s}
		}
	}
	return best
}

// pinned returns by how much the sum of squares grows when two lines are made
// to meet at x: the square of the step between them over its variance.
func pinned(l, r *line, x float64) float64 {
	d := l.at(x) - r.at(x)
	return d * d / (l.variance(x) + r.variance(x))
}

type broken struct{ join, level, left, right float64 }

// solveBreak returns the two lines that belong to a join.
func (g *grouped) solveBreak(at breakAt) broken {
	l, r := through(g.groups[:at.gap+1]), through(g.groups[at.gap+1:])
	x0, x1 := g.groups[at.gap].x, g.groups[at.gap+1].x
	x := x0
	switch at.kind {
	case inGap:
		x, _ = meet(&l, &r, x0, x1)
		return broken{x, l.at(x), l.slope, r.slope}
	case atEnd:
		x = x1
	}
	vl, vr := l.variance(x), r.variance(x)
	yl, yr := l.at(x), r.at(x)
	y := yl + (yr-yl)*(vl/(vl+vr))
	return broken{x, y, l.slopeFrom(x, y), r.slopeFrom(x, y)}
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
