package chart

import (
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

// OneTest draws a test and what was read from it: the stages with a bar of two
// standard deviations of a lactate sample to each side, the fitted curve with its band, LT1
// and LT2 with their intervals, Dmax as a hollow mark, what the definitions of either
// threshold span as lines along the foot, and below, on the same axis, heart rate, if
// any was taken. A stage without a lactate sample is marked with a cross on
// the axis; a sample or a heart rate that looks wrong is hollow.
//
// The test is the one that the analysis holds; the zones come with the options, and the
// band needs resamples. The error says which value of the test or the options cannot be
// drawn.
func OneTest(a *lactate.Analysis, o Options) (*Picture, error) {
	t, err := drawable(a)
	if err != nil {
		return nil, err
	}
	band := bandOf(a)
	hearts := hearts(t)
	height := vg.Length(240)
	if len(hearts) > 0 {
		height = 315
	}
	o = o.in(a)
	p, err := newPage(o, height, notes(a, o)...)
	if err != nil {
		return nil, err
	}
	lo, hi := span(t)
	pl, err := newPlate(p, p.o.intensity(lo, hi), lactatePanels(1.06*highest(t, p.o, band), headHeight(), hearts)...)
	if err != nil {
		return nil, err
	}
	ls := found(limits(pl.Ground, a))
	bar := pl.Heads[0].Y0 + 5
	pl.strips(ls, bar)
	pl.headlines(ls, bar)

	f := pl.Frames[0]
	blocked := pl.free(ls)
	blocked.Within.Y1 = bar - 4
	blocked.Polyline(pl.curve(f, a, band, nil))
	samples := odd(t, a, lactate.WarnOddSample)
	pl.stages(f, t, samples, &blocked, true)
	name := pl.third(f, a, &blocked)
	pl.onCurve(ls, &blocked) // above Dmax
	pl.spans(f, t, a, &blocked)
	name()
	pl.stageWords(f, t, samples, &blocked)
	if len(hearts) > 0 {
		pl.heartRates(pl.Frames[1], hearts, odd(t, a, lactate.WarnOddHeartRate), false)
		for _, l := range ls {
			if say.Finite(l.HeartRate.Value) {
				pl.Marker(l.Shape, l.Line, pl.Frames[1].At(l.Intensity.Value, l.HeartRate.Value), 3.2, false)
			}
		}
	}
	return pl.finish("lactate against "+pl.o.Quantity, describeTest(t, a, pl.o)), nil
}
