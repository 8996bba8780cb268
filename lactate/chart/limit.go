package chart

import (
	"fmt"
	"math"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

// limit is a threshold as it is drawn: by tone, dash and shape.
type limit struct {
	name string
	lactate.Threshold
	draw.Tone
	dashes []vg.Length
	draw.Shape
}

// limits returns LT1 and LT2 of an analysis.
func limits(g draw.Ground, a *lactate.Analysis) []limit {
	return []limit{
		{"LT1", a.LT1, g.First, []vg.Length{4, 2.5}, draw.Diamond},
		{"LT2", a.LT2, g.Second, nil, draw.Square},
	}
}

// found returns those that have an intensity.
func found(ls []limit) []limit {
	var fs []limit
	for _, l := range ls {
		if l.Err == nil && say.Finite(l.Intensity.Value) {
			fs = append(fs, l)
		}
	}
	return fs
}

// strips draws where the limits lie: a strip for the interval and a line for
// the value, through all panels, ending at the foot of the labels in a bar with
// a cap at each end, or an arrow if the interval is open.
func (pl *plate) strips(ls []limit, bar vg.Length) {
	f, last := pl.Frames[0], pl.Frames[len(pl.Frames)-1]
	for _, l := range ls {
		if l.Intensity.HasInterval() {
			pl.Rect(l.Strip, draw.Rect(f.ClampX(l.Intensity.Low), last.Y0, f.ClampX(l.Intensity.High), bar))
		}
	}
	for _, l := range ls {
		x := f.X(l.Intensity.Value)
		pl.Vertical(l.Line, 1.3, l.dashes, x, last.Y0, bar)
		pl.whisker(f, l.Intensity, bar, 1.6, l.Tone)
	}
	pl.Covered = pl.Covered || len(ls) > 0
}

// whisker draws an interval as a bar at height y.
func (pl *plate) whisker(f draw.Frame, e lactate.Estimate, y, width vg.Length, t draw.Tone) {
	if !e.HasInterval() {
		return
	}
	x0, x1 := f.ClampX(e.Low), f.ClampX(e.High)
	pl.Horizontal(t.Line, width, nil, y, x0, x1)
	for _, end := range []struct {
		x, d vg.Length
		open bool
	}{{x0, -1, math.IsInf(e.Low, 0) || e.Low < f.Left}, {x1, 1, math.IsInf(e.High, 0) || e.High > f.Right}} {
		if end.open {
			pl.Patch(t.Line, vg.Point{X: end.x, Y: y}, vg.Point{X: end.x - 6*end.d, Y: y + 3.5}, vg.Point{X: end.x - 6*end.d, Y: y - 3.5})
			continue
		}
		pl.Vertical(t.Line, width, nil, end.x, y-3, y+3)
	}
}

// headlines writes what the limits say into the room above the first panel,
// each over its strip or as near to it as its neighbour allows, with a line
// down to the bar.
func (pl *plate) headlines(ls []limit, bar vg.Length) {
	if len(ls) == 0 {
		return
	}
	f, head := pl.Frames[0], pl.Heads[0]
	big, small := draw.Strong(draw.LabelSize), draw.Plain(draw.TextSize)
	rows := make([][]string, len(ls))
	for i, l := range ls {
		rows[i] = pl.o.headline(l, f.Right-f.Left)
	}
	var wanted, widths, lefts []vg.Length
	for ok := false; !ok; {
		wanted, widths = nil, nil
		most := 0
		for i, l := range ls {
			w := vg.Length(0)
			for k, s := range rows[i] {
				if k == 0 {
					w = big.Width(s) + 9 // with its marker
				} else {
					w = max(w, small.Width(s))
				}
			}
			wanted, widths = append(wanted, f.ClampX(l.Intensity.Value)), append(widths, w)
			most = max(most, len(rows[i]))
		}
		lefts, ok = draw.Spread(wanted, widths, 12, head.X0, head.X1)
		if !ok && most == 1 {
			return // no room for even the names: the strips stand alone
		}
		if !ok {
			for i := range rows {
				rows[i] = rows[i][:min(len(rows[i]), most-1)]
			}
		}
	}
	for i, l := range ls {
		y := head.Y1 - 4
		bottom := y
		for k, s := range rows[i] {
			if k == 0 {
				y -= 0.75 * draw.LabelSize
				pl.Marker(l.Shape, l.Line, vg.Point{X: lefts[i] + 3, Y: y + 0.36*draw.LabelSize}, 2.6, false)
				pl.Text(big, pl.Ink, lefts[i]+9, y, 0, s)
			} else {
				y -= draw.LineHeight(small) + 0.5
				pl.Text(small, pl.Ink, lefts[i], y, 0, s)
			}
			bottom = y - small.Extents().Descent
		}
		x := f.X(l.Intensity.Value)
		from := max(lefts[i]+2, min(x, lefts[i]+widths[i]-2))
		pl.Line(l.Line, 0.8, nil, vg.Point{X: from, Y: bottom - 1}, vg.Point{X: x, Y: bar + 3})
	}
}

// headline says what a limit is, in rows.
func (o Options) headline(l limit, span float64) []string {
	rows := []string{l.name + "\u00a0 " + o.said(l.Intensity.Value, span)}
	if l.Intensity.HasInterval() {
		rows = append(rows, o.between(l.Intensity, span))
	}
	var also []string
	if !o.Pool.IsZero() {
		also = append(also, o.plainly(l.Intensity.Value, span))
	}
	if say.Finite(l.HeartRate.Value) {
		also = append(also, fmt.Sprintf("%.0f /min", l.HeartRate.Value))
	}
	if len(also) > 0 {
		rows = append(rows, strings.Join(also, ", "))
	}
	return rows
}

// headHeight is the room that headlines need above the data.
func headHeight() vg.Length {
	return 4 + 0.75*draw.LabelSize + 2*(draw.LineHeight(draw.Plain(draw.TextSize))+0.5) + draw.Descent(draw.Plain(draw.TextSize)) + 14
}
