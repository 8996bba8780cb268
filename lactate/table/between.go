package table

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/internal/say"
)

// Between returns what readings taken between tests say, in three tables: what each kind
// of repeat adds to the lactate of a test; which readings were news when they came; and
// what each reading changed, at the place of d: in seconds per 100 of the pool of the
// options, or in their unit without one.
func Between(c *between.Course, d between.Due, o Options) Tables {
	if c == nil {
		return nil
	}
	w := course{c, d, o.withDefaults("")}
	return Tables{w.kinds(), w.news(), w.changes()}
}

// Due says in plain words where the curve of a course is on the day of d, and whether a
// test is worth its blood.
func Due(c *between.Course, d between.Due, o Options) (place, worth string) {
	if c == nil {
		return "", ""
	}
	w := course{c, d, o.withDefaults("")}
	per := w.axis().Change()
	if d.Place.LT2.HasInterval() {
		unit := w.o.Unit
		if !o.Pool.IsZero() {
			unit = fmt.Sprintf("per %v", o.Pool.Per100())
		}
		bracket := func(e lactate.Estimate) string {
			return fmt.Sprintf("%s %s (%s)", w.at(e.Value), unit, w.axis().Interval(e))
		}
		place = fmt.Sprintf("LT2 at %s on an average day; %s that it lies in the bracket. By the tests alone: %s.", bracket(d.Place.LT2), InHundred(c.Confidence), bracket(c.ByTests(d.Place.Date).LT2))
	} else {
		place = fmt.Sprintf("The curves have no LT2 in the tested range. Since the first test: %s %s (%s to %s; + is faster).",
			w.signed(d.Place.Shift.Value), per, w.signed(d.Place.Shift.Low), w.signed(d.Place.Shift.High))
	}
	half, least, size, share := w.size(d.Half), w.size(d.AfterTest)+" "+w.short(), w.size(d.Matters)+" "+w.short(), 100*d.Matters/c.Reference
	switch {
	case d.Disagree:
		side := "faster"
		if d.Moved.Value < 0 {
			side = "slower"
		}
		worth = fmt.Sprintf("A test is worth its blood: the %d readings since the last one disagree with it. They put the curve %s %s %s than it did; if drift and days alone had moved it, readings would do as much %.0f times in 100.",
			d.Since, w.size(math.Abs(d.Moved.Value)), per, side, math.Max(100*d.Chance, 1))
	case d.Wide:
		worth = fmt.Sprintf("A test is worth its blood: the bracket reaches %s %s either way, more than the %s that matter (%.0f %% of the speed). One more test would make that %s.", half, per, size, share, least)
	default:
		worth = fmt.Sprintf("If the curve keeps its shape a test would tell little: the bracket reaches %s %s either way, and a test on that day would make that %s. Without another test or reading it grows. From %s on it reaches beyond %s (%.0f %% of the speed), which matters.",
			half, per, least, say.Day(d.WideOn), size, share)
	}
	return place, worth
}

// course is a course as it is told on a day.
type course struct {
	*between.Course
	due between.Due
	o   Options
}

func (c course) axis() say.Axis { return c.o.axis(0.1 * c.Reference) }

// at is a speed as its pace, or without its unit.
func (c course) at(v float64) string {
	return strings.TrimSuffix(c.axis().At(v), " "+c.o.Unit)
}

// change turns a small change of speed into time per 100 of the pool, if there is one.
func (c course) change(v float64) (value float64, decimals int) {
	if c.o.Pool.IsZero() {
		return v, say.Decimals(c.axis().Span)
	}
	at := c.due.Place.LT2.Value
	if math.IsNaN(at) {
		at = c.Reference
	}
	return c.o.Pool.Per100().Metres() * v / (at * at), 1
}

func (c course) size(v float64) string   { return Number(c.change(v)) }
func (c course) signed(v float64) string { return Signed(c.change(v)) }

// short is the unit of a change, without its distance.
func (c course) short() string {
	if c.o.Pool.IsZero() {
		return c.o.Unit
	}
	return "s"
}

func (c course) kinds() Table {
	t := Table{Caption: "What the kinds of repeats add to the lactate of a test at the same speed", Head: []Column{
		{"repeats", false}, {"readings", true}, {"mmol/L", true}, {bracket(c.Confidence), true}}}
	for _, k := range c.Kinds {
		name := k.Kind
		if k.Analyser != "" {
			name += ", " + k.Analyser
		}
		row := []string{name, fmt.Sprint(k.Readings), "not known", ""}
		if k.Offset.HasInterval() {
			row[2] = Signed(k.Offset.Value, 1)
			row[3] = Signed(k.Offset.Low, 1) + " to " + Signed(k.Offset.High, 1)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (c course) news() (t Table) {
	judged := 0
	for _, r := range c.Readings {
		if !math.IsNaN(r.Percentile) {
			judged++
		}
		if r.News {
			t.Notes = append(t.Notes, fmt.Sprintf("%s, %s: %.1f mmol/L at %s, %s were expected from %.1f to %.1f", say.Day(r.Date), kindOf(r), r.Lactate, c.at(r.Intensity), InHundred(c.Confidence), r.Expected.Low, r.Expected.High))
		}
	}
	t.Caption = fmt.Sprintf("Readings that were news when they came: %d of %d; chance alone makes 2 in 100", len(t.Notes), judged)
	if len(t.Notes) == 0 {
		t.Caption = fmt.Sprintf("None of the %d readings was news when it came.", judged)
		if judged == 1 {
			t.Caption = "The one reading was no news when it came."
		}
	}
	return t
}

func kindOf(r between.Told) string { return cmp.Or(r.Kind, "kind not said") }

func (c course) changes() Table {
	unit, at := c.short(), c.o.Unit
	if !c.o.Pool.IsZero() {
		at = "per 100"
	}
	t := Table{Caption: "What each reading changed", Head: []Column{
		{"day", false}, {"repeats", false}, {at, true}, {"mmol/L", true}, {"expected", true}, {"moves, " + unit, true}, {"known to, " + unit, true}}}
	for _, r := range c.Readings {
		row := []string{r.Date.Format("2 Jan 2006"), kindOf(r), c.at(r.Intensity), fmt.Sprintf("%.1f", r.Lactate), "not used:", string(r.Unused)}
		if r.Unused == "" {
			row[4], row[5] = "", ""
			if r.Expected.HasInterval() {
				row[4] = fmt.Sprintf("%.1f to %.1f", r.Expected.Low, r.Expected.High)
				row[5] = c.signed(r.After.Value - r.Before.Value)
			}
			row = append(row, c.size((r.After.High-r.After.Low)/2))
		}
		t.Rows = append(t.Rows, row)
	}
	t.Notes = []string{fmt.Sprintf("Expected: %s such readings, by all that was known before. News is the 1 in 100 at either end.", InHundred(c.Confidence)),
		fmt.Sprintf("Moves: how far the reading moves the curve of an average day, in %s; + is faster. Known to: half the %s after it.", c.axis().Change(), bracket(c.Confidence))}
	return t
}
