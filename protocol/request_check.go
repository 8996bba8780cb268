package protocol

import (
	"errors"
	"fmt"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol/internal/form"
)

func (q Request) withDefaults() Request {
	hundred := q.Pool.Per100()
	if q.Distance == 0 {
		q.Distance = 4 * hundred
	}
	if q.WarmUp == 0 && !q.Pool.IsZero() {
		q.WarmUp = q.Pool.Distance(int(8 * hundred / q.Pool.Length() * (1 + 1e-9)))
	}
	if q.Rest == 0 && q.SendOff == 0 {
		q.Rest = defaultRest
	}
	if q.After == nil {
		q.After = []time.Duration{1 * time.Minute, 3 * time.Minute, 5 * time.Minute, 7 * time.Minute}
	}
	if q.Speeds != nil && q.Repeats == 0 {
		q.Repeats = len(q.Speeds)
	}
	if q.Round == 0 {
		q.Round = time.Second
	}
	if q.Weeks == 0 {
		q.Weeks = defaultWeeks
	}
	return q
}

// check joins what is wrong with each field by itself.
func (q Request) check() error {
	var errs []error
	bad := func(field, found, want string) { errs = append(errs, &RequestError{field, found, want}) }
	length := func(field string, d pace.Length) {
		if q.Pool.IsZero() {
			return
		}
		if _, err := q.Pool.Lengths(d); err != nil || d.Metres() > 1e5 {
			want := "no more than 100 km"
			if err != nil {
				want = "a whole number of lengths; " + form.Problem(err)
			}
			bad(field, d.String(), want)
		}
	}
	span := func(field string, t, low, high time.Duration) {
		if t < low || t > high {
			bad(field, pace.FormatTime(t, -1), fmt.Sprintf("%s to %s", pace.FormatTime(low, -1), pace.FormatTime(high, -1)))
		}
	}
	if !form.Printable(q.Swimmer) {
		bad("Swimmer", fmt.Sprintf("%q", form.Shorten(q.Swimmer)), "a name without control characters")
	}
	if q.Pool.IsZero() {
		bad("Pool", "no pool", "a pool, such as pace.SCY()")
	}
	if q.Repeats < 2 || q.Repeats > form.MaxNumber {
		bad("Repeats", fmt.Sprint(q.Repeats), fmt.Sprintf("2 to %d", form.MaxNumber))
	}
	length("Distance", q.Distance)
	length("WarmUp", q.WarmUp)
	q.checkPaces(bad)
	span("Drop", q.Drop, 0, time.Minute)
	span("Rest", q.Rest, 0, time.Hour)
	span("SendOff", q.SendOff, 0, 5*time.Hour)
	span("Round", q.Round, time.Millisecond, time.Minute)
	if q.Rest > 0 && q.SendOff > 0 {
		bad("SendOff", pace.FormatTime(q.SendOff, -1), "either a rest or a send-off, not both")
	}
	if q.Weeks < 1 || q.Weeks > 104 {
		bad("Weeks", fmt.Sprint(q.Weeks), "1 to 104")
	}
	if len(q.After) > form.MaxNumber {
		bad("After", fmt.Sprintf("%d samples", len(q.After)), fmt.Sprintf("no more than %d", form.MaxNumber))
	}
	for i, t := range q.After {
		if t <= 0 || t > form.MaxAfter || i > 0 && t <= q.After[i-1] {
			bad("After", pace.FormatTime(t, -1), "times above zero and up to two hours, each later than the last")
		}
	}
	if !q.Date.IsZero() && (!form.HasYear(q.Date) || !q.Date.Equal(dayOf(q.Date)) || q.Date.Location() != time.UTC) {
		bad("Date", q.Date.String(), "a day at midnight UTC, in the years "+form.Year.String())
	}
	return errors.Join(errs...)
}

// checkPaces checks the fields that say how fast the repeats are.
func (q Request) checkPaces(bad func(field, found, want string)) {
	for _, p := range []struct {
		field string
		pace  pace.Pace
	}{{"Start", q.Start}, {"Threshold", q.Threshold}} {
		if p.pace == (pace.Pace{}) {
			continue
		}
		if v, err := p.pace.Speed(); err != nil || !form.Speed.Has(float64(v)) {
			bad(p.field, fmt.Sprintf("%s per %s", pace.FormatTime(p.pace.Time, -1), p.pace.Per), fmt.Sprintf("a pace of %v m/s", form.Speed))
		}
	}
	if q.Best != 0 {
		if v, err := pace.MeanSpeed(q.Distance, q.Best); err != nil || !form.Speed.Has(float64(v)) {
			bad("Best", pace.FormatTime(q.Best, -1), fmt.Sprintf("a time for %s at %v m/s", q.Distance, form.Speed))
		}
	}
	given := q.Start != (pace.Pace{}) || q.Best != 0 || q.Threshold != (pace.Pace{})
	switch {
	case q.Speeds == nil && !given:
		bad("Start", "no Start, Best, Threshold or Speeds", "at least one of them")
	case q.Speeds != nil && (given || q.Drop != 0):
		bad("Speeds", fmt.Sprintf("%d speeds", len(q.Speeds)), "either Speeds, or Start, Best, Threshold and Drop")
	case q.Speeds != nil && q.Repeats != len(q.Speeds):
		bad("Repeats", fmt.Sprint(q.Repeats), fmt.Sprintf("zero, or the number of Speeds, %d", len(q.Speeds)))
	}
	for i, v := range q.Speeds {
		last := i == len(q.Speeds)-1
		switch {
		case last && v == 0:
		case !form.Speed.Has(float64(v)):
			bad("Speeds", fmt.Sprintf("%g m/s for repeat %d", float64(v), i+1), form.Speed.String()+" m/s (the last may be zero: no target)")
		case i > 0 && !(v > q.Speeds[i-1]):
			bad("Speeds", fmt.Sprintf("%g m/s for repeat %d", float64(v), i+1), fmt.Sprintf("more than repeat %d, %g m/s", i, float64(q.Speeds[i-1])))
		}
	}
}

// ends returns the times of the first and the last repeat.
func (q Request) ends() (first, last time.Duration, err error) {
	perRepeat := func(d time.Duration) float64 { // from per 100 to per repeat
		return float64(d) * float64(q.Distance/q.Pool.Per100())
	}
	timeOf := func(p pace.Pace) float64 {
		v, err := p.Speed()
		if err != nil {
			return 0
		}
		return float64(v.Time(q.Distance))
	}
	start, best, threshold := timeOf(q.Start), float64(q.Best), timeOf(q.Threshold)
	determined := start > 0 && best > 0 || threshold > 0 && (start > 0 || best > 0)
	if determined && q.Drop != 0 {
		return 0, 0, &RequestError{"Drop", pace.FormatTime(q.Drop, -1), "zero, since the other paces say how much faster the repeats become"}
	}
	whole := perRepeat(q.Drop) * float64(q.Repeats-1)
	switch {
	case start > 0 && best > 0:
	case threshold > 0 && start > 0:
		best = start + (threshold-start)/thresholdAt
	case threshold > 0 && best > 0:
		start = best + (threshold-best)/(1-thresholdAt)
	case threshold > 0 && whole > 0:
		start = threshold + thresholdAt*whole
		best = start - whole
	case threshold > 0: // with start = best/firstShare
		best = threshold / (1/firstShare - thresholdAt*(1/firstShare-1))
		start = best / firstShare
	case start > 0 && whole > 0:
		best = start - whole
	case start > 0:
		best = start * firstShare
	case whole > 0:
		start = best + whole
	default:
		start = best / firstShare
	}
	show := func(t float64) string { return pace.FormatTime(time.Duration(t).Round(q.Round), -1) }
	for _, t := range []float64{start, best} {
		if v := q.Distance.Metres() / (t / 1e9); !(t > 0 && form.Speed.Has(v)) {
			err = errors.Join(err, &RequestError{"Start, Best, Drop", fmt.Sprintf("times from %s to %s for %s", show(start), show(best), q.Distance), fmt.Sprintf("paces of %v m/s", form.Speed)})
		}
	}
	if err == nil && !(best < start) {
		err = &RequestError{"Start, Best", fmt.Sprintf("a first repeat in %s and a last one in %s", show(start), show(best)), "a last repeat faster than the first"}
	}
	return time.Duration(start), time.Duration(best), err
}

func dayOf(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}
