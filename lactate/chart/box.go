package chart

import "gonum.org/v1/plot/vg"

// box is a rectangle on paper; y grows upward.
type box struct{ x0, y0, x1, y1 vg.Length }

func (b box) width() vg.Length  { return b.x1 - b.x0 }
func (b box) height() vg.Length { return b.y1 - b.y0 }

// grown returns b with a margin of d on every side.
func (b box) grown(d vg.Length) box { return box{b.x0 - d, b.y0 - d, b.x1 + d, b.y1 + d} }

func (b box) overlaps(c box) bool {
	return b.x0 < c.x1 && c.x0 < b.x1 && b.y0 < c.y1 && c.y0 < b.y1
}

func (b box) holds(c box) bool {
	return b.x0 <= c.x0 && c.x1 <= b.x1 && b.y0 <= c.y0 && c.y1 <= b.y1
}

// crosses reports whether the segment from p to q meets b: the part of it that
// is left after cutting at each side (Liang & Barsky 1984).
func (b box) crosses(p, q vg.Point) bool {
	t0, t1 := vg.Length(0), vg.Length(1)
	cut := func(d, room vg.Length) bool { // d·t ≤ room
		switch {
		case d == 0:
			return room >= 0
		case d < 0:
			t0 = max(t0, room/d)
		default:
			t1 = min(t1, room/d)
		}
		return t0 <= t1
	}
	dx, dy := q.X-p.X, q.Y-p.Y
	return cut(-dx, p.X-b.x0) && cut(dx, b.x1-p.X) && cut(-dy, p.Y-b.y0) && cut(dy, b.y1-p.Y)
}
