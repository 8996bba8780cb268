package chart

import (
	"image/color"

	"example.com/steptest/lactate/chart/internal/draw"
	"gonum.org/v1/plot/vg"
)

// rowWords are the words of a row of a comparison, and the marks of the row that
// they keep clear of.
type rowWords struct {
	draw.Obstacles
	paper       color.Color // of the row
	value, name string      // an empty value takes no room
}

// write writes the words on the side of the marks that has room.
func (w *rowWords) write(pl *plate, y vg.Length) {
	small, bold := draw.Plain(draw.TextSize), draw.Strong(draw.TextSize)
	lo, hi := w.Within.X1, w.Within.X0
	for _, b := range w.Boxes {
		lo, hi = min(lo, b.X0), max(hi, b.X1)
	}
	gap := vg.Length(4)
	if w.value == "" {
		gap = 0
	}
	left, right := lo-w.Within.X0, w.Within.X1-hi
	name := draw.Fitted(small, w.name, max(left, right)-6-bold.Width(w.value)-gap)
	width := small.Width(name) + gap + bold.Width(w.value)
	x := hi + 3
	if width+3 > right || left > right && width+3 <= left {
		x = lo - 3 - width
	}
	behind := draw.Rect(x-1, w.Within.Y0+1, x+width+1, w.Within.Y1-1)
	pl.Rect(pl.Paper, behind)
	pl.Rect(w.paper, behind)
	base := y - 0.36*draw.TextSize
	pl.Text(bold, pl.Ink, x, base, 0, w.value)
	pl.Text(small, pl.Ink, x+bold.Width(w.value)+gap, base, 0, name)
}
