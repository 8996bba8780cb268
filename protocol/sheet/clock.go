package sheet

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol/internal/form"
)

const (
	// maxLeave is the longest time from the first start to another that is not doubted.
	maxLeave = 3 * time.Hour
	// usualAfter is the longest time to a sample that is not doubted.
	usualAfter = 30 * time.Minute
)

// readClock reads a time over a distance, which is zero if there is none. A time that
// makes no swim is read in the one other way that makes one. A zero is refused unless
// zeroOK; a blank is not.
func (r *row) readClock(col column, s string, d pace.Length, zeroOK bool) time.Duration {
	if s == "" {
		return 0
	}
	if inSeconds(r.units[col]) && plain(s) {
		s += "s"
	}
	fits := func(t time.Duration) bool { return d > 0 && pace.Swims(d, t) || d == 0 && t <= maxLeave }
	t, err := pace.ParseTime(s)
	if err != nil || t > 0 && !fits(t) {
		if other, ok := oneTime(s, fits); ok {
			if err == nil || strings.HasSuffix(strings.ToLower(s), "m") {
				r.noteTime(col, other)
			}
			return other
		}
	}
	const want = `a time such as "5:32.4"`
	switch {
	case err != nil:
		r.fault(col, r.cell[col], because(want, err))
	case t == 0 && !zeroOK:
		r.fault(col, r.cell[col], want)
	case t > 0 && d > 0 && !fits(t) && col != colTime: // which is judged by its speed
		r.fault(col, r.cell[col], fmt.Sprintf("a time in which %s can be swum", d))
	default:
		return t
	}
	return 0
}

// noteTime notes the other reading of a time.
func (r *row) noteTime(col column, t time.Duration) {
	r.note(col, "%s is read as %s, as a spreadsheet writes minutes and seconds", form.Shorten(r.cell[col]), pace.FormatTime(t, -1))
}

// oneTime returns the reading of a time that fits, if there is one only.
func oneTime(s string, fits func(time.Duration) bool) (time.Duration, bool) {
	all := slices.DeleteFunc(pace.TimeReadings(s), func(t time.Duration) bool { return t == 0 || !fits(t) })
	if len(all) != 1 {
		return 0, false
	}
	return all[0], true
}

// readTime reads the time swum, and judges the speed.
func (r *row) readTime() time.Duration {
	d := r.repeat.Distance
	t := r.readClock(colTime, r.decimal(colTime), d, false)
	if t <= 0 || d <= 0 || pace.Swims(d, t) {
		return t
	}
	want := pace.WantSwim(d, t)
	per := r.pool.Per100()
	if t := time.Duration(float64(t) * float64(d/per)); d > per && pace.Swims(d, t) {
		want += fmt.Sprintf("; as a pace per %s it would be %s", per, pace.FormatTime(t, 1))
	}
	r.fault(colTime, r.cell[colTime], want)
	return t
}

// readTarget reads a planned time: "5:32", "all out", or "4:50 all out".
func (r *row) readTarget() (time.Duration, bool) {
	rest, allOut := strings.CutSuffix(strings.ToLower(r.decimal(colTarget)), "all out")
	return r.readClock(colTarget, strings.TrimSpace(rest), r.repeat.Distance, false), allOut
}

// readMinutes reads the time between the end of the repeat and the sample.
func (r *row) readMinutes() time.Duration {
	s := r.decimal(colAfter)
	if s == "" {
		return 0
	}
	want := `minutes such as "3", "1.5" or "1:30"`
	var t time.Duration
	m, unit, ok := amount(s)
	switch {
	case strings.Contains(s, ":"):
		usual := func(t time.Duration) bool { return t > 0 && t <= usualAfter }
		t, _ = pace.ParseTime(s)
		if other, ok := oneTime(s, usual); ok && !usual(t) {
			r.noteTime(colAfter, other)
			t = other
		}
	case !colAfter.unitFits(strings.ToLower(unit)):
		want += fmt.Sprintf("; the unit is min, not %q", form.Shorten(unit))
	case ok && m <= form.MaxAfter.Minutes():
		t = time.Duration(m*60*1000+0.5) * time.Millisecond
	}
	if t <= 0 || t > form.MaxAfter {
		r.fault(colAfter, r.cell[colAfter], want)
		return 0
	}
	return t
}
