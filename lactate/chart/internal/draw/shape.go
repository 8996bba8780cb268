package draw

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Shape is the outline of a marker: two kinds of point differ without colour.
type Shape int

const (
	Circle Shape = iota
	Square
	Diamond
	Triangle
	Wedge // a triangle that stands on its point
)

// Marker draws a marker of about the same area for each shape, with a rim of
// paper around it; hollow ones are filled with paper.
func (p *Pen) Marker(s Shape, c color.Color, at vg.Point, r vg.Length, hollow bool) Box {
	p.marks = append(p.marks, fill{p.Paper, s.path(at, r+1.1)})
	if hollow {
		width := r / 2.6
		p.marks = append(p.marks, stroke{draw.LineStyle{Color: c, Width: width}, s.path(at, r-width/2)})
	} else {
		p.marks = append(p.marks, fill{c, s.path(at, r)})
	}
	return Box{at.X, at.Y, at.X, at.Y}.Grown(r + 1.1)
}

func (s Shape) path(at vg.Point, r vg.Length) vg.Path {
	var p vg.Path
	corner := func(radius vg.Length, quarters ...float64) {
		for i, q := range quarters {
			sin, cos := math.Sincos(q * math.Pi / 2)
			v := vg.Point{X: at.X + radius*vg.Length(cos), Y: at.Y + radius*vg.Length(sin)}
			if i == 0 {
				p.Move(v)
			} else {
				p.Line(v)
			}
		}
	}
	switch s {
	case Square:
		corner(1.25*r, 0.5, 1.5, 2.5, 3.5)
	case Diamond:
		corner(1.3*r, 0, 1, 2, 3)
	case Triangle:
		corner(1.35*r, 1, 1+4./3, 1+8./3)
	case Wedge:
		corner(1.35*r, 3, 3+4./3, 3+8./3)
	default:
		p.Move(vg.Point{X: at.X + r, Y: at.Y})
		p.Arc(at, r, 0, 2*math.Pi)
	}
	p.Close()
	return p
}
