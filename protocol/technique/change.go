package technique

import (
	"errors"
	"fmt"
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// Change is how a swimmer's stroke at one mean speed changed between two
// tests. The zero value is no change at no speed.
type Change struct {
	Speed  pace.Speed `json:"speed"` // mean of a repeat [m/s]
	Before Stroke     `json:"before"`
	After  Stroke     `json:"after"`
	// Rate [1/min], Length [m] and Index [m²/s] of After minus those of Before.
	// The intervals hold the errors of count and watch of both tests, not how a
	// swimmer differs from day to day.
	Rate   lactate.Estimate `json:"stroke_rate_change_per_min"`
	Length lactate.Estimate `json:"stroke_length_change_m"`
	Index  lactate.Estimate `json:"stroke_index_change_m2_per_s"`
	// SegmentsDiffer says that the two tests were measured between other marks, or
	// otherwise ([Basis]).
	SegmentsDiffer bool `json:"segments_differ,omitempty"`
}

// Compare returns the change of the stroke at equal mean speed from one test to
// another of the same pool, both read as by [Profile.At]. Confidence, resamples
// and seed are those of the first test. There is an interval if both have
// resamples. A longer stroke at a lower rate and the same speed is what coaches
// look for (common practice).
//
// The error joins a [*lactate.OutsideRangeError] for each test that does not
// reach the speed. Tests in pools of different length are refused: push-offs and
// turns make equal mean speeds different swimming.
func Compare(before, after *Profile, v pace.Speed) (Change, error) {
	if before == nil || after == nil {
		return Change{}, errors.New("technique: found nil, want two tests to compare")
	}
	if before.Pool != after.Pool {
		return Change{}, fmt.Errorf("technique: found pools of %v and %v, want the same: turns make equal speeds different swimming", before.Pool, after.Pool)
	}
	wb, errB := before.weights(v)
	wa, errA := after.weights(v)
	if errB != nil {
		errB = fmt.Errorf("first test: %w", errB)
	}
	if errA != nil {
		errA = fmt.Errorf("second test: %w", errA)
	}
	if err := errors.Join(errB, errA); err != nil {
		return Change{}, err
	}
	n := min(before.opts.Resamples, after.opts.Resamples)
	second := *after // with its own errors, and the rest from the first
	second.opts.Confidence, second.opts.Seed = before.opts.Confidence, before.opts.Seed
	mb, ma := before.measured(), after.measured()
	db, da := before.simulate(mb, n, streamBefore), second.simulate(ma, n, streamAfter)
	change := func(q quantity) lactate.Estimate {
		b, bs := before.weighted(q, wb, mb, db)
		a, as := second.weighted(q, wa, ma, da)
		for k := range as {
			as[k] -= bs[k]
		}
		return around(a-b, as, before.opts.Confidence)
	}
	return Change{
		Speed:  v,
		Before: before.strokeFrom(v, wb, mb, db), After: second.strokeFrom(v, wa, ma, da),
		Rate: change(rateOf), Length: change(lengthOf), Index: change(indexOf),
		SegmentsDiffer: before.Basis != after.Basis || math.Abs(float64(before.Segment-after.Segment)) > 1e-9*float64(before.Segment),
	}, nil
}
