package chart

import (
	"fmt"

	"example.com/steptest/lactate"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// stages draws the stages of a test with their bars.
func (pl *plate) stages(f frame, t lactate.Test, blocked *obstacles, filled bool) {
	for _, s := range t.Sampled() {
		bar := deviations * pl.o.Noise.Lactate(s.Lactate)
		x, y := f.x(s.Intensity), f.y(s.Lactate)
		y0, y1 := f.clampY(s.Lactate-bar), f.clampY(s.Lactate+bar)
		pl.vertical(pl.ink, 1, nil, x, y0, y1)
		for _, end := range []vg.Length{y0, y1} {
			pl.horizontal(pl.ink, 1, nil, end, x-2, x+2)
		}
		blocked.add(box{x - 2, y0, x + 2, y1})
		blocked.add(pl.marker(circle, pl.ink, vg.Point{X: x, Y: y}, 2.5, !filled))
	}
	for _, s := range t.Stages {
		if s.Lactate > 0 {
			continue
		}
		x := f.x(s.Intensity)
		for _, d := range []vg.Length{-1, 1} {
			pl.line(pl.ink, 1.2, nil, vg.Point{X: x - 3, Y: f.y0 + 6 - 3*d}, vg.Point{X: x + 3, Y: f.y0 + 6 + 3*d})
		}
		blocked.add(lost(x, f))
	}
}

// lost returns the box of the cross of a lost sample.
func lost(x vg.Length, f frame) box { return box{x - 4, f.y0 + 2, x + 4, f.y0 + 10} }

// stageWords writes the lactates beside the stages, where there is room.
func (pl *plate) stageWords(f frame, t lactate.Test, blocked *obstacles) {
	small := plain(textSize)
	for _, s := range t.Stages {
		x := f.x(s.Intensity)
		label, mark := "no sample", lost(x, f)
		if s.Lactate > 0 {
			bar := deviations * pl.o.Noise.Lactate(s.Lactate)
			label, mark = fmt.Sprintf("%.1f", s.Lactate), box{x - 4, f.clampY(s.Lactate - bar), x + 4, f.clampY(s.Lactate + bar)}
		}
		if b, ok := blocked.choose(around(small, label, mark)...); ok {
			pl.text(small, pl.soft, b.x0, b.y0+descent(small), 0, label)
		}
	}
}

// around returns the places for a label beside a mark, the best first: above,
// to the upper left, left, below, right.
func around(f font.Face, s string, m box) []box {
	w, e := f.Width(s), f.Extents()
	h := e.Ascent + e.Descent
	x, y := (m.x0+m.x1)/2, (m.y0+m.y1)/2
	var places []box
	for _, c := range []vg.Point{
		{X: x - w/2, Y: m.y1},
		{X: m.x0 - w, Y: m.y1 - h/3},
		{X: m.x0 - w, Y: y - h/2},
		{X: x - w/2, Y: m.y0 - h},
		{X: m.x1, Y: m.y0 - h/2},
		{X: m.x1, Y: y - h/2},
		{X: m.x1, Y: m.y1 - h/3},
		{X: x - w/2, Y: m.y1 + h/2},
		{X: x - w/2, Y: m.y0 - 1.5*h},
	} {
		places = append(places, box{c.X, c.Y, c.X + w, c.Y + h})
	}
	return places
}
