package draw

import "gonum.org/v1/plot/vg"

// Box is a rectangle on paper; y grows upward.
type Box struct{ X0, Y0, X1, Y1 vg.Length }

// Rect returns a box.
func Rect(x0, y0, x1, y1 vg.Length) Box { return Box{x0, y0, x1, y1} }

// Width and Height are those of the box.
func (b Box) Width() vg.Length  { return b.X1 - b.X0 }
func (b Box) Height() vg.Length { return b.Y1 - b.Y0 }

// Grown returns b with a margin of d on every side.
func (b Box) Grown(d vg.Length) Box { return Box{b.X0 - d, b.Y0 - d, b.X1 + d, b.Y1 + d} }

// Overlaps reports whether the boxes share any paper.
func (b Box) Overlaps(c Box) bool {
	return b.X0 < c.X1 && c.X0 < b.X1 && b.Y0 < c.Y1 && c.Y0 < b.Y1
}

// Holds reports whether c lies inside b.
func (b Box) Holds(c Box) bool {
	return b.X0 <= c.X0 && c.X1 <= b.X1 && b.Y0 <= c.Y0 && c.Y1 <= b.Y1
}

// Crosses reports whether the segment from p to q meets b: the part of it that
// is left after cutting at each side (Liang & Barsky 1984).
func (b Box) Crosses(p, q vg.Point) bool {
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
	return cut(-dx, p.X-b.X0) && cut(dx, b.X1-p.X) && cut(-dy, p.Y-b.Y0) && cut(dy, b.Y1-p.Y)
}
