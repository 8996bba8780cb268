package chart

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

const day = 24 * time.Hour

// underHeading is the room between a heading and the highest label of the axis.
const underHeading = 6

// Season draws the shifts of a season's tests from the first one over time,
// each with its interval by measurement error alone (thick bar) and with the
// variation from day to day (thin bar), and the trend through them, with the
// interval for a new test's true place, carried on to four weeks after the last
// test. A filled circle is a test that is graded faster or slower.
//
// Options.Pool adds to each shift what it means in seconds per 100 at the
// reference intensity. The error says what cannot be drawn.
func Season(s *lactate.Season, o Options) (*Picture, error) {
	if s == nil || len(s.Tests) < 2 {
		return nil, errors.New("chart: found no season, want two tests or more")
	}
	first, last := s.Tests[0].Date, s.Tests[len(s.Tests)-1].Date
	if !first.Before(last) {
		return nil, errors.New("chart: season: found tests of one date, want two or more")
	}
	o = o.in(s.Tests[0].Analysis)
	note := "Thick bars: interval by measurement error alone. Thin bars: with day-to-day variation. " +
		"Filled: surely faster or slower. Dashed: the trend, and where a new test is to be expected."
	if !o.Pool.IsZero() {
		note = fmt.Sprintf("Numbers: seconds per 100 %s faster than the first test, at %s. ", o.Pool.UnitSymbol(), o.said(s.Reference, 1)) + note
	}
	p, err := newPage(o, 250, note)
	if err != nil {
		return nil, err
	}
	days := func(t time.Time) float64 { return float64(t.Sub(first)) / float64(day) }

	until := last.Add(28 * day)
	trend, low, top, err := trendUntil(s, until)
	if err != nil {
		return nil, err
	}
	margin := 0.06 * (top - low)
	begin, end := -0.05*days(until), 1.03*days(until)
	marks := p.months(first.Add(time.Duration(begin*float64(day))), first.Add(time.Duration(end*float64(day))), first)
	rows := p.o.trendRows(s, top-low)
	heading := p.Heading(rows[0], rows[1])
	pl, err := newPlate(p, draw.Across{Low: begin, High: end, Ticks: marks, Title: "date"},
		draw.Panel{Title: "shift from the first test, " + p.o.Unit + " (above zero is faster)", Low: low - margin, Top: top + margin, Share: 1, Head: heading.Height + underHeading})
	if err != nil {
		return nil, err
	}
	f := pl.Frames[0]

	var middle []vg.Point
	for _, e := range trend {
		middle = append(middle, f.At(e.at, e.Value))
	}
	pl.Patch(pl.Change.Strip, ribbon(f, trend)...)
	pl.Horizontal(pl.Axis, 0.8, nil, f.Y(0), f.X0, f.X1)
	pl.Line(pl.Change.Line, 1.6, []vg.Length{5, 3}, middle...)

	blocked := draw.Obstacles{Within: f.Box}
	blocked.Polyline(middle)
	pl.shifts(s, days, &blocked)
	pl.shiftLabels(s, days, &blocked, top-low)
	pl.Write(heading, f.X0)
	return pl.finish("season", describeSeason(s, pl.o, rows)), nil
}

// trendUntil returns the trend from the first test to a day, in days, and what it and the tests
// span.
func trendUntil(s *lactate.Season, until time.Time) (trend []placed, low, top float64, err error) {
	include := func(e lactate.Estimate) {
		for _, v := range []float64{e.Value, e.Low, e.High} {
			if say.Finite(v) {
				low, top = math.Min(low, v), math.Max(top, v)
			}
		}
	}
	first := s.Tests[0].Date
	const n = 24
	for i := range n + 1 {
		d := first.Add(time.Duration(float64(until.Sub(first)) * float64(i) / n))
		e, err := s.Expected(d)
		if err != nil {
			return nil, 0, 0, fmt.Errorf("chart: season: %w", err)
		}
		trend = append(trend, placed{float64(d.Sub(first)) / float64(day), e})
		include(e)
	}
	for _, t := range s.Tests {
		include(t.Measured.Shift)
		include(t.BetweenDays.Shift)
	}
	if !(low < top) {
		return nil, 0, 0, errors.New("chart: season: found no shift, want finite numbers")
	}
	return trend, low, top, nil
}

// shifts draws the shift of each test with its two intervals.
func (pl *plate) shifts(s *lactate.Season, days func(time.Time) float64, blocked *draw.Obstacles) {
	f := pl.Frames[0]
	for i, t := range s.Tests {
		x := f.X(days(t.Date))
		for _, b := range []struct {
			e     lactate.Estimate
			width vg.Length
			cap   vg.Length // how far words keep from it
		}{{t.BetweenDays.Shift, 0.9, 1}, {t.Measured.Shift, 2.4, 3}} {
			if i == 0 || !b.e.HasInterval() {
				continue
			}
			y0, y1 := f.ClampY(b.e.Low), f.ClampY(b.e.High)
			pl.upright(x, y0, y1, b.width, 3)
			blocked.Add(draw.Rect(x-b.cap, y0, x+b.cap, y1))
		}
		blocked.Add(pl.Marker(draw.Circle, pl.Ink, vg.Point{X: x, Y: f.Y(t.Measured.Shift.Value)}, 3.4, !t.BetweenDays.Grade.Sure()))
	}
}

// shiftLabels writes beside each test how far it lies from the first.
func (pl *plate) shiftLabels(s *lactate.Season, days func(time.Time) float64, blocked *draw.Obstacles, span float64) {
	f := pl.Frames[0]
	for i, t := range s.Tests {
		label := "first test"
		if i > 0 {
			label = say.Signed(t.Measured.Shift.Value, say.Decimals(span))
			if !pl.o.Pool.IsZero() {
				label = pl.o.axis(0).Gain(s.Reference, t.Measured.Shift.Value)
			}
		}
		at := f.At(days(t.Date), t.Measured.Shift.Value)
		pl.label(pl.Ink, label, draw.Rect(at.X-4.6, at.Y-5, at.X+4.6, at.Y+5), blocked)
	}
}

// trendRows says the trend, and the odds.
func (o Options) trendRows(s *lactate.Season, span float64) [2]string {
	moved, odds := o.axis(span).Sentences(s.Trend, s.Reference, " every four weeks", 0)
	odds, _, _ = strings.Cut(strings.TrimSuffix(odds, "."), ",") // no room for more
	return [2]string{strings.TrimSuffix(moved, "."), odds}
}

// months returns ticks at the first of each month, or of every second, third,
// sixth or twelfth, no more than six and than have room, with the year at each January
// and at the first tick.
func (p *page) months(from, to, origin time.Time) []draw.Tick {
	most := min(6, int(p.Area.Width()/48))
	for _, step := range []int{1, 2, 3, 6, 12, 24, 60, 120} {
		var ts []draw.Tick
		y, m, _ := from.Date()
		for d := time.Date(y, time.Month((int(m)-1)/step*step+1), 1, 0, 0, 0, 0, origin.Location()); !d.After(to); d = d.AddDate(0, step, 0) {
			if d.Before(from) {
				continue
			}
			label := d.Format("Jan")
			if len(ts) == 0 || d.Month() == time.January {
				label = d.Format("Jan 2006")
				if step >= 12 {
					label = d.Format("2006")
				}
			}
			ts = append(ts, draw.Tick{At: float64(d.Sub(origin)) / float64(day), Label: label})
			if len(ts) > most {
				break
			}
		}
		if len(ts) <= most && len(ts) > 0 {
			return ts
		}
	}
	// Less than a month, or more than half a century: the ends.
	return []draw.Tick{{Label: origin.Format("2 Jan 2006")}}
}

func describeSeason(s *lactate.Season, o Options, rows [2]string) string {
	parts := []string{fmt.Sprintf("Shift of the lactate curve along %s in %s for %d tests from %s to %s: %s, %s.",
		o.Quantity, o.Unit, len(s.Tests), say.Day(s.Tests[0].Date), say.Day(s.Tests[len(s.Tests)-1].Date), rows[0], rows[1])}
	for i, t := range s.Tests {
		if i > 0 {
			parts = append(parts, fmt.Sprintf("%s: %s %s.", say.Day(t.Date), say.Signed(t.Measured.Shift.Value, 3), o.Unit))
		}
	}
	return strings.Join(parts, " ")
}
