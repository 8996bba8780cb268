package chart

import (
	"fmt"
	"math"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/internal/say"
	"example.com/steptest/pace"
)

// courseView reads a course as speeds at LT2, or as shifts if there is no LT2.
type courseView struct {
	*between.Course
	pool pace.Pool
	lt2  bool
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
	t := v.Tests()[0]
	return t.LT2.Value - t.Shift.Value
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
func (v courseView) note(news, beyond bool) string {
	what := "LT2"
	if !v.lt2 {
		what = "the shift"
	}
	interval := say.Interval(v.Confidence)
	note := fmt.Sprintf("Green: %s on an average day, with its %s date by date, by all tests and readings, later ones too. Grey: the same by the tests alone. "+
		"Presumed: one shape of the curve, how much days differ, a range for how fast it drifts, and that a kind of repeat always adds the same. "+
		"Large circles: each test, placed by that shape; bars: %[2]s, measurement error and days alone. "+
		"Small circles: each reading placed so, less what its kind of repeat adds", what, interval)
	if news {
		note += "; filled ones were news when they came"
	}
	if beyond {
		note += "; a triangle is one beyond the scale"
	}
	note += "."
	if n := v.unused(); n > 0 {
		note += fmt.Sprintf(" Not used and not drawn: %d of %d readings, see the warnings.", n, len(v.Readings))
	}
	return note
}

// rows say where the curve is, and what the tests alone say.
func (v courseView) rows(today time.Time, o Options) [2]string {
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
	with, alone := v.place(v.At(today)), v.place(v.ByTests(today))
	value, low, high := said(with)
	unit := " " + o.Unit
	what := " from the first test"
	if v.lt2 {
		what = " at LT2"
		if !v.pool.IsZero() {
			unit = " per 100 " + v.pool.UnitSymbol()
		}
	}
	first := fmt.Sprintf("%s: %s%s%s (%s: %s to %s)", today.Format("2 January 2006"), value, unit, what, say.Level(v.Confidence), low, high)
	value, low, high = said(alone)
	second := fmt.Sprintf("tests alone: %s (%s to %s)", value, low, high)
	if narrower := 100 * (1 - (with.High-with.Low)/(alone.High-alone.Low)); narrower >= 1 && !math.IsNaN(narrower) {
		second += fmt.Sprintf("; %.0f %% narrower with readings", narrower)
	}
	return [2]string{first, second}
}
