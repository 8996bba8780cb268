package app

import (
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate/forecast"
	"example.com/steptest/protocol"
)

// swimming is what to know in the middle of a test.
type swimming struct {
	Next     *repeat  `json:"next,omitempty"` // to swim now; nil if all are swum
	Why      string   `json:"why,omitempty"`
	Unit     string   `json:"unit"`
	Odd      []oddity `json:"odd"`                // the latest first
	Cautions []string `json:"cautions,omitempty"` // before the first repeat
	Stop     string   `json:"stop,omitempty"`     // before the others
	Ready    bool     `json:"ready"`              // enough was swum for a result
}

// oddity is what is odd about a number.
type oddity struct {
	Repeat int    `json:"repeat"`
	Cell   string `json:"cell"`
	Text   string `json:"text"`
}

// swim says what to swim next and what is odd about what was entered.
func (q Request) swim(records []protocol.Record) (any, error) {
	i, err := q.find(records)
	if err != nil {
		return nil, err
	}
	r := records[i]
	known := earlier(records, r)
	out := swimming{Unit: r.Pool.Per100().String(), Odd: odd(r, known)}
	shown := testOf(r)
	for i, rep := range r.Repeats {
		if rep.Time == 0 {
			out.Next = &shown.Repeats[i]
			break
		}
	}
	cautions := protocol.Cautions()
	if out.Next != nil {
		if shown.Done == 0 {
			out.Cautions = cautions
		} else {
			out.Stop = cautions[1]
		}
		next, why := nextTarget(r, known)
		out.Next.Target, out.Next.Per100, out.Why = clock(next.Time), "", why
		if v, err := next.Speed(); err == nil {
			out.Next.Per100 = per100(v, r.Pool)
		}
	}
	out.Ready = analysable(r)
	return out, nil
}

// Where a number is called odd, besides what the library says. These lines are ours.
const (
	strayed   = 0.04 // of a time from its target
	beatsFell = 3    // from one repeat to the next [1/min]
)

// odd names what is odd about each repeat: what the library says of it, a time far from
// its target, a heart rate that falls. Of a number one thing is said.
func odd(r protocol.Record, known forecast.Expected) []oddity {
	out := reviewed(r)
	add := func(n int, what, text string) {
		o := oddity{n, fmt.Sprintf("%d.%s", n, what), text}
		if !slices.ContainsFunc(out, func(p oddity) bool { return p.Cell == o.Cell }) {
			out = append(out, o)
		}
	}
	beats, sampled := 0.0, 0
	for _, rep := range r.Repeats {
		n := rep.Number
		if rep.Time > 0 && rep.Target > 0 && !rep.AllOut {
			if off := float64(rep.Time)/float64(rep.Target) - 1; math.Abs(off) > strayed {
				add(n, "time", fmt.Sprintf("%s is %s than the target %s: is the time right?", clock(rep.Time), late(rep), clock(rep.Target)))
			}
		}
		if rep.Lactate > 0 {
			sampled = n
		}
		if b := rep.HeartRate; b > 0 {
			if beats-b > beatsFell {
				add(n, "beats", fmt.Sprintf("%s beats after %s; heart rate seldom falls here.", whole(b), whole(beats)))
			}
			beats = max(beats, b)
		}
	}
	// The latest sample can still be taken again.
	if text := r.Unexpected(sampled, known); text != "" {
		add(sampled, "lactate", text+".")
	}
	for _, o := range oddSamples(r) {
		add(o.Repeat, "lactate", o.Text)
	}
	slices.SortStableFunc(out, func(a, b oddity) int { return b.Repeat - a.Repeat })
	return out
}
