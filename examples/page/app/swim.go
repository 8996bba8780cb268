package app

import (
	"fmt"
	"math"
	"slices"

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
	out := swimming{Unit: r.Pool.Per100().String(), Odd: odd(r)}
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
		out.Next.Target, out.Next.Per100, out.Why = nextTarget(r, out.Next.Number)
	}
	out.Ready = analysable(r)
	return out, nil
}

// Where a number is called odd, besides what the library's review says. These lines are
// ours.
const (
	fallen    = 0.3  // of lactate from the highest before [mmol/L]
	strayed   = 0.04 // of a time from its target
	beatsFell = 3    // from one repeat to the next [1/min]
)

// odd names what is odd about each repeat: a slip of the pen, a time far from its target,
// a lactate or a heart rate that falls. Of a number one thing is said.
func odd(r protocol.Record) []oddity {
	out := reviewed(r)
	add := func(n int, what, format string, a ...any) {
		o := oddity{n, fmt.Sprintf("%d.%s", n, what), fmt.Sprintf(format, a...)}
		if !slices.ContainsFunc(out, func(p oddity) bool { return p.Cell == o.Cell }) {
			out = append(out, o)
		}
	}
	peak, beats := 0.0, 0.0
	for _, rep := range r.Repeats {
		n := rep.Number
		if rep.Time > 0 && rep.Target > 0 && !rep.AllOut {
			if off := float64(rep.Time)/float64(rep.Target) - 1; math.Abs(off) > strayed {
				add(n, "time", "%s is %s than the target %s: is the time right?", clock(rep.Time), late(rep), clock(rep.Target))
			}
		}
		if y := rep.Lactate; y > 0 {
			if peak-y > fallen {
				add(n, "lactate", "%s after %s mmol/L; lactate seldom falls here. Wipe, dry, take it again.", tenths(y, rep.Range), tenths(peak, rep.Range))
			}
			peak = max(peak, y)
		}
		if b := rep.HeartRate; b > 0 {
			if beats-b > beatsFell {
				add(n, "beats", "%s beats after %s; heart rate seldom falls here.", whole(b), whole(beats))
			}
			beats = max(beats, b)
		}
	}
	for _, o := range doubts(r) {
		add(o.Repeat, "lactate", "%s", o.Text)
	}
	slices.SortStableFunc(out, func(a, b oddity) int { return b.Repeat - a.Repeat })
	return out
}
