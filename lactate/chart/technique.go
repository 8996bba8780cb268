package chart

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

// Strokes are the strokes of a test, for [Technique]. The zero value holds
// none.
type Strokes struct {
	Repeats []Stroke
	// Shortens is the speed from which stroke length falls. Zero means that
	// it is not drawn.
	Shortens lactate.Estimate
}

// Stroke is the stroke of one repeat. The zero value is no repeat.
type Stroke struct {
	Intensity float64          // mean speed of the whole repeat
	Rate      lactate.Estimate // cycles [1/min]
	Length    lactate.Estimate // per cycle [m]
}

// Technique draws stroke rate and stroke length against speed, each in its own
// panel, with the intervals that come with them. If the analysis is not nil, its
// thresholds are drawn too, to see whether the stroke changes there.
func Technique(s Strokes, a *lactate.Analysis, o Options) (*Picture, error) {
	lo, hi, err := strokesSpan(s.Repeats)
	if err != nil {
		return nil, err
	}
	var ls []limit
	if a != nil {
		for _, l := range found(limits(o.ground(), a)) {
			if l.Intensity.Value >= lo && l.Intensity.Value <= hi {
				l.HeartRate.Value = math.NaN() // not what the picture is about
				ls = append(ls, l)
			}
		}
	}
	var notes []string
	shortens := say.Finite(s.Shortens.Value) && s.Shortens.Value > 0
	if shortens {
		notes = append(notes, "Green: where stroke length starts to fall")
	}
	if len(ls) > 0 {
		notes = append(notes, "LT1 and LT2 of the same test")
	}
	if slices.ContainsFunc(s.Repeats, func(r Stroke) bool { return r.Rate.HasInterval() || r.Length.HasInterval() }) {
		notes = append(notes, "Bars: intervals of count and watch")
	}
	p, err := newPage(o.in(a), 290, sentences(notes...))
	if err != nil {
		return nil, err
	}
	repeats := slices.Clone(s.Repeats)
	slices.SortStableFunc(repeats, func(a, b Stroke) int { return cmp.Compare(a.Intensity, b.Intensity) })
	rate := func(r Stroke) lactate.Estimate { return r.Rate }
	length := func(r Stroke) lactate.Estimate { return r.Length }
	rl, rt := strokeSpan(repeats, rate)
	ll, lt := strokeSpan(repeats, length)
	head := vg.Length(0)
	if len(ls) > 0 {
		head = headHeight()
	}
	pl, err := newPlate(p, p.o.intensity(lo, hi),
		draw.Panel{Title: "stroke rate, cycles/min", Low: rl, Top: rt, Share: 1, Head: head},
		draw.Panel{Title: "stroke length, m per cycle", Low: ll, Top: lt, Share: 1})
	if err != nil {
		return nil, err
	}
	bar := pl.Heads[0].Y0 + 5
	pl.strips(ls, bar)
	pl.headlines(ls, bar)
	if shortens {
		f := pl.Frames[1]
		if s.Shortens.HasInterval() {
			pl.Rect(pl.Change.Strip, draw.Rect(f.ClampX(s.Shortens.Low), f.Y0, f.ClampX(s.Shortens.High), f.Y1))
			pl.whisker(f, s.Shortens, f.Y1-3, 1.6, pl.Change)
		}
		pl.Vertical(pl.Change.Line, 1.3, draw.Dotted(), f.ClampX(s.Shortens.Value), f.Y0, f.Y1)
	}
	pl.strokes(pl.Frames[0], repeats, rate, draw.Circle)
	pl.strokes(pl.Frames[1], repeats, length, draw.Square)
	return pl.finish("technique against "+p.o.Quantity, describeStrokes(repeats, shortens, s.Shortens, p.o, hi-lo)), nil
}

// strokesSpan returns what the horizontal axis covers, or what cannot be drawn.
func strokesSpan(repeats []Stroke) (lo, hi float64, err error) {
	if len(repeats) < 2 {
		return 0, 0, fmt.Errorf("chart: technique: found %d repeats, want two or more", len(repeats))
	}
	var t lactate.Test
	var errs []error
	for i, r := range repeats {
		if !say.Finite(r.Intensity, r.Rate.Value, r.Length.Value) || !(r.Intensity > 0 && r.Rate.Value > 0 && r.Length.Value > 0) {
			errs = append(errs, fmt.Errorf("chart: technique: repeat %d: found intensity %v, rate %v and length %v, want numbers above zero",
				i+1, r.Intensity, r.Rate.Value, r.Length.Value))
		}
		t.Stages = append(t.Stages, lactate.Stage{Intensity: r.Intensity})
	}
	if err := errors.Join(errs...); err != nil {
		return 0, 0, err
	}
	if lo, hi = span(t); !(lo < hi) {
		return 0, 0, fmt.Errorf("chart: technique: found repeats of one intensity, %v, want two different ones", repeats[0].Intensity)
	}
	return lo, hi, nil
}

func strokeSpan(repeats []Stroke, of func(Stroke) lactate.Estimate) (low, top float64) {
	low, top = math.Inf(1), math.Inf(-1)
	for _, r := range repeats {
		e := of(r)
		for _, v := range []float64{e.Value, e.Low, e.High} {
			if say.Finite(v) && (v > 0 || v == e.Value) {
				low, top = math.Min(low, v), math.Max(top, v)
			}
		}
	}
	margin := math.Max(0.1*(top-low), 0.02*top)
	return low - margin, top + margin
}

func (pl *plate) strokes(f draw.Frame, repeats []Stroke, of func(Stroke) lactate.Estimate, s draw.Shape) {
	var line []vg.Point
	blocked := draw.Obstacles{Within: f.Box}
	blocked.Within.Y1 += 8
	for _, r := range repeats {
		line = append(line, f.At(r.Intensity, of(r).Value))
	}
	blocked.Polyline(line)
	pl.Line(pl.Soft, 1.1, nil, line...)
	for i, r := range repeats {
		e := of(r)
		if e.HasInterval() && e.Low < e.High {
			x, y0, y1 := line[i].X, f.ClampY(e.Low), f.ClampY(e.High)
			pl.upright(x, y0, y1, 1, 2)
			blocked.Add(draw.Rect(x-2, y0, x+2, y1))
		}
		blocked.Add(pl.Marker(s, pl.Ink, line[i], 2.5, false))
	}
	n := 1
	if f.Top-f.Bottom < 5 {
		n = 2
	}
	for i, r := range repeats {
		pl.label(pl.Soft, say.Number(of(r).Value, n), draw.Rect(line[i].X-4, line[i].Y-4, line[i].X+4, line[i].Y+4), &blocked)
	}
}

func describeStrokes(repeats []Stroke, shortens bool, at lactate.Estimate, o Options, span float64) string {
	parts := []string{fmt.Sprintf("Stroke rate in cycles per minute and stroke length in metres against %s in %s for %d repeats.", o.Quantity, o.Unit, len(repeats))}
	for _, r := range repeats {
		parts = append(parts, fmt.Sprintf("%s: %s per minute, %s m.", o.plainly(r.Intensity, span), say.Number(r.Rate.Value, 1), say.Number(r.Length.Value, 2)))
	}
	if shortens {
		parts = append(parts, "Stroke length starts to fall at "+o.plainly(at.Value, span)+".")
	}
	return strings.Join(parts, " ")
}
