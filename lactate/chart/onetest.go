package chart

import (
	"errors"
	"fmt"
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
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
	pl.stages(f, t, &blocked, true)
	for _, l := range ls {
		blocked.add(pl.marker(l.shape, l.line, f.at(l.Intensity.Value, l.Lactate.Value), 3.2, false))
	}
	pl.stageWords(f, t, &blocked)
	if len(hearts) > 0 {
		pl.heartRates(pl.frames[1], hearts, false)
		for _, l := range ls {
			if say.Finite(l.HeartRate.Value) {
				pl.marker(l.shape, l.line, pl.frames[1].at(l.Intensity.Value, l.HeartRate.Value), 3.2, false)
			}
		}
	}
	return pl.finish("lactate against "+pl.o.Quantity, describeTest(t, a, pl.o)), nil
}

// deviations is how many standard deviations of a sample a bar reaches to each
// side.
const deviations = 2

// drawable reports what cannot be drawn.
func drawable(t lactate.Test, a *lactate.Analysis) error {
	var errs []error
	if err := t.Check(); err != nil {
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
func dotted() []vg.Length { return []vg.Length{1.5, 2} }

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
