package technique

import (
	"fmt"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// Basis is what strokes were counted by. The zero value is a segment.
type Basis int8

// What strokes can be counted by.
const (
	Segment   Basis = iota // cycles and time over a stretch in mid-pool, clear of turns
	Rate                   // a stroke rate by a watch [1/min]; length is the mean speed of the repeat over it
	PerLength              // arm strokes over a length, two to a cycle; rate is cycles over the mean time of a length
)

// String returns what was counted, in words.
func (b Basis) String() string {
	switch b {
	case Rate:
		return "stroke rate by a watch, push-off and turns included"
	case PerLength:
		return "strokes over whole lengths, push-off and turns included"
	}
	return "cycles over a segment in mid-pool"
}

// MarshalText writes "segment", "rate" or "length".
func (b Basis) MarshalText() ([]byte, error) {
	if b < Segment || b > PerLength {
		return nil, fmt.Errorf("technique: basis: found %d, want 0 to 2", int8(b))
	}
	return []byte([]string{"segment", "rate", "length"}[b]), nil
}

// basisOf returns a segment if one was measured, and else what most repeats have.
func basisOf(repeats []protocol.Repeat) Basis {
	rates, lengths := 0, 0
	for _, r := range repeats {
		if r.Cycles != 0 || r.Segment != 0 || r.SegmentTime != 0 {
			return Segment
		}
		if r.StrokeRate != 0 {
			rates++
		}
		if r.StrokesPerLength != 0 {
			lengths++
		}
	}
	switch {
	case rates == 0 && lengths == 0:
		return Segment
	case rates >= lengths:
		return Rate
	}
	return PerLength
}

// segments returns the repeats with what was counted as cycles and time over a
// mean length of the pool.
func (b Basis) segments(repeats []protocol.Repeat, pool pace.Pool) []protocol.Repeat {
	if b == Segment {
		return repeats
	}
	out := make([]protocol.Repeat, len(repeats))
	for i, r := range repeats {
		out[i] = r
		v, err := r.Speed()
		if err != nil {
			continue
		}
		length := v.Time(pool.Length())
		cycles := r.StrokesPerLength / 2
		if b == Rate {
			cycles = r.StrokeRate * length.Minutes()
		}
		if cycles != 0 {
			out[i].Cycles, out[i].Segment, out[i].SegmentTime = cycles, pool.Length(), length
		}
	}
	return out
}
