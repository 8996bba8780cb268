package chart

import (
	"cmp"
	"math"
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"gonum.org/v1/plot/vg"
)

// hearts returns the stages with a heart rate, in order of intensity.
func hearts(t lactate.Test) []lactate.Stage {
	var hs []lactate.Stage
	for _, s := range t.Stages {
		if s.HeartRate > 0 {
			hs = append(hs, s)
		}
	}
	return sorted(hs)
}

// heartSpan returns what a panel of heart rates covers, if there are any.
func heartSpan(hs ...[]lactate.Stage) (low, top float64, ok bool) {
	low, top = math.Inf(1), math.Inf(-1)
	for _, h := range hs {
		for _, s := range h {
			low, top = math.Min(low, s.HeartRate), math.Max(top, s.HeartRate)
		}
	}
	margin := math.Max(4, 0.12*(top-low))
	return math.Max(0, low-margin), top + margin, low <= top
}

// heartRates draws heart rates and a line through them; those that are odd are hollow, and
// the line leaves them out.
func (pl *plate) heartRates(f draw.Frame, hs []lactate.Stage, odd map[lactate.Stage]bool, hollow bool) {
	var line []vg.Point
	for _, s := range hs {
		if !odd[s] {
			line = append(line, f.At(s.Intensity, s.HeartRate))
		}
	}
	var dashes []vg.Length
	if hollow {
		dashes = draw.Dashed()
	}
	pl.Line(pl.Soft, 1.1, dashes, line...)
	for _, s := range hs {
		pl.Marker(draw.Triangle, pl.Ink, f.At(s.Intensity, s.HeartRate), 2.6, hollow || odd[s])
	}
}

// sorted returns the stages in order of intensity.
func sorted(ss []lactate.Stage) []lactate.Stage {
	slices.SortStableFunc(ss, func(a, b lactate.Stage) int { return cmp.Compare(a.Intensity, b.Intensity) })
	return ss
}
