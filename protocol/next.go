package protocol

import (
	"fmt"
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
)

// Advice is what to swim next, in the middle of a test: [forecast.Advice] on a plan.
// The zero value advises nothing.
type Advice struct {
	// Next is the repeat to swim now; its Number is zero if none is left.
	Next Target `json:"next"`
	// Left is how many repeats are left, Next among them.
	Left int `json:"left"`
	// Reason, Enough, LT1 and LT2 are those of [forecast.Advice]: why the targets are
	// what they are, whether the all-out repeat next would tell nearly as much as all
	// that are left, and the expected widths of the intervals [m/s].
	Reason forecast.Reason `json:"reason"`
	Enough bool            `json:"enough,omitzero"`
	LT1    forecast.Widths `json:"lt1"`
	LT2    forecast.Widths `json:"lt2"`
	// Lactate is what the sample of Next is expected to show [mmol/L].
	Lactate lactate.Estimate `json:"lactate_mmol_per_l,omitzero"`
	// Plan is the test as it stands: what was swum, and new targets for the
	// rest.
	Plan Plan `json:"plan"`
}

// NextRepeat says how to go on with a test, given the repeats that were swum:
// [forecast.Next]. Repeats are swum in order; the first that has no time in the
// record is the next. A repeat without lactate counts as lost, but the latest as one
// whose sample is still in the analyser. The error wraps [forecast.ErrNoAnswer]; it
// also says if the record is not of this plan.
func (p Plan) NextRepeat(r Record, e forecast.Expected, o lactate.Options, rules forecast.Rules) (*Advice, error) {
	if _, err := p.Match(r); err != nil {
		return nil, fmt.Errorf("%w: %w", forecast.ErrNoAnswer, err)
	}
	swum, err := p.swum(r)
	if err != nil {
		return nil, err
	}
	f, err := forecast.Next(p.stages(), swum, e, o, p.rules(rules))
	if err != nil {
		return nil, p.inRepeats(err)
	}
	a := &Advice{Left: f.Left, Reason: f.Reason, Enough: f.Enough, LT1: f.LT1, LT2: f.LT2, Lactate: f.Lactate, Plan: p.with(f.Stages)}
	if f.Next >= 0 {
		a.Next = a.Plan.Repeats[f.Next]
		a.Next.Leave = a.Plan.Repeats[len(swum)].Leave // also if those between are left out
	}
	return a, nil
}

// ExpectedSample returns the lactate that a repeat of the record is expected to show at
// the speed at which it was swum, with the interval that holds it at
// Options.Confidence, given the repeats before it: [forecast.Sample].
func (p Plan) ExpectedSample(r Record, number int, e forecast.Expected, o lactate.Options) (lactate.Estimate, error) {
	i := slices.IndexFunc(r.Repeats, func(rep Repeat) bool { return rep.Number == number })
	if i < 0 {
		return lactate.Estimate{}, fmt.Errorf("%w: found no repeat %d in the record", forecast.ErrNoAnswer, number)
	}
	v, err := r.Repeats[i].Speed()
	if err != nil {
		return lactate.Estimate{}, fmt.Errorf("%w: repeat %d: %w", forecast.ErrNoAnswer, number, err)
	}
	r.Repeats = r.Repeats[:i]
	swum, err := p.swum(r)
	if err != nil {
		return lactate.Estimate{}, err
	}
	out, err := forecast.Sample(p.stages(), swum, v.MetresPerSecond(), e, o)
	return out, p.inRepeats(err)
}

// Unexpected says of the sample of a repeat that it is not what the repeats before it
// let expect (at 99 %), and what to do; empty if it is, or if nothing is expected.
func (r Record) Unexpected(number int, known forecast.Expected) string {
	i := slices.IndexFunc(r.Repeats, func(rep Repeat) bool { return rep.Number == number })
	if i < 0 || r.Repeats[i].Lactate == 0 {
		return ""
	}
	plan := r.Plan()
	for k, rep := range r.Repeats {
		if rep.Target == 0 {
			plan.Repeats[k].Time = rep.Time // written down without a plan
		}
	}
	e, err := plan.ExpectedSample(r, number, known, lactate.Options{Confidence: 0.99})
	y := r.Repeats[i].Lactate
	if err != nil || y >= e.Low && y <= e.High {
		return ""
	}
	after := ""
	if i > 0 && r.Repeats[i-1].Lactate > 0 {
		after = fmt.Sprintf(" after %.1f", r.Repeats[i-1].Lactate)
	}
	return fmt.Sprintf("%.1f%s, where %.1f to %.1f mmol/L was expected (99 %%): take it again, with clean dry skin and the first drop wiped off", y, after, e.Low, e.High)
}

// swum returns the repeats that were swum as stages. The error says if they were
// not swum in order.
func (p Plan) swum(r Record) ([]lactate.Stage, error) {
	var out []lactate.Stage
	for i, t := range p.Repeats {
		k := slices.IndexFunc(r.Repeats, func(rep Repeat) bool { return rep.Number == t.Number && rep.Time > 0 })
		if k < 0 {
			continue
		}
		if i != len(out) {
			return nil, fmt.Errorf("%w: repeat %d was swum before repeat %d", forecast.ErrNoAnswer, t.Number, p.Repeats[len(out)].Number)
		}
		rep := r.Repeats[k]
		v, err := rep.Speed()
		if err != nil {
			return nil, fmt.Errorf("%w: repeat %d: %w", forecast.ErrNoAnswer, t.Number, err)
		}
		s := lactate.Stage{Intensity: v.MetresPerSecond(), Duration: rep.Time}
		if rep.Lactate > 0 {
			s.Lactate = rep.Lactate
		}
		out = append(out, s)
	}
	return out, nil
}
