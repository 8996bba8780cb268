package lines

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
)

// Three are three lines, each of which meets the next.
type Three struct {
	Lower, Upper, Level, Left, Middle, Right float64
}

// At returns the value at x.
func (s *Three) At(x float64) float64 {
	switch {
	case x <= s.Lower:
		return s.Level + s.Left*(x-s.Lower)
	case x <= s.Upper:
		return s.Level + s.Middle*(x-s.Lower)
	}
	return s.Level + s.Middle*(s.Upper-s.Lower) + s.Right*(x-s.Upper)
}

// mostGroups is the largest number of different xs that three lines take.
const mostGroups = 4096

// FitThree fits three lines to points that have been checked, and returns them and the
// weighted residual sum of squares.
func (g *Search) FitThree(xs, ys, weights []float64) (three Three, rss float64, err error) {
	const need = 6
	g.load(xs, ys, weights)
	n := len(g.groups)
	if n < need {
		return Three{}, 0, fmt.Errorf("curve: found %d different xs, three lines need %d: %w", n, need, points.ErrUndetermined)
	}
	if n > mostGroups {
		return Three{}, 0, fmt.Errorf("curve: found %d different xs, three lines take at most %d: %w", n, mostGroups, points.ErrInput)
	}
	g.sweep()
	// Two lines that leave nothing but rounding leave the second join open.
	at := g.bestBreak()
	two := g.solveBreak(at)
	steepest := max(two.Left, -two.Left, two.Right, -two.Right)
	if g.straight(at.rss, steepest) {
		return Three{}, 0, fmt.Errorf("curve: the points lie on no more than two straight lines, which leaves a join open: %w", points.ErrUndetermined)
	}
	best := g.bestBreaks()
	s := g.solveBreaks(best)
	if g.parallel(s.Left, s.Middle) || g.parallel(s.Middle, s.Right) {
		return Three{}, 0, fmt.Errorf("curve: a third line does not bring the fit nearer to the points, which leaves a join open: %w", points.ErrUndetermined)
	}
	for _, p := range g.points {
		r := p.y - s.At(p.x)
		rss += p.w * r * r
	}
	rss = g.toSquares(rss)
	three = Three{
		g.toX(s.Lower, best.lower), g.toX(s.Upper, best.upper), g.toY(s.Level),
		g.toSlope(s.Left), g.toSlope(s.Middle), g.toSlope(s.Right),
	}
	for _, v := range [...]float64{three.Lower, three.Upper, three.Level, three.Left, three.Middle, three.Right, rss} {
		if !points.Finite(v) {
			return Three{}, 0, fmt.Errorf("curve: three lines through these points leave the range of numbers; rescale the xs or ys: %w", points.ErrInput)
		}
	}
	return three, rss, nil
}

// breaksAt are places for the two joins of three lines. A join in a gap lies
// between its group and the next; one at a point lies at its group.
type breaksAt struct {
	lower, upper         int // groups
	lowerFree, upperFree bool
	rss                  float64 // about the means of the groups
}

// bestBreaks finds the best two joins of three lines. Groups a and b:
//
//	lower join   upper join   left     middle    right
//	at a         at b         … a      a+1 … b−1 b …      b ≥ a+1
//	after a      at b         … a      a+1 … b−1 b …      b ≥ a+2
//	at a         after b      … a      a+1 … b   b+1 …    b ≥ a+1
//	after a      after b      … a      a+1 … b   b+1 …    b ≥ a+2
//
// A group at a join belongs to both lines that meet there; it is counted with
// the outer one.
func (g *Search) bestBreaks() breaksAt {
	best := breaksAt{rss: math.Inf(1)}
	z := g.groups
	last := len(z) - 2 // the last but one group
	try := func(at breaksAt) {
		if better(at.rss, best.rss) || best.upper == 0 && at.rss <= math.MaxFloat64 {
			best = at
		}
	}
	for a := 1; a < last; a++ {
		l := &g.left[a]
		var mid line
		for b := a + 1; b <= last; b++ {
			// More groups only add to the sum of the left and middle lines.
			if best.upper != 0 && !better(l.rss+mid.rss, best.rss) {
				break
			}
			r := &g.right[b]
			if better(l.rss+mid.rss+r.rss, best.rss) {
				_, rss := bothPinned(l, &mid, r, z[a].x, z[b].x)
				try(breaksAt{a, b, false, false, rss})
				if b >= a+2 {
					if _, rss, ok := upperPinned(l, &mid, r, z[a].x, z[a+1].x, z[b].x); ok {
						try(breaksAt{a, b, true, false, rss})
					}
				}
			}
			mid.add(z[b])
			if b == last {
				break
			}
			r = &g.right[b+1]
			if better(l.rss+mid.rss+r.rss, best.rss) {
				if _, rss, ok := lowerPinned(l, &mid, r, z[a].x, z[b].x, z[b+1].x); ok {
					try(breaksAt{a, b, false, true, rss})
				}
				if b >= a+2 {
					if _, rss, ok := bothFree(l, &mid, r, z[a].x, z[a+1].x, z[b].x, z[b+1].x); ok {
						try(breaksAt{a, b, true, true, rss})
					}
				}
			}
		}
	}
	return best
}

// solveBreaks returns the three lines that belong to two joins, scaled, with their
// sums taken afresh in two passes.
func (g *Search) solveBreaks(at breaksAt) Three {
	z := g.groups
	a, b := at.lower, at.upper
	after := b // first group of the right line
	if at.upperFree {
		after = b + 1
	}
	l, r := through(z[:a+1]), through(z[after:])
	var mid line
	if a+1 < after {
		mid = through(z[a+1 : after])
	}
	// Rounding may have moved a meeting point out of its gap; it is then at the
	// end of the gap.
	var s Three
	switch {
	case at.lowerFree && at.upperFree:
		s, _, _ = bothFree(&l, &mid, &r, z[a].x, z[a+1].x, z[b].x, z[b+1].x)
	case at.lowerFree:
		s, _, _ = upperPinned(&l, &mid, &r, z[a].x, z[a+1].x, z[b].x)
	case at.upperFree:
		s, _, _ = lowerPinned(&l, &mid, &r, z[a].x, z[b].x, z[b+1].x)
	default:
		s, _ = bothPinned(&l, &mid, &r, z[a].x, z[b].x)
	}
	return s
}

// bothFree joins three separate lines where they meet, if that is between a0
// and a1, and between b0 and b1.
func bothFree(l, m, r *line, a0, a1, b0, b1 float64) (s Three, rss float64, ok bool) {
	x, okx := meet(l, m, a0, a1)
	y, oky := meet(m, r, b0, b1)
	return Three{x, y, l.at(x), l.slope, m.slope, r.slope}, l.rss + m.rss + r.rss, okx && oky
}

// lowerPinned makes the left and middle lines meet at a, and joins the right
// line where it meets the middle one, if that is between b0 and b1.
func lowerPinned(l, m, r *line, a, b0, b1 float64) (s Three, rss float64, ok bool) {
	y, slope, more := pin(l, m, a)
	bent := line{x: a, y: y, slope: slope}
	x, ok := meet(&bent, r, b0, b1)
	return Three{a, x, y, l.slopeFrom(a, y), slope, r.slope}, l.rss + m.rss + r.rss + more, ok
}

// upperPinned is lowerPinned seen in the mirror.
func upperPinned(l, m, r *line, a0, a1, b float64) (s Three, rss float64, ok bool) {
	y, slope, more := pin(r, m, b)
	bent := line{x: b, y: y, slope: slope}
	x, ok := meet(l, &bent, a0, a1)
	return Three{x, b, l.at(x), l.slope, slope, r.slopeFrom(b, y)}, l.rss + m.rss + r.rss + more, ok
}

// pin makes an outer line and the middle one meet at x. It returns the y there,
// the slope of the middle line, and by how much the sum of squares grows. A
// middle line of one group has a slope to spare: it turns about its group.
func pin(outer, m *line, x float64) (y, slope, more float64) {
	y = outer.at(x)
	if m.different < 2 {
		return y, (m.y - y) / (m.x - x), 0
	}
	d := m.at(x) - y
	vo, vm := outer.variance(x), m.variance(x)
	y += d * (vo / (vo + vm))
	return y, m.slopeFrom(x, y), d * d / (vo + vm)
}

// bothPinned makes three lines meet at a and b. The middle one may be of no
// group at all.
//
// With p and q the changes of the outer lines at a and b, and t and h the
// place of the middle mean between a and b and their distance, it minimises
//
//	p²/var_l + q²/var_r + W·((1−t)·p + t·q − e)² + Sxx/h²·(q − p − f)²
func bothPinned(l, m, r *line, a, b float64) (s Three, rss float64) {
	ya, yb := l.at(a), r.at(b)
	h := b - a
	il, ir := 1/l.variance(a), 1/r.variance(b)
	var p, q, more float64
	if m.different > 0 {
		t := (m.x - a) / h
		u := 1 - t
		k := m.sxx / (h * h)
		e := (m.y - ya) - t*(yb-ya)
		f := m.slope*h - (yb - ya)
		aa := il + m.w*u*u + k
		ab := m.w*t*u - k
		bb := ir + m.w*t*t + k
		ra := m.w*u*e - k*f
		rb := m.w*t*e + k*f
		det := aa*bb - ab*ab
		p, q = (ra*bb-rb*ab)/det, (rb*aa-ra*ab)/det
		de, df := u*p+t*q-e, q-p-f
		more = il*p*p + ir*q*q + m.w*de*de + k*df*df
	}
	ya, yb = ya+p, yb+q
	return Three{a, b, ya, l.slopeFrom(a, ya), (yb - ya) / h, r.slopeFrom(b, yb)}, l.rss + m.rss + r.rss + more
}
