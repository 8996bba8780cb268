package chart

import (
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

// spans draws, at the foot of a panel, how far the definitions of LT1 and of LT2 lie
// apart: a line from the slowest to the fastest, with a tick at either end.
func (pl *plate) spans(f draw.Frame, t lactate.Test, a *lactate.Analysis, blocked *draw.Obstacles) {
	foot := f.Y0 + 4
	if len(t.Sampled()) < len(t.Stages) {
		foot += 20 // above the crosses of lost samples and their words
	}
	for i, l := range limits(pl.Ground, a) {
		s := a.Spread([]lactate.Target{lactate.FirstThreshold, lactate.SecondThreshold}[i])
		if s.Answers < 2 {
			continue
		}
		x0, x1 := f.ClampX(s.Lowest.Intensity), f.ClampX(s.Highest.Intensity)
		y := foot + 6*vg.Length(1-i)
		pl.Horizontal(l.Line, 0.9, nil, y, x0, x1)
		for _, x := range []vg.Length{x0, x1} {
			pl.Vertical(l.Line, 0.9, nil, x, y-2, y+2)
		}
		blocked.Add(draw.Rect(x0, y-2.5, x1, y+2.5))
	}
}

// dmax returns the reading of Dmax, if the analysis has one that is neither LT1 nor LT2.
func dmax(a *lactate.Analysis) (lactate.Threshold, bool) {
	for _, th := range a.Thresholds {
		if _, ok := th.Method.(lactate.MaxDistance); ok && th.Err == nil && say.Finite(th.Intensity.Value) &&
			th.Method != a.LT1.Method && th.Method != a.LT2.Method {
			return th, true
		}
	}
	return lactate.Threshold{}, false
}

// third marks Dmax on the curve, wide enough to show around another mark, and returns what
// names it if there is room.
func (pl *plate) third(f draw.Frame, a *lactate.Analysis, blocked *draw.Obstacles) (name func()) {
	th, ok := dmax(a)
	if !ok {
		return func() {}
	}
	mark := pl.Marker(draw.Circle, pl.Ink, f.At(th.Intensity.Value, th.Lactate.Value), 4, true)
	blocked.Add(mark)
	return func() {
		pl.label(pl.Ink, say.Method(th.Method)+"\u00a0"+pl.o.said(th.Intensity.Value, f.Right-f.Left), mark, blocked)
	}
}
