package protocol

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
)

// Outlook returns what the plan will be able to tell of a swimmer: [forecast.Of] its
// repeats. It needs four or more, each with a target and faster than the last. The
// error wraps [forecast.ErrNoAnswer].
func (p Plan) Outlook(e forecast.Expected, o lactate.Options) (*forecast.Outlook, error) {
	out, err := forecast.Of(p.stages(), e, o)
	return out, p.inRepeats(err)
}

// Spacing is a plan beside even steps with the same number of repeats between the
// same ends. The zero value is no plan.
type Spacing struct {
	// Plan is the one spaced to tell more, or the one with even steps if that is as
	// good.
	Plan Plan `json:"plan"`
	// Even is the plan with even steps.
	Even Plan `json:"even"`
	// LT1, LT2 and AsGood are those of [forecast.Spacing]: widths of Plan, those of
	// Even being 1, and whether Plan is Even.
	LT1    float64 `json:"lt1_width"`
	LT2    float64 `json:"lt2_width"`
	AsGood bool    `json:"as_good,omitzero"`
}

// Space places the repeats between the first and the last for narrow intervals of LT1
// and LT2: [forecast.Space], with a zero Rules.Least of one second per 100 of the pool.
// Rests stay as they are, or the send-off does if all repeats have one. It needs 4 to
// 12 repeats of one distance, each faster than the last. The error wraps
// [forecast.ErrNoAnswer].
func (p Plan) Space(e forecast.Expected, o lactate.Options, r forecast.Rules) (*Spacing, error) {
	d, err := forecast.Space(p.stages(), e, o, p.rules(r))
	if err != nil {
		return nil, p.inRepeats(err)
	}
	return &Spacing{Plan: p.with(d.Stages), Even: p.with(d.Even), LT1: d.LT1, LT2: d.LT2, AsGood: d.AsGood}, nil
}

// stages are the repeats as stages of a test; one without a target has no intensity.
func (p Plan) stages() []lactate.Stage {
	out := make([]lactate.Stage, len(p.Repeats))
	for i, t := range p.Repeats {
		out[i] = lactate.Stage{Intensity: t.speed().MetresPerSecond(), Duration: t.Time}
	}
	return out
}

// rules fills in the least step, which depends on the pool.
func (p Plan) rules(r forecast.Rules) forecast.Rules {
	if r.Least == 0 && len(p.Repeats) > 0 {
		r.Least = time.Duration(float64(time.Second) * float64(p.Repeats[0].Distance/p.Pool.Per100()))
	}
	return r
}

// inRepeats names the repeat that an error is about.
func (p Plan) inRepeats(err error) error {
	var e *forecast.StageError
	if !errors.As(err, &e) {
		return err
	}
	number := 0
	if e.Index >= 0 {
		number = p.Repeats[e.Index].Number
	}
	return fmt.Errorf("%w: %s", forecast.ErrNoAnswer, e.Say("repeat", number))
}

// with returns the plan with the times of the stages as targets, its rests or its
// send-off kept.
func (p Plan) with(stages []lactate.Stage) Plan {
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
	for i, s := range stages {
		p.Repeats[i].Time, p.Repeats[i].Leave = s.Duration, leave
		if i < len(rests) {
			if same && len(stages) > 2 {
				leave += sendOff
			} else {
				leave += s.Duration + rests[i]
			}
		}
	}
	return p
}
