package chart

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

// Repeat is one repeat of a plan. The zero value is no repeat: its intensity
// must be above zero.
type Repeat struct {
	Intensity float64 // that is meant, or expected of a repeat swum all out
	AllOut    bool
}

// Plan draws the repeats of a step test that is still to be swum, on the curve
// that is expected: most often that of the swimmer's last test, with its
// thresholds. Repeats are numbered in their order. Beyond the tested range, a
// repeat is a dotted line without a point.
//
// A step test ends in an all-out effort: a program that shows the picture shows
// the cautions of package protocol too.
func Plan(repeats []Repeat, a *lactate.Analysis, o Options) (*Picture, error) {
	lo, hi, err := planSpan(repeats, a)
	if err != nil {
		return nil, err
	}
	note := "Numbered: the repeats, where the curve would put their lactate. Curve: " + lactate.CurveName(a.Curve) + ", of an earlier test."
	if slices.ContainsFunc(repeats, func(r Repeat) bool { return beyond(r, a) }) {
		note += " Dotted: beyond what that test reached."
	}
	p, err := newPage(o.in(a), 250, note)
	if err != nil {
		return nil, err
	}
	top := a.Curve.Predict(a.Highest)
	band := bandOf(a)
	for _, b := range band {
		top = max(top, b.Lactate.High)
	}
	if !say.Finite(top) || top <= 0 {
		return nil, fmt.Errorf("chart: plan: found a lactate of %v mmol/L at the end of the curve, want one above zero", top)
	}
	labels := p.o.repeatLabels(repeats, hi-lo)
	rows := 1
	if !fit(labels, p.Area.Width()-24) {
		rows = 2
	}
	pl, err := newPlate(p, p.o.intensity(lo, hi), draw.Panel{Title: "lactate, mmol/L", Top: 1.12 * top, Share: 1, Head: 4 + vg.Length(2*rows)*draw.LineHeight(draw.Plain(draw.TextSize)) + leader})
	if err != nil {
		return nil, err
	}
	ls := found(limits(pl.Ground, a))
	pl.strips(ls, pl.Frames[0].Y1)
	blocked := pl.free(ls)
	blocked.Polyline(pl.curve(pl.Frames[0], a, band, nil))
	pl.repeats(repeats, a, &blocked)
	pl.onCurve(ls, &blocked)
	pl.repeatWords(repeats, labels, rows)
	pl.limitWords(ls, hi-lo, &blocked)
	return pl.finish("plan", describePlan(repeats, labels, p.o)), nil
}

// planSpan returns what the horizontal axis covers, or what cannot be drawn.
func planSpan(repeats []Repeat, a *lactate.Analysis) (lo, hi float64, err error) {
	if len(repeats) == 0 {
		return 0, 0, errors.New("chart: plan: found no repeat, want one or more")
	}
	var t lactate.Test
	for i, r := range repeats {
		if !say.Finite(r.Intensity) || !(r.Intensity > 0) {
			return 0, 0, fmt.Errorf("chart: plan: repeat %d: found an intensity of %v, want one above zero", i+1, r.Intensity)
		}
		t.Stages = append(t.Stages, lactate.Stage{Intensity: r.Intensity})
	}
	if a == nil || a.Curve == nil || !(a.Lowest < a.Highest) {
		return 0, 0, errors.New("chart: plan: found no analysis, want that of the curve to draw on")
	}
	t.Stages = append(t.Stages, lactate.Stage{Intensity: a.Lowest}, lactate.Stage{Intensity: a.Highest})
	lo, hi = span(t)
	return lo, hi, nil
}

// repeats draws a line for each repeat, from the top down to the curve.
func (pl *plate) repeats(repeats []Repeat, a *lactate.Analysis, blocked *draw.Obstacles) {
	f, head := pl.Frames[0], pl.Heads[0]
	for _, r := range repeats {
		x := f.X(r.Intensity)
		if beyond(r, a) {
			pl.Vertical(pl.Ink, 0.8, draw.Dotted(), x, f.Y0, head.Y0+3)
			blocked.Lines = append(blocked.Lines, [2]vg.Point{{X: x, Y: f.Y0}, {X: x, Y: f.Y1}})
			continue
		}
		y := f.ClampY(a.Curve.Predict(math.Max(a.Lowest, math.Min(r.Intensity, a.Highest))))
		pl.Vertical(pl.Ink, 0.8, nil, x, y, head.Y0+3)
		blocked.Lines = append(blocked.Lines, [2]vg.Point{{X: x, Y: y}, {X: x, Y: f.Y1}})
		blocked.Add(pl.Marker(draw.Circle, pl.Ink, vg.Point{X: x, Y: y}, 2.8, true))
	}
}

// limitWords names limits beside their lines, as low as there is room.
func (pl *plate) limitWords(ls []limit, span float64, blocked *draw.Obstacles) {
	f, font := pl.Frames[0], draw.Strong(draw.TextSize)
	for _, l := range ls {
		name := l.name + " " + pl.o.said(l.Intensity.Value, span)
		x0, x1 := f.X(l.Intensity.Value), f.X(l.Intensity.Value)
		if l.Intensity.HasInterval() {
			x0, x1 = f.ClampX(l.Intensity.Low), f.ClampX(l.Intensity.High)
		}
		w, h := draw.Wide(font, name)+4, draw.LineHeight(draw.Plain(draw.TextSize))
		var places []draw.Box
		for y := f.Y0 + 4; y+h < f.Y1; y += h {
			places = append(places, draw.Rect(x1+2, y, x1+2+w, y+h), draw.Rect(x0-2-w, y, x0-2, y+h))
		}
		if b, ok := blocked.Choose(places...); ok {
			pl.Text(font, pl.Ink, b.X0+2, b.Y0+draw.Descent(draw.Plain(draw.TextSize)), 0, name)
		}
	}
}

// beyond reports whether a repeat lies outside the tested range. A
// hundredth of the tested range is no extrapolation that one could see.
func beyond(r Repeat, a *lactate.Analysis) bool {
	end := math.Max(a.Lowest, math.Min(r.Intensity, a.Highest))
	return math.Abs(r.Intensity-end) > 0.01*(a.Highest-a.Lowest)
}

// leader is the room between the words over a repeat and its line.
const leader = 14

// repeatLabels returns the two lines that are written over each repeat: its
// number, and its pace or intensity.
func (o Options) repeatLabels(repeats []Repeat, span float64) [][2]string {
	labels := make([][2]string, len(repeats))
	for i, r := range repeats {
		labels[i] = [2]string{strconv.Itoa(i + 1), strings.TrimSuffix(o.said(r.Intensity, span), " "+o.Unit)}
		if r.AllOut {
			labels[i][0] += " all out"
		}
	}
	return labels
}

func labelWidth(l [2]string) vg.Length {
	return max(draw.Wide(draw.Strong(draw.TextSize), l[0]), draw.Wide(draw.Plain(draw.TextSize), l[1]))
}

// fit reports whether all labels fit into one row of the given width.
func fit(labels [][2]string, width vg.Length) bool {
	var wanted, widths []vg.Length
	for _, l := range labels {
		wanted, widths = append(wanted, 0), append(widths, labelWidth(l))
	}
	_, ok := draw.Spread(wanted, widths, 6, 0, width)
	return ok
}

// repeatWords writes the labels above the panel, every other one higher if
// there are two rows, each with a line down to its repeat. Labels for which
// there is no room at all are left out.
func (pl *plate) repeatWords(repeats []Repeat, labels [][2]string, rows int) {
	f, head := pl.Frames[0], pl.Heads[0]
	line := draw.LineHeight(draw.Plain(draw.TextSize))
	var below []draw.Box // labels of the lower row
	for k := rows - 1; k >= 0; k-- {
		var which []int
		var wanted, widths []vg.Length
		for i, r := range repeats {
			if i%rows == k {
				which = append(which, i)
				wanted, widths = append(wanted, f.ClampX(r.Intensity)), append(widths, labelWidth(labels[i]))
			}
		}
		lefts, ok := draw.Spread(wanted, widths, 6, head.X0, head.X1)
		if !ok {
			continue
		}
		y := head.Y0 + leader + vg.Length(2*(rows-1-k))*line + draw.Descent(draw.Plain(draw.TextSize))
		for j, i := range which {
			middle := lefts[j] + widths[j]/2
			pl.Text(draw.Strong(draw.TextSize), pl.Ink, middle, y+line, 0.5, labels[i][0])
			pl.Text(draw.Plain(draw.TextSize), pl.Ink, middle, y, 0.5, labels[i][1])
			from := vg.Point{X: middle, Y: y - draw.Descent(draw.Plain(draw.TextSize)) - 1}
			to := vg.Point{X: f.ClampX(repeats[i].Intensity), Y: head.Y0 + 3}
			if !slices.ContainsFunc(below, func(b draw.Box) bool { return b.Crosses(from, to) }) {
				pl.Line(pl.Ink, 0.8, nil, from, to)
			}
		}
		for j := range which {
			below = append(below, draw.Rect(lefts[j], y-line, lefts[j]+widths[j], y+2*line))
		}
	}
}

func describePlan(repeats []Repeat, labels [][2]string, o Options) string {
	parts := []string{fmt.Sprintf("%d repeats of a planned step test on an expected lactate curve:", len(repeats))}
	for i := range repeats {
		parts = append(parts, labels[i][0]+": "+labels[i][1]+";")
	}
	return strings.TrimSuffix(strings.Join(parts, " "), ";") + "."
}
