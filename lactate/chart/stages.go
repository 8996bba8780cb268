package chart

import (
	"fmt"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"gonum.org/v1/plot/vg"
)

// odd returns the stages that the warnings of a kind are about.
func odd(t lactate.Test, a *lactate.Analysis, kind lactate.WarningKind) map[lactate.Stage]bool {
	out := map[lactate.Stage]bool{}
	for _, w := range a.Warnings {
		if w.Kind != kind {
			continue
		}
		for _, n := range w.Stages {
			if n >= 1 && n <= len(t.Stages) {
				out[t.Stages[n-1]] = true
			}
		}
	}
	return out
}

// stages draws the stages of a test with their bars; those that are odd are hollow.
func (pl *plate) stages(f draw.Frame, t lactate.Test, odd map[lactate.Stage]bool, blocked *draw.Obstacles, filled bool) {
	for _, s := range t.Sampled() {
		bar := deviations * pl.o.Noise.Lactate(s.Lactate)
		x, y := f.X(s.Intensity), f.Y(s.Lactate)
		y0, y1 := f.ClampY(s.Lactate-bar), f.ClampY(s.Lactate+bar)
		pl.upright(x, y0, y1, 1, 2)
		blocked.Add(draw.Rect(x-2, y0, x+2, y1))
		blocked.Add(pl.Marker(draw.Circle, pl.Ink, vg.Point{X: x, Y: y}, 2.5, !filled || odd[s]))
	}
	for _, s := range t.Stages {
		if s.Lactate > 0 {
			continue
		}
		x := f.X(s.Intensity)
		for _, d := range []vg.Length{-1, 1} {
			pl.Line(pl.Ink, 1.2, nil, vg.Point{X: x - 3, Y: f.Y0 + 6 - 3*d}, vg.Point{X: x + 3, Y: f.Y0 + 6 + 3*d})
		}
		blocked.Add(lost(x, f))
	}
}

// lost returns the box of the cross of a lost sample.
func lost(x vg.Length, f draw.Frame) draw.Box { return draw.Rect(x-4, f.Y0+2, x+4, f.Y0+10) }

// stageWords writes the lactates beside the stages, if there is room, those that are odd
// with a question mark.
func (pl *plate) stageWords(f draw.Frame, t lactate.Test, odd map[lactate.Stage]bool, blocked *draw.Obstacles) {
	for _, s := range t.Stages {
		x := f.X(s.Intensity)
		label, mark := "no sample", lost(x, f)
		if s.Lactate > 0 {
			bar := deviations * pl.o.Noise.Lactate(s.Lactate)
			label, mark = fmt.Sprintf("%.1f", s.Lactate), draw.Rect(x-4, f.ClampY(s.Lactate-bar), x+4, f.ClampY(s.Lactate+bar))
		}
		if odd[s] {
			label += " ?"
		}
		pl.label(pl.Soft, label, mark, blocked)
	}
}
