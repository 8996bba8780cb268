package protocol

import (
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// Defaults of a [Request], common practice.
const (
	defaultRest  = 70 * time.Second
	defaultWeeks = 6
)

// firstShare is the speed of the first repeat as a share of the last one's. It lies
// below LT1 for most of the swimmers that package lactate/forecast believes in, see
// TestFirstRepeatLiesBelowLT1. 7 × 200 m in steps of 5 s to a best of 2:00 begin at 0.80
// (common practice).
const firstShare = 0.82

// thresholdAt is how far up the range of times LT2 is expected, if the first repeat is
// swum at firstShare: the mean of those swimmers, see the same test.
const thresholdAt = 0.7

// Request is what a swimmer knows and wants of a step test. The zero value is
// refused: it needs at least a pool, and either a number of repeats with one of
// Start, Best and Threshold, or Speeds. What the last test says is put in by
// [Request.FromLast].
//
// The targets fall evenly in pace from the first repeat to the last. One of Start and
// Best says the other: the first repeat is swum at 0.82 of the speed of the
// last, slow enough to lie below LT1 for most swimmers, and the steps follow. Start
// and Best say both; with one of them, Drop says where the targets go, or come from.
// Threshold, if only one of Start and Best is given, or neither, puts LT2 seven
// tenths of the way up.
type Request struct {
	// Swimmer and Date (a day, at midnight UTC) go on the sheet. Zero means
	// that the plan is for nobody, or no day, in particular.
	Swimmer string    `json:"swimmer,omitzero"`
	Date    time.Time `json:"date,omitzero"`
	Pool    pace.Pool `json:"pool"`
	// Repeats, two or more; zero is refused. Six of 400 is common practice.
	Repeats int `json:"repeats,omitzero"`
	// Distance of each repeat, a whole number of lengths. Zero means 400 yd or
	// m, as the pool is.
	Distance pace.Length `json:"distance,omitzero"`
	// Start is the pace of the first repeat. Zero means that it follows from
	// the others.
	Start pace.Pace `json:"start,omitzero"`
	// Drop is how much faster each repeat is than the last, per 100 yd or m,
	// as the pool is; 2.5 s is common practice. Zero means that it follows from the
	// range.
	Drop time.Duration `json:"drop_ns,omitzero"`
	// Best is what is expected of the last repeat, which is swum all out: a
	// recent best for the distance. Zero means that it follows from the others.
	Best time.Duration `json:"best_ns,omitzero"`
	// Threshold is the expected pace at LT2, as from the last test. Zero means
	// unknown.
	Threshold pace.Pace `json:"threshold,omitzero"`
	// Rest between repeats, from touch to push-off. Zero means 70 s, or that
	// SendOff is given.
	Rest time.Duration `json:"rest_ns,omitzero"`
	// SendOff is the time from the start of a repeat to the start of the next,
	// the same for all. Zero means that Rest counts.
	SendOff time.Duration `json:"send_off_ns,omitzero"`
	// WarmUp is the distance swum easily before the test. Zero means the whole
	// number of lengths at or below 800 yd or m.
	WarmUp pace.Length `json:"warm_up,omitzero"`
	// After is when samples are taken after the last repeat. Nil means 1, 3, 5
	// and 7 min; an empty slice means one sample only, as after the others.
	After []time.Duration `json:"after_ns,omitzero"`
	// Round is what the targets are rounded to. Zero means 1 s.
	Round time.Duration `json:"round_ns,omitzero"`
	// Weeks to the next test. Zero means 6; six to eight is common practice.
	Weeks int `json:"weeks,omitzero"`
	// Speeds, one for each repeat, are taken as they stand, instead of Start,
	// Drop, Best and Threshold; Repeats may then be zero. A last speed of zero
	// leaves the last repeat, swum all out, without a target. Nil means none.
	Speeds []pace.Speed `json:"speeds,omitzero"`
}

// RequestError is one reason why a [Request] makes no plan. Errors hold a pointer
// to it, which is what errors.As finds. The zero value is no reason.
type RequestError struct {
	Field string // name of the field of Request
	Found string
	Want  string
}

func (e *RequestError) Error() string {
	return fmt.Sprintf("protocol: plan: %s: found %s, want %s", e.Field, table.Short(e.Found, 200), table.Short(e.Want, 1000))
}

// NewPlan makes a plan. The error joins a [*RequestError] for everything that
// is wrong with the request.
func NewPlan(q Request) (Plan, error) {
	q = q.withDefaults()
	if err := q.check(); err != nil {
		return Plan{}, err
	}
	times, err := q.times()
	if err != nil {
		return Plan{}, err
	}
	p := Plan{Swimmer: q.Swimmer, Date: q.Date, Pool: q.Pool, WarmUp: q.WarmUp, After: slices.Clone(q.After)}
	leave := time.Duration(0)
	for i, t := range times {
		p.Repeats = append(p.Repeats, Target{Number: i + 1, Distance: q.Distance, Time: t, AllOut: i == len(times)-1, Leave: leave})
		rest := q.Rest
		if q.SendOff > 0 {
			rest = q.SendOff - t
		}
		if rest < 0 && i < len(times)-1 {
			return Plan{}, &RequestError{"SendOff", pace.FormatTime(q.SendOff, -1), fmt.Sprintf("no less than the time of repeat %d, %s", i+1, pace.FormatTime(t, -1))}
		}
		leave += t + rest
	}
	if !q.Date.IsZero() {
		p.Next = q.Date.AddDate(0, 0, 7*q.Weeks)
	}
	return p, nil
}

// times returns the rounded targets. Rounding keeps their order, so that no
// repeat becomes slower than the one before.
func (q Request) times() ([]time.Duration, error) {
	if q.Speeds != nil {
		out := make([]time.Duration, len(q.Speeds))
		for i, v := range q.Speeds {
			if v > 0 {
				out[i] = v.Time(q.Distance).Round(q.Round)
			}
		}
		return out, nil
	}
	first, last, err := q.ends()
	if err != nil {
		return nil, err
	}
	out := make([]time.Duration, q.Repeats)
	for i := range out {
		u := float64(i) / float64(q.Repeats-1)
		out[i] = time.Duration(math.Round(float64(first) + u*float64(last-first))).Round(q.Round)
	}
	return out, nil
}

// FromLast puts the ends of the last test into the request, over the distance of
// the request: Start and Best at the speeds of its slowest and fastest stage.
// Dmax depends on where a test starts and ends: two tests compare best between the
// same ends. [Plan.Review] tells whether they still bracket the threshold. The test must have speeds as intensities: m/s, as
// [Record.Test] makes them, or km/h if its unit says so.
// Nil, or another unit, changes nothing.
func (q Request) FromLast(a *lactate.Analysis) Request {
	unit := 1.0
	switch {
	case a == nil:
		return q
	case a.Unit == lactate.KilometresPerHour:
		unit = 1 / 3.6
	case a.Unit != "" && a.Unit != lactate.MetresPerSecond:
		return q
	}
	q.Start = pace.Speed(a.Lowest * unit).Pace(q.Pool.Per100())
	q.Best = pace.Speed(a.Highest * unit).Time(q.withDefaults().Distance)
	q.Threshold, q.Drop = pace.Pace{}, 0
	return q
}
