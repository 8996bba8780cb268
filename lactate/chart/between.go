package chart

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/chart/internal/draw"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

// Between draws where the curve lies from the first test until a day: the speed at LT2, or
// the shift from the first test if there is no LT2, on an average day, with its bracket by
// tests and readings and, paler, by the tests alone. It opens between tests and closes at
// readings. Each test has a filled circle, with what it says alone; each reading a small
// one where it puts the curve, filled if it was news.
//
// Options.Pool says places as paces. The error says what cannot be drawn.
func Between(c *between.Course, today time.Time, o Options) (*Picture, error) {
	var tests []between.Place
	if c != nil {
		tests = c.Tests()
	}
	if len(tests) == 0 {
		return nil, errors.New("chart: found no course, want one by Model.Follow")
	}
	v := courseView{Course: c, pool: o.Pool, lt2: !math.IsNaN(tests[0].LT2.Value), tests: tests, first: tests[0].Date, today: today}
	if err := v.follow(); err != nil {
		return nil, err
	}
	p, err := newPage(o, 270, v.note())
	if err != nil {
		return nil, err
	}
	v.pool = p.o.Pool
	paces, aside := v.paces()
	until := v.days(today)
	begin, end := -0.03*until, 1.03*until+until*float64(aside/(p.Area.Width()-aside))
	rows := v.rows(p.o)
	heading := p.Heading(rows[0], rows[1])
	title := "shift from the first test, " + p.o.Unit + " (above zero is faster)"
	if v.lt2 {
		title = p.o.Quantity + " at LT2, " + p.o.Unit
		if len(paces) > 0 {
			title += ", and pace per 100 " + v.pool.UnitSymbol()
		}
	}
	pl, err := newPlate(p, draw.Across{Low: begin, High: end, Ticks: p.months(v.first, today, v.first), Title: "date"},
		draw.Panel{Title: title, Low: v.bottom, Top: v.ceiling, Share: 1, Head: heading.Height + underHeading})
	if err != nil {
		return nil, err
	}
	f := pl.Frames[0]
	pl.Patch(pl.Quiet.Strip, ribbon(f, v.alone)...)
	pl.Patch(pl.Change.Strip, ribbon(f, v.with)...)
	var middle []vg.Point
	for _, e := range v.with {
		middle = append(middle, vg.Point{X: f.X(e.at), Y: f.ClampY(e.Value)})
	}
	pl.Line(pl.Change.Line, 1.6, nil, middle...)
	pl.course(v)
	small := draw.Plain(draw.TextSize)
	for _, t := range paces {
		right := f.X1 - aside + 8
		pl.Horizontal(pl.Axis, 0.8, nil, f.Y(t.At), right-5, right)
		pl.Text(small, pl.Soft, f.X1, f.Y(t.At)-0.36*small.Font.Size, 1, t.Label)
	}
	pl.Write(heading, f.X0)
	return pl.finish("between tests", fmt.Sprintf("Place of the lactate curve from %s to %s by %d tests and %d readings. %s; %s.",
		say.Day(v.first), say.Day(today), len(tests), len(c.Readings)-v.unused(), rows[0], rows[1])), nil
}

// placed is an interval at a place along the horizontal axis.
type placed struct {
	at float64
	lactate.Estimate
}

// ribbon is the outline of the area between the ends of intervals.
func ribbon(f draw.Frame, es []placed) (edge []vg.Point) {
	for _, e := range es {
		edge = append(edge, vg.Point{X: f.X(e.at), Y: f.ClampY(e.High)})
	}
	for _, e := range slices.Backward(es) {
		edge = append(edge, vg.Point{X: f.X(e.at), Y: f.ClampY(e.Low)})
	}
	return edge
}

// course marks the readings and the tests.
func (pl *plate) course(v courseView) {
	f := pl.Frames[0]
	for _, r := range v.Readings {
		if !v.drawn(r) {
			continue
		}
		shape, size := draw.Circle, vg.Length(1.7)
		if v.beyond(r) {
			shape, size = draw.Triangle, 2.2
			if r.Alone+v.origin() < v.bottom {
				shape = draw.Wedge
			}
		}
		pl.Marker(shape, pl.Soft, vg.Point{X: f.X(v.days(r.Date)), Y: f.ClampY(r.Alone + v.origin())}, size, !r.News)
	}
	for _, t := range v.tests {
		if t.Date.After(v.today) {
			continue
		}
		e, x := v.place(t), f.X(v.days(t.Date))
		pl.Vertical(pl.Ink, 1.2, nil, x, f.ClampY(e.Low), f.ClampY(e.High))
		pl.Marker(draw.Circle, pl.Ink, vg.Point{X: x, Y: f.ClampY(e.Value)}, 3.4, false)
	}
}
