package chart

import (
	"image/color"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"gonum.org/v1/plot/vg"
)

// label writes a text beside a mark, if there is room.
func (pl *plate) label(c color.Color, text string, mark draw.Box, blocked *draw.Obstacles) {
	small := draw.Plain(draw.TextSize)
	if b, ok := blocked.Choose(draw.Around(small, text, mark)...); ok {
		pl.Text(small, c, b.X0, b.Y0+draw.Descent(small), 0, text)
	}
}

// upright draws an upright bar with a cap at each end, which reaches so far to each side.
func (pl *plate) upright(x, y0, y1, width, reach vg.Length) {
	pl.Vertical(pl.Ink, width, nil, x, y0, y1)
	for _, y := range []vg.Length{y0, y1} {
		pl.Horizontal(pl.Ink, width, nil, y, x-reach, x+reach)
	}
}

// free returns the first panel as a place for words, which the lines of limits cross.
func (pl *plate) free(ls []limit) draw.Obstacles {
	f := pl.Frames[0]
	blocked := draw.Obstacles{Within: f.Box}
	for _, l := range ls {
		x := f.X(l.Intensity.Value)
		blocked.Lines = append(blocked.Lines, [2]vg.Point{{X: x, Y: f.Y0}, {X: x, Y: f.Y1}})
	}
	return blocked
}

// onCurve marks limits on the curve.
func (pl *plate) onCurve(ls []limit, blocked *draw.Obstacles) {
	for _, l := range ls {
		blocked.Add(pl.Marker(l.Shape, l.Line, pl.Frames[0].At(l.Intensity.Value, l.Lactate.Value), 3.2, false))
	}
}

// lactatePanels returns the panel of lactates, and below it one of heart rates if there
// are any.
func lactatePanels(top float64, head vg.Length, hearts ...[]lactate.Stage) []draw.Panel {
	panels := []draw.Panel{{Title: "lactate, mmol/L", Top: top, Share: 1, Head: head}}
	if low, high, ok := heartSpan(hearts...); ok {
		panels = append(panels, draw.Panel{Title: "heart rate, /min", Low: low, Top: high, Share: 0.38})
	}
	return panels
}
