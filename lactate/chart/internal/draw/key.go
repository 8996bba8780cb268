package draw

import "gonum.org/v1/plot/vg"

// Key names a line and its marker.
type Key struct {
	Name string
	Shape
	Hollow bool
	Line   bool // with its dashes
	Dashes []vg.Length
}

// Keys writes a key into a free corner of the panel.
func (pl *Plate) Keys(f Frame, blocked *Obstacles, ks ...Key) {
	face := Plain(TextSize)
	line := LineHeight(face) + 1
	names := make([]string, len(ks))
	width := vg.Length(0)
	for i, k := range ks {
		names[i] = Fitted(face, k.Name, f.Width()/2-26)
		width = max(width, 26+face.Width(names[i]))
	}
	high := line * vg.Length(len(ks))
	left, right := f.X0+4, f.X1-4-width
	up, down := f.Y1-high, f.Y0+6
	var corners []Box
	for _, c := range []vg.Point{{X: left, Y: up}, {X: right, Y: down}, {X: right, Y: up}, {X: left, Y: down}, {X: (left + right) / 2, Y: up}, {X: (left + right) / 2, Y: down}} {
		corners = append(corners, Box{c.X, c.Y, c.X + width, c.Y + high})
	}
	b, ok := blocked.Choose(corners...)
	if !ok {
		b = corners[0]
	}
	pl.Rect(pl.Paper, b)
	for i, k := range ks {
		y := b.Y1 - vg.Length(i+1)*line + line/2
		if k.Line {
			pl.Horizontal(pl.Ink, 1.7, k.Dashes, y, b.X0, b.X0+21)
		}
		pl.Marker(k.Shape, pl.Ink, vg.Point{X: b.X0 + 10.5, Y: y}, 2.5, k.Hollow)
		pl.Text(face, pl.Ink, b.X0+26, y-0.36*TextSize, 0, names[i])
	}
}
