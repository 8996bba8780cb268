package zones

import (
	"errors"
	"fmt"
	"math"
	"time"

	"example.com/steptest/pace"
)

// A Set is a training set: so many repeats of a distance in a zone. The zero
// value has no repeats and is refused.
type Set struct {
	Zone     string      `json:"zone"`     // name of a zone of the table
	Repeats  int         `json:"repeats"`  // how many
	Distance pace.Length `json:"distance"` // of each repeat
	// Rest is the least rest before the next send-off. Zero means ten seconds, or
	// any rest if SendOff is given.
	Rest time.Duration `json:"rest_ns,omitzero"`
	// SendOff is the time from the start of one repeat to the start of the next.
	// Zero means that it is worked out: the slowest target plus Rest, rounded up
	// to five seconds.
	SendOff time.Duration `json:"send_off_ns,omitzero"`
	// Slowest is the slowest speed that the send-off allows for [m/s]. Zero means
	// the zone's slow edge or, if that is open, 0.9 of its fast edge, a
	// convention of ours to space the send-offs of easy swimming.
	Slowest pace.Speed `json:"slowest,omitzero"`
}

// A Workout is a set worked out for a swimmer and a pool. The zero value is no
// plan.
type Workout struct {
	Set  Set       `json:"set"`
	Zone Zone      `json:"zone"`
	Pool pace.Pool `json:"pool"`
	// Slow and Fast are the target times of a repeat, to swim in the zone. Zero
	// means that this end is open.
	Slow time.Duration `json:"slow_ns,omitzero"`
	Fast time.Duration `json:"fast_ns,omitzero"`
	// Slowest is the time of a repeat that SendOff allows for.
	Slowest time.Duration `json:"slowest_ns"`
	SendOff time.Duration `json:"send_off_ns"`
	// Rest is what SendOff leaves after a repeat in the time Slowest, and
	// RestFast after one in the time Fast, zero if Fast is open.
	Rest     time.Duration `json:"rest_ns"`
	RestFast time.Duration `json:"rest_fast_ns,omitzero"`
	Distance pace.Length   `json:"distance"` // of the set
	Time     time.Duration `json:"time_ns"`  // of the set, Repeats · SendOff, the last rest included
}

const maxRepeats = 1000

// sendOffStep is what send-offs are rounded up to: common practice.
const sendOffStep = 5 * time.Second

// Workout works a set out. It returns all faults at once: a zone that the table
// does not have ([ErrMissing]), a number of repeats outside 1 to 1000, a
// distance that is not a whole number of lengths ([pace.ErrValue]), a rest or
// send-off that is negative, or a send-off that leaves less than the rest
// ([ErrValue]).
func (t *Table) Workout(s Set, p pace.Pool) (Workout, error) {
	z, err := t.Zone(s.Zone)
	lengths, setErr := s.check(p)
	if err := errors.Join(err, setErr); err != nil {
		return Workout{}, err
	}
	plan := Workout{Set: s, Zone: z, Pool: p, Distance: p.Distance(lengths * s.Repeats)}
	slowest := s.Slowest
	if !z.From.Open() {
		plan.Slow = z.From.Speed.Time(s.Distance)
		if slowest == 0 {
			slowest = z.From.Speed
		}
	}
	if !z.To.Open() {
		plan.Fast = z.To.Speed.Time(s.Distance)
		if slowest == 0 {
			slowest = 0.9 * z.To.Speed
		}
		if !(slowest < z.To.Speed) {
			return Workout{}, faultf(ErrValue, "slowest speed: found %v m/s, want one below the fast edge of zone %s, %v m/s", float64(slowest), z.Name, float64(z.To.Speed))
		}
	}
	if slowest == 0 {
		return Workout{}, faultf(ErrMissing, "found no slowest speed, want one: zone %s is open at both ends", z.Name)
	}
	plan.Slowest = slowest.Time(s.Distance)
	if plan.Slowest > 12*time.Hour {
		return Workout{}, faultf(ErrValue, "slowest speed: found %v, want one at which %v take at most 12 h", slowest, s.Distance)
	}
	rest := s.Rest
	if rest == 0 && s.SendOff == 0 {
		rest = 10 * time.Second
	}
	plan.SendOff = s.SendOff
	if plan.SendOff == 0 {
		plan.SendOff = (plan.Slowest + rest + sendOffStep - 1) / sendOffStep * sendOffStep
	}
	plan.Rest = plan.SendOff - plan.Slowest
	if plan.Rest < rest {
		return Workout{}, faultf(ErrValue, "send-off: found %s, want %s or more: %v takes up to %s in zone %s, and %s of rest follow",
			pace.FormatTime(s.SendOff, -1), pace.FormatTime(plan.Slowest+rest, 1), s.Distance, pace.FormatTime(plan.Slowest, 1), z.Name, pace.FormatTime(rest, -1))
	}
	if plan.Fast != 0 {
		plan.RestFast = plan.SendOff - plan.Fast
	}
	plan.Time = time.Duration(s.Repeats) * plan.SendOff
	return plan, nil
}

// check counts the lengths of a repeat. The error joins all that is wrong with the set,
// whatever its zone.
func (s Set) check(p pace.Pool) (lengths int, err error) {
	var errs []error
	if !s.countable() {
		errs = append(errs, faultf(ErrValue, "set: found %d repeats, want 1 to %d", s.Repeats, maxRepeats))
	}
	lengths, err = p.Lengths(s.Distance)
	if err != nil {
		errs = append(errs, faultf(err, "set: %s", plain(err)))
	}
	if s.Rest < 0 || s.Rest > time.Hour || s.SendOff < 0 || s.SendOff > 24*time.Hour {
		errs = append(errs, faultf(ErrValue, "set: found a rest of %v and a send-off of %v, want 0 to 1 h and 0 to 24 h", s.Rest, s.SendOff))
	}
	if s.Slowest != 0 && !positive(float64(s.Slowest)) {
		errs = append(errs, faultf(ErrValue, "slowest speed: found %v m/s, want a positive one", float64(s.Slowest)))
	}
	return lengths, errors.Join(errs...)
}

// countable reports whether the set has a number of repeats that a workout can have: one
// read from JSON may have another.
func (s Set) countable() bool { return s.Repeats >= 1 && s.Repeats <= maxRepeats }

// Swims returns the repeats as planned, each at the middle of its targets: the
// mean of slow and fast speed, of the slowest and fast if the slow end is
// open, and the slow edge itself if the fast end is open. They are what
// [Table.Distribute] counts for a set that has not been swum yet.
func (p Workout) Swims() []Repeat {
	d := p.Set.Distance
	if !p.Set.countable() || p.Slowest <= 0 {
		return nil
	}
	slow := float64(d) / p.Slowest.Seconds()
	if p.Slow != 0 {
		slow = float64(p.Zone.From.Speed)
	}
	v := slow
	if !p.Zone.To.Open() {
		v = (slow + float64(p.Zone.To.Speed)) / 2
	}
	r := Repeat{Distance: d, Time: pace.Speed(v).Time(d)}
	// A time is whole nanoseconds; at an edge, stay on its fast side.
	if w, err := pace.MeanSpeed(d, r.Time); err == nil && !p.Zone.Contains(w) {
		r.Time--
	}
	swims := make([]Repeat, p.Set.Repeats)
	for i := range swims {
		swims[i] = r
	}
	return swims
}

// Target prints the target times of a repeat to a tenth of a second, slow end
// first: "2:46.3–2:32.4", "5:32.0 or slower", "2:30.0 or faster".
func (p Workout) Target() string {
	slow, fast := pace.FormatTime(p.Slow, 1), pace.FormatTime(p.Fast, 1)
	switch {
	case p.Slow == 0 && p.Fast == 0:
		return "any time"
	case p.Slow == 0:
		return fast + " or slower"
	case p.Fast == 0:
		return slow + " or faster"
	}
	return slow + "–" + fast
}

// String prints the plan on a line, rest rounded down to seconds: "8 × 200 yd on
// 3:00, zone 2 (LT1–LT2): 2:46.3–2:32.4, rest 13–27 s; 1600 yd in 24:00". If
// the slow end is open, the rest is that down to the time Slowest.
func (p Workout) String() string {
	rest := fmt.Sprintf("%.0f", math.Floor(p.Rest.Seconds()))
	switch {
	case p.Fast == 0:
		rest += " s or more"
	case p.RestFast != p.Rest:
		rest += fmt.Sprintf("–%.0f s", math.Floor(p.RestFast.Seconds()))
	default:
		rest += " s"
	}
	if p.Slow == 0 {
		rest += " down to " + pace.FormatTime(p.Slowest, 1)
	}
	return fmt.Sprintf("%d × %v on %s, zone %s (%s): %s, rest %s; %v in %s",
		p.Set.Repeats, p.Set.Distance, pace.FormatTime(p.SendOff, 0), p.Zone.Name, p.Zone.AnchorRange(), p.Target(), rest,
		p.Distance, pace.FormatTime(p.Time, 0))
}
