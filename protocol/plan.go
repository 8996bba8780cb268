package protocol

import (
	"time"

	"example.com/steptest/pace"
)

// Plan is a step test before it is swum. The zero value is a plan of nothing.
// Make one with [NewPlan], or take one from a sheet with [Record.Plan].
//
// Every plan has one sample at rest, one after each repeat, and those of After
// in place of the one after the last.
type Plan struct {
	Swimmer string          `json:"swimmer,omitzero"`
	Date    time.Time       `json:"date,omitzero"` // the day, at midnight UTC; zero means no day yet
	Pool    pace.Pool       `json:"pool"`
	WarmUp  pace.Length     `json:"warm_up,omitzero"`   // swum easily before the test; zero means none
	Repeats []Target        `json:"repeats"`            // in order
	After   []time.Duration `json:"after_ns,omitzero"`  // samples after the last repeat; empty means one only
	Next    time.Time       `json:"next_test,omitzero"` // the day of the next test; zero means no day yet
}

// Target is one repeat of a plan. The zero value is no repeat.
type Target struct {
	Number   int           `json:"repeat"` // counted from 1
	Distance pace.Length   `json:"distance"`
	Time     time.Duration `json:"time_ns,omitzero"`  // zero means none
	AllOut   bool          `json:"all_out,omitzero"`  // swum as fast as can be; Time is what is expected
	Leave    time.Duration `json:"leave_ns,omitzero"` // when it starts, counted from the start of the first
}

// Speed returns the mean speed (m/s). It returns an error that wraps
// [pace.ErrValue] for a repeat without a time.
func (t Target) Speed() (pace.Speed, error) { return pace.MeanSpeed(t.Distance, t.Time) }

// speed is zero for a repeat without a time.
func (t Target) speed() pace.Speed {
	v, err := t.Speed()
	if err != nil {
		return 0
	}
	return v
}

// Split returns the time for part of the repeat, swum evenly: for 100, or for
// one length of the pool.
func (t Target) Split(part pace.Length) time.Duration {
	if !(t.Distance > 0) {
		return 0
	}
	return time.Duration(float64(t.Time)*float64(part/t.Distance) + 0.5)
}

// Rest returns the rest after each repeat but the last.
func (p Plan) Rest() []time.Duration {
	var out []time.Duration
	for i := 1; i < len(p.Repeats); i++ {
		out = append(out, p.Repeats[i].Leave-p.Repeats[i-1].Leave-p.Repeats[i-1].Time)
	}
	return out
}

// Duration returns the time from the start of the first repeat to the end of
// the last, or to the last sample.
func (p Plan) Duration() time.Duration {
	if len(p.Repeats) == 0 {
		return 0
	}
	last := p.Repeats[len(p.Repeats)-1]
	d := last.Leave + last.Time
	if n := len(p.After); n > 0 {
		d += p.After[n-1]
	}
	return d
}

// Samples returns how many blood samples the plan takes: one at rest, one
// after each repeat, and those of After in place of the one after the last.
func (p Plan) Samples() int {
	if len(p.Repeats) == 0 {
		return 0
	}
	return 1 + len(p.Repeats) - 1 + max(1, len(p.After))
}

// Distance returns the distance of all repeats together, without the warm-up.
func (p Plan) Distance() pace.Length {
	d := pace.Length(0)
	for _, t := range p.Repeats {
		d += t.Distance
	}
	return d
}

// Record returns the plan as a record with nothing swum yet.
func (p Plan) Record() Record {
	r := Record{Swimmer: p.Swimmer, Date: p.Date, Pool: p.Pool, WarmUp: p.WarmUp, Next: p.Next}
	for _, t := range p.Repeats {
		r.Repeats = append(r.Repeats, Repeat{Number: t.Number, Distance: t.Distance, Target: t.Time, AllOut: t.AllOut, Leave: t.Leave})
	}
	for _, t := range p.After {
		r.Recovery = append(r.Recovery, Sample{After: t})
	}
	return r
}

// Plan returns what was planned of a record, swum or not: the inverse of
// [Plan.Record].
func (r Record) Plan() Plan {
	p := Plan{Swimmer: r.Swimmer, Date: r.Date, Pool: r.Pool, WarmUp: r.WarmUp, Next: r.Next}
	for _, rep := range r.Repeats {
		p.Repeats = append(p.Repeats, Target{Number: rep.Number, Distance: rep.Distance, Time: rep.Target, AllOut: rep.AllOut, Leave: rep.Leave})
	}
	for _, s := range r.Recovery {
		p.After = append(p.After, s.After)
	}
	return p
}
