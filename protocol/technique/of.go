package technique

import (
	"errors"
	"fmt"
	"math"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// ErrTooFew is returned if fewer than two repeats of different speed have a
// stroke measurement.
var ErrTooFew = errors.New("technique: too few repeats have stroke cycles and time over a segment")

// Error is one fault of a stroke measurement. Errors hold a pointer to it, which
// is what errors.As finds. The zero value is no fault.
type Error struct {
	Repeat int    // number of the repeat
	Field  string // "time", "stroke cycles", "stroke segment", "segment time"
	Found  string
	Want   string
}

func (e *Error) Error() string {
	return fmt.Sprintf("technique: repeat %d: %s: found %s, want %s", e.Repeat, e.Field, e.Found, e.Want)
}

// Of works out stroke rate, stroke length and stroke index of each repeat of a
// record, and how they change with the mean speed of the repeats. Cycles and time
// are those over a measured segment in mid-pool. Mean speeds stay as they were
// swum: published values of mean speed and of rate × length differ by 6 to 12 %.
// [Stroke.Share] is their ratio.
//
// If no repeat has a segment, strokes per length or a stroke rate taken by a
// watch stand in, whichever more repeats have; see [Basis]. Length and index then
// hold push-offs and turns.
//
// A repeat without any measurement is left out, with a finding. A repeat whose
// measurement cannot be used is left out with a fault, an [*Error]: one of its
// values is missing or no positive number, or the segment is not shorter than a
// length of the pool, or differs from that of the other repeats.
//
// The error joins these faults and those of the record. The profile that comes
// with them holds the repeats that stand. If fewer than two of different speed
// stand, there is none, and the error is [ErrTooFew] too.
func Of(r protocol.Record, o Options) (*Profile, error) {
	o, err := o.withDefaults()
	if err != nil {
		return nil, err
	}
	errs := []error{r.Err()}
	t := &Profile{Pool: r.Pool, Basis: basisOf(r.Repeats), opts: o}
	repeats := t.Basis.segments(r.Repeats, r.Pool)
	segment := usualSegment(repeats)
	for _, rep := range repeats {
		if rep.Cycles == 0 && rep.Segment == 0 && rep.SegmentTime == 0 {
			if rep.Time > 0 {
				t.find(rep.Number, "", "no stroke measurement: left out of the technique")
			}
			continue
		}
		measured, faults := measure(rep, r.Pool, segment, t.Basis, o)
		if len(faults) > 0 {
			errs = append(errs, faults...)
			continue
		}
		t.Repeats = append(t.Repeats, measured)
	}
	t.sort()
	if len(t.order) < 2 {
		return nil, errors.Join(append(errs, fmt.Errorf("%w: found %d of %d different speeds, want 2 or more", ErrTooFew, len(t.Repeats), len(t.order)))...)
	}
	t.Segment = segment
	t.Slowest, t.Fastest = t.speed(0), t.speed(len(t.order)-1)
	t.estimate()
	return t, errors.Join(errs...)
}

// usualSegment returns the segment that most repeats were measured over, the
// first of them if several are as frequent.
func usualSegment(repeats []protocol.Repeat) pace.Length {
	count := map[pace.Length]int{}
	for _, rep := range repeats {
		count[rep.Segment]++
	}
	var usual pace.Length
	for _, rep := range repeats {
		if rep.Segment > 0 && (usual == 0 || count[rep.Segment] > count[usual]) {
			usual = rep.Segment
		}
	}
	return usual
}

// measure works out one repeat, or returns all that stands in the way.
func measure(r protocol.Repeat, p pace.Pool, usual pace.Length, b Basis, o Options) (Repeat, []error) {
	var faults []error
	fault := func(field, found, want string) {
		faults = append(faults, &Error{r.Number, field, found, want})
	}
	v, err := r.Speed()
	switch {
	case r.Time == 0:
		fault("time", "nothing", "the time of the repeat")
	case err != nil:
		fault("time", fmt.Sprint(err), "a repeat that was swum")
	}
	switch c := r.Cycles; {
	case c == 0:
		fault("stroke cycles", "nothing", "a number of cycles beside segment and time")
	case !(c > 2*o.CountError) || math.IsInf(c, 0):
		fault("stroke cycles", fmt.Sprintf("%g", c), fmt.Sprintf("a number above %g, twice its own error", 2*o.CountError))
	}
	switch s := (pace.Segment{Length: r.Segment}); {
	case r.Segment == 0:
		fault("stroke segment", "nothing", "the length that cycles and time were taken over")
	case !(r.Segment > 0):
		fault("stroke segment", fmt.Sprintf("%g m", r.Segment.Metres()), "a length above zero")
	case b == Segment && s.Check(p) != nil:
		fault("stroke segment", r.Segment.String(), fmt.Sprintf("a stretch inside one length of a %v pool, clear of turns", p))
	case math.Abs(float64(r.Segment-usual)) > 1e-9*float64(usual):
		fault("stroke segment", r.Segment.String(), fmt.Sprintf("%v, as in the other repeats: the same marks each time", usual))
	}
	switch d := r.SegmentTime; {
	case d == 0:
		fault("segment time", "nothing", "a time beside cycles and segment")
	case d <= 2*o.TimingError:
		fault("segment time", pace.FormatTime(d, -1), fmt.Sprintf("a time above %v, twice its own error", 2*o.TimingError))
	}
	if len(faults) > 0 {
		return Repeat{}, faults
	}
	return Repeat{
		Number:  r.Number,
		Segment: pace.Segment{Length: r.Segment, Time: r.SegmentTime, Cycles: r.Cycles},
		Stroke:  Stroke{Speed: v},
	}, nil
}
