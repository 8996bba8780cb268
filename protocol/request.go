package protocol

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/pace"
)

// Defaults of a [Request], all common practice.
const (
	defaultDrop  = 2500 * time.Millisecond // per 100 and repeat: 10 s on a 400
	defaultRest  = 70 * time.Second
	defaultWeeks = 6
)

// thresholdAt is how far up the range of paces LT2 is expected: the largest
// distance from the chord of A + B·exp(C·x) over a range in which C·x grows by
// three lies ln((e³−1)/3)/3 = 0.62 of the way up.
const thresholdAt = 0.6

// Request is what a swimmer knows and wants of a step test. The zero value is
// refused: it needs at least a pool, a number of repeats, and one of Start,
// Best and Threshold.
//
// The targets fall evenly in pace from the first repeat to the last. Start
// with Drop says where they go; Best with Drop where they come from; Start and
// Best say both, and Drop follows; Threshold, where only one of Start and Best
// is given, or neither, puts LT2 six tenths of the way up.
type Request struct {
	// Swimmer and Date (a day, at midnight UTC) go on the sheet. Zero means
	// that the plan is for nobody, or no day, in particular.
	Swimmer string
	Date    time.Time
	Pool    pace.Pool
	// Repeats, two or more; zero is refused. Six of 400 is common practice.
	Repeats int
	// Distance of each repeat, a whole number of lengths. Zero means 400 yd or
	// m, as the pool is.
	Distance pace.Length
	// Start is the pace of the first repeat. Zero means that it follows from
	// the others.
	Start pace.Pace
	// Drop is how much faster each repeat is than the last, per 100 yd or m,
	// as the pool is. Zero means that it follows from the others, or else 2.5 s.
	Drop time.Duration
	// Best is what is expected of the last repeat, which is swum all out: a
	// recent best for the distance. Zero means that it follows from the others.
	Best time.Duration
	// Threshold is the expected pace at LT2, as from the last test. Zero means
	// unknown.
	Threshold pace.Pace
	// Rest between repeats, from touch to push-off. Zero means 70 s, or that
	// SendOff is given.
	Rest time.Duration
	// SendOff is the time from the start of a repeat to the start of the next,
	// the same for all. Zero means that Rest counts.
	SendOff time.Duration
	// WarmUp is the distance swum easily before the test. Zero means the whole
	// number of lengths at or below 800 yd or m.
	WarmUp pace.Length
	// After is when samples are taken after the last repeat. Nil means 1, 3, 5
	// and 7 min; an empty slice means one sample only, as after the others.
	After []time.Duration
	// Round is what the targets are rounded to. Zero means 1 s.
	Round time.Duration
	// Weeks to the next test. Zero means 6; six to eight is common practice.
	Weeks int
}

// RequestError is one reason why a [Request] makes no plan. The zero value is
// no reason.
type RequestError struct {
	Field string // name of the field of Request
	Found string
	Want  string
}

func (e *RequestError) Error() string {
	return fmt.Sprintf("protocol: plan: %s: found %s, want %s", e.Field, e.Found, e.Want)
}

// NewPlan makes a plan. The error joins a [*RequestError] for everything that
// is wrong with the request.
func NewPlan(q Request) (*Plan, error) {
	q = q.withDefaults()
	if err := q.check(); err != nil {
		return nil, err
	}
	first, last, err := q.ends()
	if err != nil {
		return nil, err
	}
	p := &Plan{Swimmer: q.Swimmer, Date: q.Date, Pool: q.Pool, WarmUp: q.WarmUp, After: slices.Clone(q.After)}
	leave := time.Duration(0)
	for i := range q.Repeats {
		u := float64(i) / float64(q.Repeats-1)
		t := Target{
			Number:   i + 1,
			Distance: q.Distance,
			Time:     time.Duration(math.Round(float64(first) + u*float64(last-first))).Round(q.Round),
			AllOut:   i == q.Repeats-1,
			Leave:    leave,
		}
		p.Repeats = append(p.Repeats, t)
		rest := q.Rest
		if q.SendOff > 0 {
			rest = q.SendOff - t.Time
		}
		if rest < 0 {
			return nil, &RequestError{"SendOff", pace.FormatTime(q.SendOff, -1), fmt.Sprintf("no less than the time of repeat %d, %s", t.Number, pace.FormatTime(t.Time, -1))}
		}
		leave += t.Time + rest
	}
	if !q.Date.IsZero() {
		p.Next = q.Date.AddDate(0, 0, 7*q.Weeks)
	}
	return p, nil
}

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
				want = "a whole number of lengths; " + problem(err)
			}
			bad(field, d.String(), want)
		}
	}
	span := func(field string, t, low, high time.Duration) {
		if t < low || t > high {
			bad(field, pace.FormatTime(t, -1), fmt.Sprintf("%s to %s", pace.FormatTime(low, -1), pace.FormatTime(high, -1)))
		}
	}
	if !printable(q.Swimmer) {
		bad("Swimmer", fmt.Sprintf("%q", shorten(q.Swimmer)), "a name without control characters")
	}
	if q.Pool.IsZero() {
		bad("Pool", "no pool", "a pool, such as pace.SCY()")
	}
	if q.Repeats < 2 || q.Repeats > maxNumber {
		bad("Repeats", fmt.Sprint(q.Repeats), fmt.Sprintf("2 to %d", maxNumber))
	}
	length("Distance", q.Distance)
	length("WarmUp", q.WarmUp)
	for _, p := range []struct {
		field string
		pace  pace.Pace
	}{{"Start", q.Start}, {"Threshold", q.Threshold}} {
		if p.pace == (pace.Pace{}) {
			continue
		}
		if v, err := p.pace.Speed(); err != nil || !(v >= minSpeed && v <= maxSpeed) {
			bad(p.field, fmt.Sprintf("%s per %s", pace.FormatTime(p.pace.Time, -1), p.pace.Per), "a pace of 0.2 to 3 m/s")
		}
	}
	span("Drop", q.Drop, 0, time.Minute)
	span("Rest", q.Rest, 0, time.Hour)
	span("SendOff", q.SendOff, 0, 5*time.Hour)
	span("Round", q.Round, time.Millisecond, time.Minute)
	if q.Best != 0 {
		if v, err := pace.Over(q.Distance, q.Best); err != nil || !(v >= minSpeed && v <= maxSpeed) {
			bad("Best", pace.FormatTime(q.Best, -1), fmt.Sprintf("a time for %s at 0.2 to 3 m/s", q.Distance))
		}
	}
	if q.Rest > 0 && q.SendOff > 0 {
		bad("SendOff", pace.FormatTime(q.SendOff, -1), "either a rest or a send-off, not both")
	}
	if q.Weeks < 1 || q.Weeks > 104 {
		bad("Weeks", fmt.Sprint(q.Weeks), "1 to 104")
	}
	if len(q.After) > maxNumber {
		bad("After", fmt.Sprintf("%d samples", len(q.After)), fmt.Sprintf("no more than %d", maxNumber))
	}
	for i, t := range q.After {
		if t <= 0 || t > maxAfter || i > 0 && t <= q.After[i-1] {
			bad("After", pace.FormatTime(t, -1), "times above zero and up to two hours, each later than the last")
		}
	}
	if !q.Date.IsZero() && (q.Date.Year() < minYear || q.Date.Year() > maxYear || !q.Date.Equal(dayOf(q.Date)) || q.Date.Location() != time.UTC) {
		bad("Date", q.Date.String(), "a day at midnight UTC, in the years 1900 to 2199")
	}
	if q.Start == (pace.Pace{}) && q.Best == 0 && q.Threshold == (pace.Pace{}) {
		bad("Start", "no Start, Best or Threshold", "at least one of them")
	}
	return errors.Join(errs...)
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
	drop := q.Drop
	if drop == 0 {
		drop = defaultDrop
	}
	whole := perRepeat(drop) * float64(q.Repeats-1)
	switch {
	case start > 0 && best > 0:
	case threshold > 0 && start > 0:
		best = start + (threshold-start)/thresholdAt
	case threshold > 0 && best > 0:
		start = best + (threshold-best)/(1-thresholdAt)
	case threshold > 0:
		start = threshold + thresholdAt*whole
		best = start - whole
	case start > 0:
		best = start - whole
	default:
		start = best + whole
	}
	show := func(t float64) string { return pace.FormatTime(time.Duration(t).Round(q.Round), -1) }
	for _, t := range []float64{start, best} {
		if v := q.Distance.Metres() / (t / 1e9); !(t > 0 && v >= minSpeed && v <= maxSpeed) {
			err = errors.Join(err, &RequestError{"Start, Best, Drop", fmt.Sprintf("times from %s to %s for %s", show(start), show(best), q.Distance), "paces of 0.2 to 3 m/s"})
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
