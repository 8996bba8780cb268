package table

import (
	"cmp"
	"fmt"
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
)

// Between returns what readings taken between tests say, in three tables: what each kind
// of repeat adds to the lactate of a test; which readings were news when they came; and
// what each reading changed, in seconds at the place of d. Intensities are speeds (m/s).
func Between(c *between.Course, d between.Due, o Options) Tables {
	if c == nil {
		return nil
	}
	w := course{c, d, o}
	return Tables{w.kinds(), w.news(), w.changes()}
}

// Due says in plain words where the curve of a course is on the day of d, and whether a
// test is worth its blood.
func Due(c *between.Course, d between.Due, o Options) (place, worth string) {
	if c == nil {
		return "", ""
	}
	w := course{c, d, o}
	per := o.Pool.Per100()
	if d.Place.LT2.HasInterval() {
		bracket := func(e lactate.Estimate) string {
			return fmt.Sprintf("%s per %v (%s to %s)", w.pace(e.Value), per, w.pace(e.Low), w.pace(e.High))
		}
		place = fmt.Sprintf("LT2 at %s on an average day; 90 in 100 that it lies in the bracket. By the tests alone: %s.", bracket(d.Place.LT2), bracket(c.ByTests(d.Place.Date).LT2))
	} else {
		s := func(v float64) string { return Signed(w.seconds(v), 1) }
		place = fmt.Sprintf("The curves have no LT2 in the tested range. Since the first test: %s s per %v (%s to %s; + is faster).",
			s(d.Place.Shift.Value), per, s(d.Place.Shift.Low), s(d.Place.Shift.High))
	}
	half, least, size, share := w.seconds(d.Half), w.seconds(d.AfterTest), w.seconds(d.Matters), 100*d.Matters/c.Reference
	switch {
	case d.Disagree:
		worth = fmt.Sprintf("A test is worth its blood: the %d readings since the last one disagree with it. They put the curve %.1f s per %v %s than it did; if drift and days alone had moved it, readings would do as much %.0f times in 100.",
			d.Since, math.Abs(w.seconds(d.Moved.Value)), per, map[bool]string{true: "slower", false: "faster"}[d.Moved.Value < 0], math.Max(100*d.Chance, 1))
	case d.Wide:
		worth = fmt.Sprintf("A test is worth its blood: the bracket reaches %.1f s per %v either way, more than the %.1f s that matter (%.0f %% of the speed). One more test would make that %.1f s.", half, per, size, share, least)
	default:
		worth = fmt.Sprintf("If the curve keeps its shape a test would tell little: the bracket reaches %.1f s per %v either way, and a test on that day would make that %.1f s. Without another test or reading it grows. From %s on it reaches beyond %.1f s (%.0f %% of the speed), which matters.",
			half, per, least, d.WideOn.Format("2 January 2006"), size, share)
	}
	return place, worth
}

// course is a course as it is told on a day.
type course struct {
	*between.Course
	due between.Due
	o   Options
}

// seconds turns a small change of speed into time per 100 of the pool.
func (c course) seconds(change float64) float64 {
	v := c.due.Place.LT2.Value
	if math.IsNaN(v) {
		v = c.Reference
	}
	return c.o.Pool.Per100().Metres() * change / (v * v)
}

func (c course) pace(v float64) string { return Clock(c.o.Pool.Per100().Metres() / v) }

func (c course) kinds() Table {
	t := Table{Caption: "What the kinds of repeats add to the lactate of a test at the same speed", Head: []Column{
		{"repeats", false}, {"readings", true}, {"mmol/L", true}, {"90 % bracket", true}}}
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
			t.Notes = append(t.Notes, fmt.Sprintf("%s, %s: %.1f mmol/L at %s, 90 in 100 were expected from %.1f to %.1f", r.Date.Format("2 January 2006"), kindOf(r), r.Lactate, c.pace(r.Intensity), r.Expected.Low, r.Expected.High))
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
	t := Table{Caption: "What each reading changed", Head: []Column{
		{"day", false}, {"repeats", false}, {"per 100", true}, {"mmol/L", true}, {"expected", true}, {"moves, s", true}, {"known to, s", true}}}
	for _, r := range c.Readings {
		row := []string{r.Date.Format("2 Jan 2006"), kindOf(r), c.pace(r.Intensity), fmt.Sprintf("%.1f", r.Lactate), "not used:", string(r.Unused)}
		if r.Unused == "" {
			row[4], row[5] = "", ""
			if r.Expected.HasInterval() {
				row[4] = fmt.Sprintf("%.1f to %.1f", r.Expected.Low, r.Expected.High)
				row[5] = Signed(c.seconds(r.After.Value-r.Before.Value), 1)
			}
			row = append(row, fmt.Sprintf("%.1f", c.seconds(r.After.High-r.After.Low)/2))
		}
		t.Rows = append(t.Rows, row)
	}
	t.Notes = []string{"Expected: 90 in 100 such readings, by all that was known before. News is the 1 in 100 at either end.",
		fmt.Sprintf("Moves: how far the reading moves the curve of an average day, in seconds per %v; + is faster. Known to: half the 90 %% bracket after it.", c.o.Pool.Per100())}
	return t
}
