package protocol

import (
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate"
)

// Aim is what a plan is to estimate as narrowly as can be. The zero value is
// NarrowLT2.
type Aim int

// The aims.
const (
	NarrowLT2 Aim = iota
	NarrowLT1
	NarrowShift
	aims
)

func (a Aim) String() string {
	switch a {
	case NarrowLT2:
		return "LT2"
	case NarrowLT1:
		return "LT1"
	case NarrowShift:
		return "shift of the curve"
	}
	return fmt.Sprintf("Aim(%d)", int(a))
}

// MarshalText writes the aim as String does. It returns an error for an aim that
// is none.
func (a Aim) MarshalText() ([]byte, error) {
	if a < 0 || a >= aims {
		return nil, fmt.Errorf("protocol: found %v, want NarrowLT2, NarrowLT1 or NarrowShift", a)
	}
	return []byte(a.String()), nil
}

// UnmarshalText reads what MarshalText writes.
func (a *Aim) UnmarshalText(text []byte) error {
	for b := range aims {
		if string(text) == b.String() {
			*a = b
			return nil
		}
	}
	return fmt.Errorf("protocol: aim: found %q, want %q, %q or %q", shorten(string(text)), NarrowLT2, NarrowLT1, NarrowShift)
}

// Rules are what a swimmer can swim. The zero value is the documented default.
type Rules struct {
	// Least is by how much each repeat must be faster than the last. Zero
	// means half a second per 100 yd or m, as the pool is: 2 s on a 400.
	Least time.Duration `json:"least_ns,omitzero"`
	// Round is what the targets are rounded to. Zero means 1 s.
	Round time.Duration `json:"round_ns,omitzero"`
	// Enough is how much wider an interval may be for want of the repeats that
	// are left, see [Advice]. Zero means 0.10: a tenth.
	Enough float64 `json:"enough,omitzero"`
}

// Better is a plan beside even steps with the same number of repeats between
// the same ends. The zero value is no plan.
type Better struct {
	// Plan is the better one, or the one with even steps where that is as good.
	Plan Plan `json:"plan"`
	// Even is the plan with even steps.
	Even Plan `json:"even"`
	// LT1, LT2 and Shift say how wide the intervals of Plan are, those of Even
	// being 1, averaged over what is believed of the swimmer.
	LT1   float64 `json:"lt1_width"`
	LT2   float64 `json:"lt2_width"`
	Shift float64 `json:"shift_width"`
	// AsGood says that no plan within the rules is narrower than even steps by
	// a twentieth or more, without another estimate becoming wider: Plan is
	// Even then.
	AsGood bool `json:"as_good,omitzero"`
}

const (
	mostRepeats = 12   // for which a better plan is searched
	worthwhile  = 0.95 // of the width with even steps
)

// Better places the repeats between the first and the last to make one estimate
// as narrow as possible (c-optimal design, averaged over what is believed of the
// swimmer), without widening the other two: of LT1, LT2 and the shift beside a
// test with even steps, or beside the last of the earlier tests. Rests stay as
// they are, or the send-off does where all repeats have one.
//
// The search exchanges one or two targets at a time, from several starts; it is
// deterministic, and takes a fraction of a second. It knows the exponential
// curve, and methods that read nothing but the curve between the ends of the
// test; the error, which wraps [ErrForecast], says so for others. It needs 4 to
// 12 repeats of one distance, each faster than the last.
func (p Plan) Better(aim Aim, e Expected, o lactate.Options, r Rules) (*Better, error) {
	o, err := withDefaults(o)
	if err != nil {
		return nil, err
	}
	if err := p.forecastable(4); err != nil {
		return nil, err
	}
	if err := p.searchable(aim); err != nil {
		return nil, err
	}
	r, err = r.withDefaults(p)
	if err != nil {
		return nil, err
	}
	known, err := e.belief(p.final(), nil, o)
	if err != nil {
		return nil, err
	}
	all, err := known.candidates(searchNodes)
	if err != nil {
		return nil, err
	}
	even := p.with(evenTimes(p.times(), r.Round))
	s, err := newSearch(even, all, e, o, aim)
	if err != nil {
		return nil, err
	}
	times, ok := s.run(even.times(), 1, r)
	if !ok {
		return nil, fmt.Errorf("%w: %d repeats that are %s apart, or more, do not fit between %s and %s", ErrForecast, len(p.Repeats),
			r.Least, even.Repeats[0].Time, even.Repeats[len(even.Repeats)-1].Time)
	}
	b := &Better{Plan: p.with(times), Even: even, LT1: 1, LT2: 1, Shift: 1}
	ratios, _ := s.ratios(times)
	if ratios[aim] > worthwhile || slices.ContainsFunc(ratios[:], func(v float64) bool { return !(v <= 1+1e-9) }) {
		b.Plan, b.AsGood = even, true
		return b, nil
	}
	b.LT2, b.LT1, b.Shift = ratios[NarrowLT2], ratios[NarrowLT1], ratios[NarrowShift]
	return b, nil
}

func (p Plan) searchable(aim Aim) error {
	if aim < 0 || aim >= aims {
		return fmt.Errorf("%w: found %v, want NarrowLT2, NarrowLT1 or NarrowShift", ErrForecast, aim)
	}
	if n := len(p.Repeats); n > mostRepeats {
		return fmt.Errorf("%w: found %d repeats, want no more than %d", ErrForecast, n, mostRepeats)
	}
	for _, t := range p.Repeats {
		if t.Distance != p.Repeats[0].Distance {
			return fmt.Errorf("%w: repeat %d is of another distance than the first", ErrForecast, t.Number)
		}
	}
	return nil
}

func (r Rules) withDefaults(p Plan) (Rules, error) {
	if r.Least == 0 {
		r.Least = time.Duration(float64(time.Second) / 2 * float64(p.Repeats[0].Distance/p.Pool.Per100()))
	}
	if r.Round == 0 {
		r.Round = time.Second
	}
	if r.Enough == 0 {
		r.Enough = 0.10
	}
	if !(r.Enough >= 0) {
		return r, fmt.Errorf("%w: found %g as the width that is enough, want a share above zero", ErrForecast, r.Enough)
	}
	if r.Least < 0 || r.Round < time.Millisecond || r.Round > time.Minute {
		return r, fmt.Errorf("%w: found rules %+v, want a least step above zero and rounding to 1 ms to 1 min", ErrForecast, r)
	}
	r.Least = max(r.Least, r.Round)
	return r, nil
}

func (p Plan) times() []time.Duration {
	out := make([]time.Duration, len(p.Repeats))
	for i, t := range p.Repeats {
		out[i] = t.Time
	}
	return out
}

// with returns the plan with other targets, its rests or its send-off kept.
func (p Plan) with(times []time.Duration) Plan {
	rests := p.Rest()
	sendOff := time.Duration(0)
	same := true
	for i := 1; i < len(p.Repeats); i++ {
		gap := p.Repeats[i].Leave - p.Repeats[i-1].Leave
		same = same && (i == 1 || gap == sendOff)
		sendOff = gap
	}
	p.Repeats = slices.Clone(p.Repeats)
	p.After = slices.Clone(p.After)
	leave := time.Duration(0)
	for i, t := range times {
		p.Repeats[i].Time, p.Repeats[i].Leave = t, leave
		if i < len(rests) {
			if same && len(times) > 2 {
				leave += sendOff
			} else {
				leave += t + rests[i]
			}
		}
	}
	return p
}

// evenTimes puts the times between the first and the last at even steps. The
// ends stay as they are.
func evenTimes(times []time.Duration, round time.Duration) []time.Duration {
	n := len(times)
	out := slices.Clone(times)
	for i := 1; i < n-1; i++ {
		u := float64(i) / float64(n-1)
		out[i] = time.Duration(math.Round(float64(times[0]) + u*float64(times[n-1]-times[0]))).Round(round)
	}
	return out
}
