package forecast

import (
	"fmt"
	"slices"

	"example.com/steptest/lactate"
)

// Design is a test beside one of even steps, with as many stages between the same
// ends. The zero value is no test.
type Design struct {
	// Stages are the better ones, or those with even steps if they are as good.
	Stages []lactate.Stage `json:"stages"`
	// Even are the stages with even steps.
	Even []lactate.Stage `json:"even"`
	// LT1, LT2 and Shift say how wide the intervals of Stages are, those of Even
	// being 1, averaged over the posterior of the swimmer's curve.
	LT1   float64 `json:"lt1_width"`
	LT2   float64 `json:"lt2_width"`
	Shift float64 `json:"shift_width"`
	// AsGood says that no stages within the rules are narrower than even steps by a
	// twentieth or more, without another estimate becoming wider: Stages is Even
	// then.
	AsGood bool `json:"as_good,omitzero"`
}

// worthwhile is the width of a better design, that with even steps being 1.
const worthwhile = 0.95

// Better places the stages between the first and the last to make one estimate as
// narrow as possible (c-optimal design, averaged over the posterior of the swimmer's
// curve), without widening the other two: of LT1, LT2 and the shift beside a test
// with even steps, or beside the last of the earlier tests.
//
// The search exchanges one or two targets at a time, from several starts; it is
// deterministic, and takes a fraction of a second. It knows the exponential curve,
// and methods that read nothing but the curve between the ends of the test; for
// others the error says so. It needs 4 to 12 stages of one distance (intensity times
// duration), each faster than the last. The error wraps [ErrNoAnswer].
func Better(stages []lactate.Stage, aim Aim, e Expected, o lactate.Options, r Rules) (*Design, error) {
	o, err := options(o)
	if err != nil {
		return nil, err
	}
	if err := check(stages); err != nil {
		return nil, err
	}
	distance, err := searchable(stages, aim)
	if err != nil {
		return nil, err
	}
	r, err = r.withDefaults(distance)
	if err != nil {
		return nil, err
	}
	known, err := e.posterior(final(stages), nil, o)
	if err != nil {
		return nil, err
	}
	all, err := known.candidates(searchNodes)
	if err != nil {
		return nil, err
	}
	even := evenly(durations(stages), r.Round)
	s, err := newSearch(distance, even, all, e, o, aim)
	if err != nil {
		return nil, err
	}
	times, ok := s.run(even, 1, r)
	if !ok {
		return nil, fmt.Errorf("%w: targets that are %s apart, or more, do not fit between %s and %s", ErrNoAnswer, r.Least, even[0], even[len(even)-1])
	}
	d := &Design{Stages: over(distance, times), Even: over(distance, even), LT1: 1, LT2: 1, Shift: 1}
	ratios, _ := s.ratios(times)
	if ratios[aim] > worthwhile || slices.ContainsFunc(ratios[:], func(v float64) bool { return !(v <= 1+1e-9) }) {
		d.Stages, d.AsGood = slices.Clone(d.Even), true
		return d, nil
	}
	d.LT2, d.LT1, d.Shift = ratios[NarrowLT2], ratios[NarrowLT1], ratios[NarrowShift]
	return d, nil
}
