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
	first := tests[0].Date
	for _, r := range c.Readings {
		if r.Date.Before(first) {
			first = r.Date
		}
	}
	if today.Sub(first) < 7*day {
		return nil, fmt.Errorf("chart: between: found a picture from %s to %s, want a week or more", first.Format(time.DateOnly), today.Format(time.DateOnly))
	}
	v := courseView{c, o.Pool, !math.IsNaN(tests[0].LT2.Value)}
	days := func(t time.Time) float64 { return float64(t.Sub(first)) / float64(day) }
	until := days(today)
	const n = 240
	var at [n + 1]float64
	var with, alone [n + 1]lactate.Estimate
	low, top := math.Inf(1), math.Inf(-1)
	include := func(e lactate.Estimate) { low, top = math.Min(low, e.Low), math.Max(top, e.High) }
	for i := range at {
		at[i] = math.Round(until * float64(i) / n)
		date := first.AddDate(0, 0, int(at[i]))
		with[i], alone[i] = v.place(c.At(date)), v.place(c.ByTests(date))
		include(with[i])
		if at[i] >= days(tests[0].Date) {
			include(alone[i])
		}
	}
	for _, t := range tests {
		include(v.place(t))
	}
	if !say.Finite(low, top) || !(low < top) {
		return nil, errors.New("chart: between: found no place of the curve, want finite numbers")
	}
	margin := 0.05 * (top - low)
	bottom, ceiling := low-margin, top+margin
	drawn := func(r between.Told) bool { return !math.IsNaN(r.Alone) && !r.Date.After(today) }
	beyond := func(r between.Told) bool { return r.Alone+v.origin() < bottom || r.Alone+v.origin() > ceiling }
	p, err := newPage(o, 270, v.note(
		slices.ContainsFunc(c.Readings, func(r between.Told) bool { return drawn(r) && r.News }),
		slices.ContainsFunc(c.Readings, func(r between.Told) bool { return drawn(r) && beyond(r) })))
	if err != nil {
		return nil, err
	}
	v.pool = p.o.Pool
	small := draw.Plain(draw.TextSize)
	var paces []draw.Tick
	aside := vg.Length(0) // room for them
	if !v.pool.IsZero() && v.lt2 {
		paces = draw.PaceTicks(low, top, v.pool.Per100(), 6)
		for _, t := range paces {
			aside = max(aside, draw.Wide(small, t.Label)+10)
		}
	}
	begin, end := -0.03*until, 1.03*until+until*float64(aside/(p.Area.Width()-aside))
	rows := v.rows(today, p.o)
	heading := p.Heading(rows[0], rows[1])
	title := "shift from the first test, " + p.o.Unit + " (above zero is faster)"
	if v.lt2 {
		title = p.o.Quantity + " at LT2, " + p.o.Unit
		if len(paces) > 0 {
			title += ", and pace per 100 " + v.pool.UnitSymbol()
		}
	}
	pl, err := newPlate(p, draw.Across{Low: begin, High: end, Ticks: p.months(first, today, first), Title: "date"},
		draw.Panel{Title: title, Low: bottom, Top: ceiling, Share: 1, Head: heading.Height + underHeading})
	if err != nil {
		return nil, err
	}
	f := pl.Frames[0]
	band := func(es []lactate.Estimate) (edge []vg.Point) {
		for i, e := range es {
			edge = append(edge, vg.Point{X: f.X(at[i]), Y: f.ClampY(e.High)})
		}
		for i := len(es) - 1; i >= 0; i-- {
			edge = append(edge, vg.Point{X: f.X(at[i]), Y: f.ClampY(es[i].Low)})
		}
		return edge
	}
	pl.Patch(pl.Quiet.Strip, band(alone[:])...)
	pl.Patch(pl.Change.Strip, band(with[:])...)
	var middle []vg.Point
	for i, e := range with {
		middle = append(middle, vg.Point{X: f.X(at[i]), Y: f.ClampY(e.Value)})
	}
	pl.Line(pl.Change.Line, 1.6, nil, middle...)
	for _, r := range c.Readings {
		if !drawn(r) {
			continue
		}
		shape, size := draw.Circle, vg.Length(1.7)
		if beyond(r) {
			shape, size = draw.Triangle, 2.2
			if r.Alone+v.origin() < bottom {
				shape = draw.Wedge
			}
		}
		pl.Marker(shape, pl.Soft, vg.Point{X: f.X(days(r.Date)), Y: f.ClampY(r.Alone + v.origin())}, size, !r.News)
	}
	for _, t := range tests {
		if t.Date.After(today) {
			continue
		}
		e, x := v.place(t), f.X(days(t.Date))
		pl.Vertical(pl.Ink, 1.2, nil, x, f.ClampY(e.Low), f.ClampY(e.High))
		pl.Marker(draw.Circle, pl.Ink, vg.Point{X: x, Y: f.ClampY(e.Value)}, 3.4, false)
	}
	for _, t := range paces {
		right := f.X1 - aside + 8
		pl.Horizontal(pl.Axis, 0.8, nil, f.Y(t.At), right-5, right)
		pl.Text(small, pl.Soft, f.X1, f.Y(t.At)-0.36*small.Font.Size, 1, t.Label)
	}
	pl.Write(heading, f.X0)
	return pl.finish("between tests", fmt.Sprintf("Place of the lactate curve from %s to %s by %d tests and %d readings. %s; %s.",
		first.Format("2 January 2006"), today.Format("2 January 2006"), len(tests), len(c.Readings)-v.unused(), rows[0], rows[1])), nil
}
