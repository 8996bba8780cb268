package chart

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"example.com/steptest/lactate/internal/clean"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

// TwoTests draws two tests over one another, the first one hollow and dashed,
// and the shift between their curves: an arrow at the lactate of the reference
// intensity, and above it two bars. The thick bar is the interval that knows
// measurement error alone, the thin one the interval that knows the variation
// from day to day too. If a bar reaches over the line that the arrow starts
// from, there may be no shift. The grey strip around that line holds the true
// shifts that two such tests show less often than the power of the options says.
//
// The tests are those that the analyses of the change hold. The error says which value of
// them or of the options cannot be drawn.
func TwoTests(c *lactate.Change, o Options) (*Picture, error) {
	if c == nil {
		return nil, errors.New("chart: found no change, want what Compare made of the two tests")
	}
	before, err1 := drawable(c.Before)
	after, err2 := drawable(c.After)
	if err := errors.Join(err1, err2); err != nil {
		return nil, err
	}
	if !say.Finite(c.Shift.Value, c.Reference) {
		return nil, fmt.Errorf("chart: change: found a shift of %v at %v, want finite numbers", c.Shift.Value, c.Reference)
	}
	bh, ah := hearts(before), hearts(after)
	height, withHearts := vg.Length(275), len(bh)+len(ah) > 0
	if withHearts {
		height = 350
	}
	o = o.in(c.Before, c.After)
	p, err := newPage(o, height,
		fmt.Sprintf("Green: the shift, with its interval by measurement error alone (thick bar) and with day-to-day variation (thin bar). "+
			"Grey: true shifts that such tests show less than %.0f times in 100. Curves: %s.", 100*c.Power, lactate.CurveName(c.Before.Curve)))
	if err != nil {
		return nil, err
	}
	lo, hi := span(before, after)
	x1 := c.Reference + c.Shift.Value
	lo, hi = math.Min(lo, x1), math.Max(hi, x1)
	top := 1.06 * math.Max(highest(before, p.o, nil), highest(after, p.o, nil))
	rows := p.o.shiftRows(c, hi-lo)
	heading := p.Heading(rows[0], rows[1:]...)
	const bars = 22 // room for them
	pl, err := newPlate(p, p.o.intensity(lo, hi), lactatePanels(top, heading.Height+draw.Descent(draw.Plain(draw.TextSize))+bars, bh, ah)...)
	if err != nil {
		return nil, err
	}
	f, head := pl.Frames[0], pl.Heads[0]
	y := pl.shift(c, top)
	x := (f.ClampX(c.Reference) + f.ClampX(x1)) / 2
	pl.Write(heading, max(head.X0, min(x-heading.Width/2, head.X1-heading.Width)))

	blocked := draw.Obstacles{Within: f.Box}
	blocked.Polyline(pl.curve(f, c.Before, nil, draw.Dashed()))
	blocked.Polyline(pl.curve(f, c.After, nil, nil))
	blocked.Add(pl.arrow(pl.Change, f.X(c.Reference), f.X(x1), y))
	pl.stages(f, before, nil, &blocked, false)
	pl.stages(f, after, nil, &blocked, true)
	pl.Keys(f, &blocked,
		draw.Key{Name: p.o.Before, Shape: draw.Circle, Hollow: true, Line: true, Dashes: draw.Dashed()},
		draw.Key{Name: p.o.After, Shape: draw.Circle, Line: true})

	if withHearts {
		pl.heartRates(pl.Frames[1], bh, nil, true)
		pl.heartRates(pl.Frames[1], ah, nil, false)
	}
	return pl.finish("two tests", describeChange(c, p.o, hi-lo)), nil
}

// shift draws the bars of the shift and where they start from, and returns the height of
// the reference on the first curve.
func (pl *plate) shift(c *lactate.Change, top float64) (y vg.Length) {
	f, detectable := pl.Frames[0], c.BetweenDays.Detectable
	thick, thin := pl.Heads[0].Y0+5, pl.Heads[0].Y0+14
	if say.Finite(detectable) {
		pl.Rect(pl.Quiet.Strip, draw.Rect(f.ClampX(c.Reference-detectable), f.Y0, f.ClampX(c.Reference+detectable), thin+4))
	}
	level := c.Before.Curve.Predict(c.Reference)
	if !say.Finite(level) {
		level = top / 2
	}
	y = f.ClampY(level)
	pl.Vertical(pl.Soft, 1, draw.Dotted(), f.X(c.Reference), f.Y0, thin+4)
	pl.Vertical(pl.Change.Line, 1.2, nil, f.X(c.Reference+c.Shift.Value), y, thick)
	pl.whisker(f, moved(c.BetweenDays.Shift, c.Reference), thin, 0.9, pl.Change)
	pl.whisker(f, moved(c.Measured.Shift, c.Reference), thick, 2.2, pl.Change)
	return y
}

// moved returns a shift as the place it leads to.
func moved(e lactate.Estimate, from float64) lactate.Estimate {
	return lactate.Estimate{Value: e.Value + from, Low: e.Low + from, High: e.High + from}
}

// arrow draws a horizontal arrow and returns the box it takes.
func (pl *plate) arrow(t draw.Tone, x0, x1, y vg.Length) draw.Box {
	tip, d := vg.Length(7), vg.Length(1)
	if x1 < x0 {
		d = -1
	}
	if d*(x1-x0) < tip+1 { // too short for a shaft
		tip = d * (x1 - x0)
	}
	pl.Horizontal(t.Line, 2.6, nil, y, x0, x1-d*tip/2)
	pl.Patch(t.Line, vg.Point{X: x1, Y: y}, vg.Point{X: x1 - d*tip, Y: y + 4.5}, vg.Point{X: x1 - d*tip, Y: y - 4.5})
	return draw.Rect(min(x0, x1), y-5, max(x0, x1), y+5)
}

// shiftRows says the verdict, the shift, and its two intervals.
func (o Options) shiftRows(c *lactate.Change, span float64) []string {
	n := say.Decimals(span)
	unit := o.axis(span).Change()
	value := func(v float64) string { return say.Signed(v, n) }
	if !o.Pool.IsZero() {
		value = func(v float64) string { return o.axis(span).Gain(c.Reference, v) }
	}
	moved, odds := o.axis(span).Sentences(c.BetweenDays, c.Reference, "", 0)
	rows := []string{strings.TrimSuffix(moved, "."), strings.TrimSuffix(odds, ".")}
	for _, j := range []struct {
		of   lactate.Estimate
		what string
	}{{c.Measured.Shift, "by measurement error alone"}, {c.BetweenDays.Shift, "with day-to-day variation"}} {
		if j.of.HasInterval() {
			rows = append(rows, value(j.of.Low)+" to "+value(j.of.High)+" "+unit+" "+j.what)
		}
	}
	return rows
}

func describeChange(c *lactate.Change, o Options, span float64) string {
	s := fmt.Sprintf("Lactate in mmol/L against %s in %s of two tests, %s and %s, each with a fitted curve (%s).",
		o.Quantity, o.Unit, o.Before, o.After, lactate.CurveName(c.Before.Curve))
	for _, r := range o.shiftRows(c, span) {
		s += " " + clean.Capital(r) + "."
	}
	return s
}
