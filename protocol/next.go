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
	// Enough, Width and AllOutWidth are those of [forecast.Advice]: whether the
	// all-out repeat next would tell nearly as much as all that are left, and the
	// widths of the interval of the aim [m/s].
	Enough      bool    `json:"enough,omitzero"`
	Width       float64 `json:"width_m_per_s,omitzero"`
	AllOutWidth float64 `json:"all_out_width_m_per_s,omitzero"`
	// Plan is the test as it stands: what was swum, and new targets for the
	// rest.
	Plan Plan `json:"plan"`
}

// NextRepeat places the repeats that are left of a test, given those that were
// swum: [forecast.Next]. Repeats are swum in order; the first that has no time in the
// record is the next. A repeat without lactate counts as lost, but the latest as one
// whose sample is still in the analyser. The error wraps [forecast.ErrNoAnswer]; it
// also says if the record is not of this plan.
func (p Plan) NextRepeat(r Record, aim forecast.Aim, e forecast.Expected, o lactate.Options, rules forecast.Rules) (*Advice, error) {
	if _, err := p.Match(r); err != nil {
		return nil, fmt.Errorf("%w: %w", forecast.ErrNoAnswer, err)
	}
	swum, err := p.swum(r)
	if err != nil {
		return nil, err
	}
	f, err := forecast.Next(p.stages(), swum, aim, e, o, p.rules(rules))
	if err != nil {
		return nil, p.inRepeats(err)
	}
	a := &Advice{Left: f.Left, Enough: f.Enough, Width: f.Width, AllOutWidth: f.AllOutWidth, Plan: p.with(f.Stages)}
	if f.Next >= 0 {
		a.Next = a.Plan.Repeats[f.Next]
		a.Next.Leave = a.Plan.Repeats[len(swum)].Leave // also if those between are left out
	}
	return a, nil
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
