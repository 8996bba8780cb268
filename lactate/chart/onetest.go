package chart

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// OneTest draws a test and what was read from it: the stages with a bar of two
// standard deviations of a lactate sample to each side, the fitted curve with its band, LT1
// and LT2 with their intervals, and below, on the same axis, heart rate, if
// any was taken. A stage without a lactate sample is marked with a cross on
// the axis.
//
// The analysis is that of the test; the band and the zones come with the
// options. The error says which value of the test or the options cannot be
// drawn.
func OneTest(t lactate.Test, a *lactate.Analysis, o Options) (*Picture, error) {
	if err := drawable(t, a); err != nil {
		return nil, err
	}
	hearts := hearts(t)
	height := vg.Length(240)
	if len(hearts) > 0 {
		height = 315
	}
	p, err := newPage(o, height, notes(a, o)...)
	if err != nil {
		return nil, err
	}
	lo, hi := span(t)
	panels := []panel{{title: "lactate, mmol/L", top: 1.06 * highest(t, p.o), share: 1, head: headHeight()}}
	if len(hearts) > 0 {
		low, top := heartSpan(hearts)
		panels = append(panels, panel{title: "heart rate, /min", low: low, top: top, share: 0.38})
	}
	pl, err := newPlate(p, p.o.intensity(lo, hi), panels...)
	if err != nil {
		return nil, err
	}
	ls := found(pl.limits(a))
	bar := pl.heads[0].y0 + 5
	pl.strips(ls, bar)
	pl.headlines(ls, bar)

	f := pl.frames[0]
	blocked := obstacles{within: f.box}
	blocked.within.y1 = bar - 4
	for _, l := range ls {
		x := f.x(l.Intensity.Value)
		blocked.lines = append(blocked.lines, [2]vg.Point{{X: x, Y: f.y0}, {X: x, Y: f.y1}})
	}
	blocked.polyline(pl.curve(f, a, p.o.Band, nil))
	for _, l := range ls {
		blocked.add(pl.marker(l.shape, l.line, f.at(l.Intensity.Value, l.Lactate.Value), 3.2, false))
	}
	pl.stages(f, t, &blocked, true, true)
	if len(hearts) > 0 {
		pl.heartRates(pl.frames[1], hearts, false)
		for _, l := range ls {
			if say.Finite(l.HeartRate.Value) {
				pl.marker(l.shape, l.line, pl.frames[1].at(l.Intensity.Value, l.HeartRate.Value), 3.2, false)
			}
		}
	}
	return pl.picture("lactate against "+pl.o.Quantity, describeTest(t, a, pl.o)), nil
}

// deviations is how many standard deviations of a sample a bar reaches to each
// side.
const deviations = 2

// drawable reports what cannot be drawn.
func drawable(t lactate.Test, a *lactate.Analysis) error {
	var errs []error
	if err := t.Validate(); err != nil {
		errs = append(errs, err)
	}
	if a == nil || a.Curve == nil {
		errs = append(errs, errors.New("chart: found no analysis, expected that of the test"))
	} else if !(a.Lowest < a.Highest) {
		errs = append(errs, fmt.Errorf("chart: analysis: found a tested range from %v to %v, expected two different intensities", a.Lowest, a.Highest))
	}
	if len(t.Sampled()) == 0 {
		errs = append(errs, errors.New("chart: found a test without a lactate sample, expected the stages that were analysed"))
	}
	return errors.Join(errs...)
}

// span returns what the horizontal axis covers: the stages and a margin.
func span(ts ...lactate.Test) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, t := range ts {
		for _, s := range t.Stages {
			lo, hi = math.Min(lo, s.Intensity), math.Max(hi, s.Intensity)
		}
	}
	margin := 0.06 * (hi - lo)
	return math.Max(lo-margin, lo/2), hi + margin
}

// highest returns the highest lactate that is drawn.
func highest(t lactate.Test, o Options) float64 {
	top := 0.0
	for _, s := range t.Sampled() {
		top = math.Max(top, s.Lactate+deviations*o.Noise.Lactate(s.Lactate))
	}
	for _, b := range o.Band {
		top = math.Max(top, b.Lactate.High)
	}
	return top
}

// dashed is the line of what comes second.
func dashed() []vg.Length { return []vg.Length{5, 3} }

// curve draws the band and the fitted curve from end to end of the tested range
// and returns it as a line.
func (pl *plate) curve(f frame, a *lactate.Analysis, band []lactate.BandPoint, dashes []vg.Length) []vg.Point {
	if len(band) > 1 {
		var edges []vg.Point
		for _, b := range band {
			edges = append(edges, vg.Point{X: f.x(b.Intensity), Y: f.clampY(b.Lactate.Low)})
		}
		for i := len(band) - 1; i >= 0; i-- {
			edges = append(edges, vg.Point{X: f.x(band[i].Intensity), Y: f.clampY(band[i].Lactate.High)})
		}
		pl.patch(pl.band, edges...)
	}
	const n = 80
	var line []vg.Point
	for i := range n + 1 {
		x := a.Lowest + (a.Highest-a.Lowest)*float64(i)/n
		if y := a.Curve.Predict(x); say.Finite(y) {
			line = append(line, vg.Point{X: f.x(x), Y: f.clampY(y)})
		}
	}
	pl.line(pl.ink, 1.7, dashes, line...)
	return line
}

// stages draws the stages of a test with their bars, and where asked the
// lactates beside them.
func (pl *plate) stages(f frame, t lactate.Test, blocked *obstacles, filled, labelled bool) {
	small := plain(textSize)
	sampled := t.Sampled()
	for _, s := range sampled {
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
		mark := box{x - 4, f.y0 + 2, x + 4, f.y0 + 10}
		blocked.add(mark)
		if b, ok := blocked.choose(around(small, "no sample", mark)...); ok {
			pl.text(small, pl.soft, b.x0, b.y0+small.Extents().Descent, 0, "no sample")
		}
	}
	if !labelled {
		return
	}
	for _, s := range sampled {
		label := fmt.Sprintf("%.1f", s.Lactate)
		bar := deviations * pl.o.Noise.Lactate(s.Lactate)
		x := f.x(s.Intensity)
		at := box{x - 4, f.clampY(s.Lactate - bar), x + 4, f.clampY(s.Lactate + bar)}
		if b, ok := blocked.choose(around(small, label, at)...); ok {
			pl.text(small, pl.soft, b.x0, b.y0+small.Extents().Descent, 0, label)
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

// heartSpan returns what a panel of heart rates covers.
func heartSpan(hs ...[]lactate.Stage) (low, top float64) {
	low, top = math.Inf(1), math.Inf(-1)
	for _, h := range hs {
		for _, s := range h {
			low, top = math.Min(low, s.HeartRate), math.Max(top, s.HeartRate)
		}
	}
	margin := math.Max(4, 0.12*(top-low))
	return math.Max(0, low-margin), top + margin
}

func (pl *plate) heartRates(f frame, hs []lactate.Stage, hollow bool) {
	var line []vg.Point
	for _, s := range hs {
		line = append(line, f.at(s.Intensity, s.HeartRate))
	}
	var dashes []vg.Length
	if hollow {
		dashes = dashed()
	}
	pl.line(pl.soft, 1.1, dashes, line...)
	for _, at := range line {
		pl.marker(triangle, pl.ink, at, 2.6, hollow)
	}
}

// notes says by what the thresholds were read and what the marks mean.
func notes(a *lactate.Analysis, o Options) []string {
	if o.Confidence == 0 {
		o.Confidence = 0.90
	}
	var first []string
	shaded := false
	for _, l := range light().limits(a) {
		if l.Err != nil {
			first = append(first, fmt.Sprintf("%s is not drawn: %s", l.name, say.Reason(l.Err)))
			continue
		}
		shaded = shaded || l.Intensity.HasInterval()
		first = append(first, l.name+": "+say.Method(l.Method))
	}
	first = append(first, "Curve: "+curveName(a.Curve))
	second := []string{"Bars: two standard deviations of a sample"}
	if shaded {
		second = append(second, "Shaded: "+o.percent()+" intervals")
	} else {
		second = append(second, "No intervals were asked for")
	}
	return []string{strings.Join(first, ". ") + ".", strings.Join(second, ". ") + "."}
}

func curveName(c lactate.Curve) string {
	switch c := c.(type) {
	case *curve.Exponential:
		return "exponential"
	case *curve.Polynomial:
		if c.Degree == 0 || c.Degree == 3 {
			return "cubic"
		}
		return fmt.Sprintf("polynomial of degree %d", c.Degree)
	case *curve.BrokenLine:
		return "two lines"
	case *curve.ThreeLine:
		return "three lines"
	}
	name := fmt.Sprintf("%T", c)
	return name[strings.LastIndexByte(name, '.')+1:]
}

func describeTest(t lactate.Test, a *lactate.Analysis, o Options) string {
	lo, hi := span(t)
	parts := []string{fmt.Sprintf("Lactate in mmol/L against %s in %s for %d stages, with a fitted curve (%s).",
		o.Quantity, o.Unit, len(t.Stages), curveName(a.Curve))}
	for _, l := range light().limits(a) {
		if l.Err != nil {
			parts = append(parts, fmt.Sprintf("%s: none, %s.", l.name, say.Reason(l.Err)))
			continue
		}
		s := fmt.Sprintf("%s by %s: %s %s", l.name, l.Method, say.Number(l.Intensity.Value, say.Decimals(hi-lo)), o.Unit)
		if !o.Pool.IsZero() {
			s += fmt.Sprintf(", %s per 100 %s", o.said(l.Intensity.Value, hi-lo), o.Pool.UnitSymbol())
		}
		if l.Intensity.HasInterval() {
			s += fmt.Sprintf(" (%s interval %s)", o.percent(), o.between(l.Intensity, hi-lo))
		}
		parts = append(parts, s+".")
	}
	return strings.Join(parts, " ")
}
