package lines

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
)

// Two are two lines that meet.
type Two struct{ Join, Level, Left, Right float64 }

// FitTwo fits two lines to points that have been checked, and returns them and the
// weighted residual sum of squares.
func (g *Search) FitTwo(xs, ys, weights []float64) (two Two, rss float64, err error) {
	const need = 4
	g.load(xs, ys, weights)
	if n := len(g.groups); n < need {
		return Two{}, 0, fmt.Errorf("curve: found %d different xs, two lines need %d: %w", n, need, points.ErrUndetermined)
	}
	g.sweep()
	all := g.left[len(g.groups)-1]
	best := g.bestBreak()
	s := g.solveBreak(best)
	if g.straight(all.rss, all.slope) || g.parallel(s.Left, s.Right) {
		return Two{}, 0, fmt.Errorf("curve: the points lie on one straight line, which leaves the join open: %w", points.ErrUndetermined)
	}
	for _, p := range g.points {
		slope := s.Left
		if p.x > s.Join {
			slope = s.Right
		}
		r := (p.y - s.Level) - slope*(p.x-s.Join)
		rss += p.w * r * r
	}
	two = Two{g.toX(s.Join, best.gap), g.toY(s.Level), g.toSlope(s.Left), g.toSlope(s.Right)}
	rss = g.toSquares(rss)
	if !points.Finite(two.Join) || !points.Finite(two.Level) || !points.Finite(two.Left) || !points.Finite(two.Right) || !points.Finite(rss) {
		return Two{}, 0, fmt.Errorf("curve: two lines through these points leave the range of numbers; rescale the xs or ys: %w", points.ErrInput)
	}
	return two, rss, nil
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
func (g *Search) bestBreak() breakAt {
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

// solveBreak returns the two lines that belong to a join, scaled.
func (g *Search) solveBreak(at breakAt) Two {
	l, r := through(g.groups[:at.gap+1]), through(g.groups[at.gap+1:])
	x0, x1 := g.groups[at.gap].x, g.groups[at.gap+1].x
	x := x0
	switch at.kind {
	case inGap:
		x, _ = meet(&l, &r, x0, x1)
		return Two{x, l.at(x), l.slope, r.slope}
	case atEnd:
		x = x1
	}
	vl, vr := l.variance(x), r.variance(x)
	yl, yr := l.at(x), r.at(x)
	y := yl + (yr-yl)*(vl/(vl+vr))
	return Two{x, y, l.slopeFrom(x, y), r.slopeFrom(x, y)}
}
