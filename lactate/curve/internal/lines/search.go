// Package lines knows the best two and three straight lines that meet, over all places of
// their joins (Hudson 1966, JASA 61:1097–1129; from memory).
package lines

import (
	"cmp"
	"math"
	"slices"

	"example.com/steptest/lactate/curve/internal/points"
)

// A Search finds the best lines. It holds the work space: the points in order, those that
// share an x drawn together, both axes scaled by powers of two to |x| ≤ 1 and |y| ≤ 1.
type Search struct {
	points []weighted // in order of x
	groups []weighted // one for each different x: mean y, sum of weights
	places []float64  // x of each group, before scaling

	midX, unitX float64 // x = midX + scaled·unitX
	midY, unitY float64
	unitW       float64
	noise       float64 // what rounding of the input can do to a scaled y, at slope 0
	noiseX      float64 // … and more at a scaled slope of 1

	left, right []line // over the groups up to i, and from i on
}

// weighted is a point, or a group of them, and its weight.
type weighted struct{ x, y, w float64 }

// load sorts, scales and groups the points.
func (g *Search) load(xs, ys, weights []float64) {
	g.groups, g.places = g.groups[:0], g.places[:0]
	if len(xs) == 0 {
		return
	}
	g.points = points.Resize(g.points, len(xs))
	pts := g.points
	top := 0.0
	for i := range pts {
		w := 1.0
		if weights != nil {
			w = weights[i]
			top = max(top, w)
		}
		pts[i] = weighted{xs[i], ys[i], w}
	}
	slices.SortFunc(pts, func(a, b weighted) int {
		switch {
		case a.x < b.x:
			return -1
		case a.x > b.x:
			return 1
		}
		return cmp.Or(cmp.Compare(a.y, b.y), cmp.Compare(a.w, b.w))
	})
	lo, hi := pts[0].y, pts[0].y
	for _, p := range pts {
		lo, hi = min(lo, p.y), max(hi, p.y)
	}
	first, last := pts[0].x, pts[len(pts)-1].x
	g.midX, g.midY = first/2+last/2, lo/2+hi/2
	g.unitX = points.PowerOfTwo(max(g.midX-first, last-g.midX))
	g.unitY = points.PowerOfTwo(max(g.midY-lo, hi-g.midY))
	g.unitW = 1
	if weights != nil {
		g.unitW = points.PowerOfTwo(top)
	}
	const (
		rounding = 0x1p-48
		same     = 0x1p-52 // of half the range: xs as close as this are one
	)
	g.noise = rounding * (1 + math.Abs(g.midY)/g.unitY)
	g.noiseX = rounding * (1 + math.Abs(g.midX)/g.unitX)

	for i := range pts {
		p := &pts[i]
		x := p.x
		*p = weighted{(p.x - g.midX) / g.unitX, (p.y - g.midY) / g.unitY, p.w / g.unitW}
		if n := len(g.groups); n > 0 && p.x-g.groups[n-1].x <= same {
			q := &g.groups[n-1]
			q.w += p.w
			q.y += (p.y - q.y) * (p.w / q.w)
		} else {
			g.groups, g.places = append(g.groups, *p), append(g.places, x)
		}
	}
}

// sweep fits a line to the groups up to each one, and from each one on.
func (g *Search) sweep() {
	n := len(g.groups)
	g.left, g.right = points.Resize(g.left, n), points.Resize(g.right, n)
	var l line
	for i := range n {
		l.add(g.groups[i])
		g.left[i] = l
	}
	l = line{}
	for i := n - 1; i >= 0; i-- {
		l.add(g.groups[i])
		g.right[i] = l
	}
}

// straight reports whether a sum of squares about pieces of the given slope is
// no more than rounding leaves.
func (g *Search) straight(rss, slope float64) bool {
	weight := g.left[len(g.left)-1].w
	tol := g.noise + math.Abs(slope)*g.noiseX
	return rss <= weight*tol*tol
}

// parallel reports whether two pieces differ in slope by no more than rounding
// leaves over the range of the points.
func (g *Search) parallel(a, b float64) bool {
	return !(math.Abs(a-b) > g.noise+max(math.Abs(a), math.Abs(b))*g.noiseX)
}

// toX returns the x of a scaled one that lies at a group or between it and the
// next; at a group it is the x of the group to the last bit.
func (g *Search) toX(x float64, group int) float64 {
	switch from, to := g.groups[group], g.groups[group+1]; {
	case x <= from.x:
		return g.places[group]
	case x >= to.x:
		return g.places[group+1]
	}
	return min(max(g.midX+x*g.unitX, g.places[group]), g.places[group+1])
}

// toY returns the y of a scaled one; toSlope the slope, toSquares the sum of
// squares.
func (g *Search) toY(y float64) float64     { return g.midY + y*g.unitY }
func (g *Search) toSlope(b float64) float64 { return b / g.unitX * g.unitY }
func (g *Search) toSquares(s float64) float64 {
	return s * g.unitY * g.unitY * g.unitW
}
