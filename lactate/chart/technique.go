package chart

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

// Strokes are the strokes of a test, for [Technique]. The zero value holds
// none.
type Strokes struct {
	Repeats []Stroke
	// Shortens is the speed where stroke length starts to fall. Zero means that
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
// panel, with the intervals that come with them. Where the analysis is not nil
// its thresholds are drawn too, to see whether the stroke changes there.
func Technique(s Strokes, a *lactate.Analysis, o Options) (*Picture, error) {
	if len(s.Repeats) < 2 {
		return nil, fmt.Errorf("chart: technique: found %d repeats, expected two or more", len(s.Repeats))
	}
	var t lactate.Test
	var errs []error
	for i, r := range s.Repeats {
		if !say.Finite(r.Intensity, r.Rate.Value, r.Length.Value) || !(r.Intensity > 0 && r.Rate.Value > 0 && r.Length.Value > 0) {
			errs = append(errs, fmt.Errorf("chart: technique: repeat %d: found intensity %v, rate %v and length %v, expected numbers above zero",
				i+1, r.Intensity, r.Rate.Value, r.Length.Value))
		}
		t.Stages = append(t.Stages, lactate.Stage{Intensity: r.Intensity})
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	lo, hi := span(t)
	if !(lo < hi) {
		return nil, fmt.Errorf("chart: technique: found repeats of one intensity, %v, expected two different ones", s.Repeats[0].Intensity)
	}
	var ls []limit
	if a != nil {
		for _, l := range found(light().limits(a)) {
			if l.Intensity.Value >= lo && l.Intensity.Value <= hi {
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
	p, err := newPage(o, 290, sentences(notes...))
	if err != nil {
		return nil, err
	}
	repeats := slices.Clone(s.Repeats)
	slices.SortStableFunc(repeats, func(a, b Stroke) int {
		return int(math.Copysign(1, a.Intensity-b.Intensity))
	})
	rate := func(r Stroke) lactate.Estimate { return r.Rate }
	length := func(r Stroke) lactate.Estimate { return r.Length }
	rl, rt := strokeSpan(repeats, rate)
	ll, lt := strokeSpan(repeats, length)
	head := vg.Length(0)
	if len(ls) > 0 {
		head = headHeight()
	}
	pl, err := newPlate(p, p.o.intensity(lo, hi),
		panel{title: "stroke rate, cycles/min", low: rl, top: rt, share: 1, head: head},
		panel{title: "stroke length, m per cycle", low: ll, top: lt, share: 1})
	if err != nil {
		return nil, err
	}
	tones := pl.limits(&lactate.Analysis{})
	for i := range ls {
		for _, l := range tones {
			if l.name == ls[i].name {
				ls[i].tone = l.tone
			}
		}
		ls[i].HeartRate.Value = math.NaN()
	}
	bar := pl.heads[0].y0 + 5
	pl.strips(ls, bar)
	pl.headlines(ls, bar)
	if shortens {
		f := pl.frames[1]
		if s.Shortens.HasInterval() {
			pl.rect(pl.change.strip, box{f.clampX(s.Shortens.Low), f.y0, f.clampX(s.Shortens.High), f.y1})
			pl.whisker(f, s.Shortens, f.y1-3, 1.6, pl.change)
		}
		pl.vertical(pl.change.line, 1.3, dotted(), f.clampX(s.Shortens.Value), f.y0, f.y1)
	}
	pl.strokes(pl.frames[0], repeats, rate, circle)
	pl.strokes(pl.frames[1], repeats, length, square)
	return pl.finish("technique against "+p.o.Quantity, describeStrokes(repeats, shortens, s.Shortens, p.o, hi-lo)), nil
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

func (pl *plate) strokes(f frame, repeats []Stroke, of func(Stroke) lactate.Estimate, s shape) {
	small := plain(textSize)
	var line []vg.Point
	blocked := obstacles{within: f.box}
	blocked.within.y1 += 8
	for _, r := range repeats {
		line = append(line, f.at(r.Intensity, of(r).Value))
	}
	blocked.polyline(line)
	pl.line(pl.soft, 1.1, nil, line...)
	for i, r := range repeats {
		e := of(r)
		if e.HasInterval() && e.Low < e.High {
			x, y0, y1 := line[i].X, f.clampY(e.Low), f.clampY(e.High)
			pl.vertical(pl.ink, 1, nil, x, y0, y1)
			for _, y := range []vg.Length{y0, y1} {
				pl.horizontal(pl.ink, 1, nil, y, x-2, x+2)
			}
			blocked.add(box{x - 2, y0, x + 2, y1})
		}
		blocked.add(pl.marker(s, pl.ink, line[i], 2.5, false))
	}
	n := 1
	if f.top-f.bottom < 5 {
		n = 2
	}
	for i, r := range repeats {
		label := say.Number(of(r).Value, n)
		if b, ok := blocked.choose(around(small, label, box{line[i].X - 4, line[i].Y - 4, line[i].X + 4, line[i].Y + 4})...); ok {
			pl.text(small, pl.soft, b.x0, b.y0+descent(small), 0, label)
		}
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
