package pace

import (
	"math"
	"time"
)

// A Segment is what a helper on the deck measures in the middle of a pool:
// stroke cycles and the time they took between two marks, away from push-off,
// glide and turn. Use the same marks for each repeat. The zero value is no
// measurement.
//
// A cycle is a full one, from one hand's entry to the next entry of the same
// hand. In freestyle and backstroke that is two arm strokes: halve a count of arm
// strokes. In breaststroke and butterfly it is one.
type Segment struct {
	Length Length        // between the marks
	Time   time.Duration // over Length
	Cycles float64       // over Length; 6.5 if half a cycle remained
}

// Stroke returns the stroke rate and stroke length over the segment. It returns
// an error that wraps [ErrValue] unless all three fields are positive and
// finite.
func (s Segment) Stroke() (Stroke, error) {
	v, err := MeanSpeed(s.Length, s.Time)
	if err != nil {
		return Stroke{}, err
	}
	if !(s.Cycles > 0) || math.IsInf(s.Cycles, 0) {
		return Stroke{}, valuef("stroke cycles: found %v, want a positive number", s.Cycles)
	}
	rate := s.Cycles / s.Time.Minutes()
	return Stroke{Rate: rate, Length: Length(float64(v) * 60 / rate)}, nil
}

// Check checks the segment against a pool. It returns an error that wraps
// [ErrValue] if the segment is not shorter than one length.
func (s Segment) Check(p Pool) error {
	if !(s.Length < p.Length()) {
		return valuef("segment: found %v, want less than one length of a %v pool", s.Length, p)
	}
	return nil
}

// A Stroke is the rate and length of one stroke cycle. The zero value is no
// stroke.
//
// A lap is faster than a stroke's own speed, since it holds push-offs and turns:
// the published values of both differ by 6 to 12 %. [Stroke.Share] gives the
// ratio. Never replace the speed of a repeat by [Stroke.Speed].
type Stroke struct {
	Rate   float64 // cycles per minute [1/min]
	Length Length  // per cycle [m]
}

// Speed returns the speed of clean swimming, rate × length / 60 (m/s).
func (s Stroke) Speed() Speed { return Speed(s.Rate / 60 * float64(s.Length)) }

// Index returns the stroke index, speed × length per cycle (m²/s) (Costill et
// al. 1985, from memory), on the speed of clean swimming.
func (s Stroke) Index() float64 { return float64(s.Speed()) * float64(s.Length) }

// Share returns the speed of clean swimming as a fraction of the mean speed of
// the whole repeat: 0.88 to 0.94 in published group means. It returns an error
// that wraps [ErrValue] unless both speeds are positive and finite.
func (s Stroke) Share(repeat Speed) (float64, error) {
	x := float64(s.Speed() / repeat)
	if !(s.Speed() > 0) || !(repeat > 0) || !(x > 0) || math.IsInf(x, 0) {
		return 0, valuef("speeds: found %v and %v, want both positive", s.Speed(), repeat)
	}
	return x, nil
}
