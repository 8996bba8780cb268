package protocol

import (
	"fmt"
	"slices"
	"time"

	"example.com/steptest/protocol/internal/form"
)

// Deviation is one repeat of a plan beside what was swum. The zero value says
// nothing.
type Deviation struct {
	Number  int           `json:"repeat"`
	Target  time.Duration `json:"target_ns,omitzero"` // zero means none
	Time    time.Duration `json:"time_ns,omitzero"`   // zero means not swum
	Missing bool          `json:"missing,omitzero"`   // planned, but not in the record or not swum
	Extra   bool          `json:"extra,omitzero"`     // swum, but not planned
	// Late is time minus target, above zero where the repeat was slower. It
	// is zero where either is.
	Late time.Duration `json:"late_ns,omitzero"`
	// Percent is by how much the speed was above the target's [%]; zero where
	// either is missing.
	Percent float64 `json:"percent,omitzero"`
}

// Match sets the repeats of a record beside those of the plan, by number, and
// says how far each was from its target. The error says where the two are not
// of the same test: another swimmer, pool, or distance of a repeat.
func (p Plan) Match(r Record) ([]Deviation, error) {
	if p.Swimmer != "" && FoldName(p.Swimmer) != FoldName(r.Swimmer) {
		return nil, fmt.Errorf("protocol: match: found a record of %q, want %q as in the plan", form.Shorten(r.Swimmer), form.Shorten(p.Swimmer))
	}
	if p.Pool != r.Pool {
		return nil, fmt.Errorf("protocol: match: found a record from a %s pool, want %s as in the plan", r.Pool, p.Pool)
	}
	var out []Deviation
	for _, t := range p.Repeats {
		d := Deviation{Number: t.Number, Target: t.Time, Missing: true}
		i := slices.IndexFunc(r.Repeats, func(rep Repeat) bool { return rep.Number == t.Number })
		if i >= 0 {
			rep := r.Repeats[i]
			if rep.Distance != t.Distance {
				return nil, fmt.Errorf("protocol: match: found repeat %d over %s, want %s as in the plan", t.Number, rep.Distance, t.Distance)
			}
			d.Time, d.Missing = rep.Time, rep.Time == 0
			if d.Time > 0 && d.Target > 0 {
				d.Late = d.Time - d.Target
				d.Percent = 100 * (float64(d.Target)/float64(d.Time) - 1)
			}
		}
		out = append(out, d)
	}
	for _, rep := range r.Repeats {
		if rep.Time > 0 && !slices.ContainsFunc(p.Repeats, func(t Target) bool { return t.Number == rep.Number }) {
			out = append(out, Deviation{Number: rep.Number, Time: rep.Time, Extra: true})
		}
	}
	return out, nil
}
