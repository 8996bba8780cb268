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
	"example.com/steptest/pace"
	"gonum.org/v1/plot/vg"
)

// courseView reads a course as speeds at LT2, or as shifts if there is no LT2.
type courseView struct {
	*between.Course
	pool         pace.Pool
	lt2          bool
	tests        []between.Place
	first, today time.Time // what is drawn
	with, alone  []placed  // day by day: by tests and readings, and by the tests alone

	low, top, bottom, ceiling float64 // of the places, and with a margin
}

// follow works out what is drawn, from the first test or reading to today.
func (v *courseView) follow() error {
	for _, r := range v.Readings {
		if r.Date.Before(v.first) {
			v.first = r.Date
		}
	}
	if v.today.Sub(v.first) < 7*day {
		return fmt.Errorf("chart: between: found a picture from %s to %s, want a week or more", v.first.Format(time.DateOnly), v.today.Format(time.DateOnly))
	}
	v.low, v.top = math.Inf(1), math.Inf(-1)
	include := func(e lactate.Estimate) { v.low, v.top = math.Min(v.low, e.Low), math.Max(v.top, e.High) }
	const n = 240
	for i := range n + 1 {
		at := math.Round(v.days(v.today) * float64(i) / n)
		date := v.first.AddDate(0, 0, int(at))
		with, alone := v.place(v.At(date)), v.place(v.ByTests(date))
		v.with, v.alone = append(v.with, placed{at, with}), append(v.alone, placed{at, alone})
		include(with)
		if at >= v.days(v.tests[0].Date) {
			include(alone)
		}
	}
	for _, t := range v.tests {
		include(v.place(t))
	}
	if !say.Finite(v.low, v.top) || !(v.low < v.top) {
		return errors.New("chart: between: found no place of the curve, want finite numbers")
	}
	margin := 0.05 * (v.top - v.low)
	v.bottom, v.ceiling = v.low-margin, v.top+margin
	return nil
}

// days is a date on the horizontal axis.
func (v courseView) days(t time.Time) float64 { return float64(t.Sub(v.first)) / float64(day) }

// drawn reports whether a reading has a mark.
func (v courseView) drawn(r between.Told) bool {
	return !math.IsNaN(r.Alone) && !r.Date.After(v.today)
}

// beyond reports whether the place of a reading lies beyond the scale.
func (v courseView) beyond(r between.Told) bool {
	return r.Alone+v.origin() < v.bottom || r.Alone+v.origin() > v.ceiling
}

// paces are ticks for the right side, and the room that they take.
func (v courseView) paces() (ticks []draw.Tick, aside vg.Length) {
	if v.pool.IsZero() || !v.lt2 {
		return nil, 0
	}
	ticks = draw.PaceTicks(v.low, v.top, v.pool.Per100(), 6)
	for _, t := range ticks {
		aside = max(aside, draw.Wide(draw.Plain(draw.TextSize), t.Label)+10)
	}
	return ticks, aside
}

func (v courseView) place(p between.Place) lactate.Estimate {
	if v.lt2 {
		return p.LT2
	}
	return p.Shift
}

// origin is where a shift of zero is drawn.
func (v courseView) origin() float64 {
	if !v.lt2 {
		return 0
	}
	return v.tests[0].LT2.Value - v.tests[0].Shift.Value
}

// unused counts the readings that are not used.
func (v courseView) unused() (n int) {
	for _, r := range v.Readings {
		if r.Unused != "" {
			n++
		}
	}
	return n
}

// note says what is drawn.
func (v courseView) note() string {
	what := "LT2"
	if !v.lt2 {
		what = "the shift"
	}
	interval := say.Interval(v.Confidence)
	note := fmt.Sprintf("Green: %s on an average day, with its %s date by date, by all tests and readings, later ones too. Grey: the same by the tests alone. "+
		"Presumed: one shape of the curve, how much days differ, a range for how fast it drifts, and that a kind of repeat always adds the same. "+
		"Large circles: each test, placed by that shape; bars: %[2]s, measurement error and days alone. "+
		"Small circles: each reading placed so, less what its kind of repeat adds", what, interval)
	if slices.ContainsFunc(v.Readings, func(r between.Told) bool { return v.drawn(r) && r.News }) {
		note += "; filled ones were news when they came"
	}
	if slices.ContainsFunc(v.Readings, func(r between.Told) bool { return v.drawn(r) && v.beyond(r) }) {
		note += "; a triangle is one beyond the scale"
	}
	note += "."
	if n := v.unused(); n > 0 {
		note += fmt.Sprintf(" Not used and not drawn: %d of %d readings, see the warnings.", n, len(v.Readings))
	}
	return note
}

// rows say where the curve is, and what the tests alone say.
func (v courseView) rows(o Options) [2]string {
	said := func(e lactate.Estimate) (value, low, high string) {
		one := func(x float64) string { return say.Signed(x, 3) }
		switch {
		case v.lt2 && !v.pool.IsZero():
			one = func(x float64) string { return o.said(x, 1) }
		case v.lt2:
			one = func(x float64) string { return say.Number(x, say.Decimals(e.High-e.Low)) }
		}
		return one(e.Value), one(e.Low), one(e.High)
	}
	with, alone := v.place(v.At(v.today)), v.place(v.ByTests(v.today))
	value, low, high := said(with)
	unit := " " + o.Unit
	what := " from the first test"
	if v.lt2 {
		what = " at LT2"
		if !v.pool.IsZero() {
			unit = " per 100 " + v.pool.UnitSymbol()
		}
	}
	first := fmt.Sprintf("%s: %s%s%s (%s: %s to %s)", say.Day(v.today), value, unit, what, say.Level(v.Confidence), low, high)
	value, low, high = said(alone)
	second := fmt.Sprintf("tests alone: %s (%s to %s)", value, low, high)
	if narrower := 100 * (1 - (with.High-with.Low)/(alone.High-alone.Low)); narrower >= 1 && !math.IsNaN(narrower) {
		second += fmt.Sprintf("; %.0f %% narrower with readings", narrower)
	}
	return [2]string{first, second}
}
