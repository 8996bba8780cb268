package protocol

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// TechniqueOptions are the choices of [Record.Technique]. The zero value is the
// documented default.
type TechniqueOptions struct {
	// CountError is the standard deviation of a count of stroke cycles
	// [cycles]. Zero means 0.15: a count to the nearest arm stroke is off by up
	// to a quarter of a cycle either way, which is 0.14 where all errors up to
	// there are alike (our judgement, no source). Where Cycles is the mean of
	// counts on several lengths, divide by the square root of their number: one
	// count of six or seven cycles is worth little.
	CountError float64
	// TimingError is the standard deviation of the time over the segment. Zero
	// means 0.1 s: hand timing, start and stop together, as in
	// [lactate.DefaultNoise].
	TimingError time.Duration
	// Confidence of the intervals, between 0 and 1. Zero means 0.90.
	Confidence float64
	// Resamples is the number of simulated tests behind each interval; 2000 is
	// plenty for reading. Zero means no intervals.
	Resamples int
	// Seed of the simulation: the same seed gives the same bits. Zero is a seed
	// like any other.
	Seed uint64
}

// withDefaults fills in what was left zero and refuses what cannot be right.
func (o TechniqueOptions) withDefaults() (TechniqueOptions, error) {
	if o.CountError == 0 {
		o.CountError = 0.15
	}
	if o.TimingError == 0 {
		o.TimingError = 100 * time.Millisecond
	}
	if o.Confidence == 0 {
		o.Confidence = 0.90
	}
	var errs []error
	bad := func(ok bool, field string, found any, want string) {
		if !ok {
			errs = append(errs, fmt.Errorf("protocol: technique options: %s: found %v, expected %s", field, found, want))
		}
	}
	bad(o.CountError > 0 && o.CountError <= 100, "CountError", o.CountError, "a number of cycles, such as 0.15")
	bad(o.TimingError > 0, "TimingError", o.TimingError, "a time, such as 0.1 s")
	bad(o.Confidence > 0 && o.Confidence < 1, "Confidence", o.Confidence, "a number between 0 and 1, such as 0.90")
	bad(o.Resamples >= 0 && o.Resamples <= maxResamples, "Resamples", o.Resamples, fmt.Sprintf("0 to %d", maxResamples))
	return o, errors.Join(errs...)
}

// maxResamples bounds the memory of a technique; it is far beyond use.
const maxResamples = 1_000_000

// Technique is how a swimmer's stroke changed with speed over one test. The
// zero value holds no repeats; make one with [Record.Technique].
type Technique struct {
	Pool    pace.Pool   `json:"pool"`
	Segment pace.Length `json:"segment"` // over which cycles and time were taken, the same in each repeat
	// Repeats that were measured, in order of their numbers.
	Repeats []RepeatTechnique `json:"repeats"`
	// Slowest and Fastest are the mean speeds of the slowest and fastest of the
	// repeats [m/s]: the technique is read between them alone.
	Slowest pace.Speed `json:"slowest"`
	Fastest pace.Speed `json:"fastest"`
	// Rate [1/min], Length [m] and Index [m²/s] over the test.
	Rate   Trend `json:"stroke_rate_per_min"`
	Length Trend `json:"stroke_length_m"`
	Index  Trend `json:"stroke_index_m2_per_s"`
	// Shortening is where stroke length starts to fall.
	Shortening Shortening `json:"shortening"`
	// Findings are what to know before believing it.
	Findings []lactate.Warning `json:"findings,omitzero"`

	opts  TechniqueOptions
	order [][]int // indices of repeats of one speed, slowest first
}

// StrokeAt is a swimmer's stroke at one mean speed of a repeat. Rate × Length is
// the speed of clean swimming in the segment, not Speed: push-off, glide and turn
// make a repeat faster than its strokes. Intervals hold the errors of count and
// watch that the options state. The zero value is no stroke.
type StrokeAt struct {
	Speed  pace.Speed       `json:"speed"`                     // mean of the whole repeat [m/s]
	Rate   lactate.Estimate `json:"stroke_rate_per_min"`       // cycles [1/min]
	Length lactate.Estimate `json:"stroke_length_m"`           // per cycle [m]
	Index  lactate.Estimate `json:"stroke_index_m2_per_s"`     // segment speed × length (Costill et al. 1985) [m²/s]
	Share  lactate.Estimate `json:"segment_over_repeat_speed"` // segment speed / Speed [1]
}

// RepeatTechnique is the stroke of one repeat. The zero value is no repeat.
type RepeatTechnique struct {
	Number  int          `json:"repeat"` // counted from 1 within the test
	Segment pace.Segment `json:"-"`      // as measured
	StrokeAt
}

// ErrNoTechnique is returned where fewer than two repeats of different speed
// have a stroke measurement.
var ErrNoTechnique = errors.New("protocol: technique: too few repeats have stroke cycles and time over a segment")

// TechniqueError is one fault of a stroke measurement. Errors hold a pointer to
// it, which is what errors.As finds. The zero value is no fault.
type TechniqueError struct {
	Repeat int    // number of the repeat
	Field  string // "time", "stroke cycles", "stroke segment", "segment time"
	Found  string
	Want   string
}

func (e *TechniqueError) Error() string {
	return fmt.Sprintf("protocol: technique: repeat %d: %s: found %s, expected %s", e.Repeat, e.Field, e.Found, e.Want)
}

// Technique works out stroke rate, stroke length and stroke index of each
// repeat, from stroke cycles and time over a measured segment in mid-pool, and
// how they change with the mean speed of the repeats. Mean speeds stay as
// they were swum: they are never replaced by rate × length, since published
// values of the two differ by 6 to 12 %; StrokeAt.Share is their ratio.
//
// A repeat without any measurement is left out, with a finding. A repeat whose
// measurement cannot be used is left out with a fault, a [*TechniqueError]: one
// of its values is missing or no positive number, the segment is not shorter
// than a length of the pool, or is not that of the other repeats.
//
// The error joins these faults and those of the record; the technique that comes
// with them holds the repeats that stand. There is none, and the error is
// [ErrNoTechnique] too, where fewer than two of different speed do.
func (r Record) Technique(o TechniqueOptions) (*Technique, error) {
	o, err := o.withDefaults()
	if err != nil {
		return nil, err
	}
	errs := []error{r.Err()}
	t := &Technique{Pool: r.Pool, opts: o}
	segment := r.usualSegment()
	for _, rep := range r.Repeats {
		if rep.Cycles == 0 && rep.Segment == 0 && rep.SegmentTime == 0 {
			if rep.Time > 0 {
				t.find(rep.Number, "", "no stroke measurement: left out of the technique")
			}
			continue
		}
		measured, faults := rep.technique(r.Pool, segment, o)
		if len(faults) > 0 {
			errs = append(errs, faults...)
			continue
		}
		t.Repeats = append(t.Repeats, measured)
	}
	t.sort()
	if len(t.order) < 2 {
		return nil, errors.Join(append(errs, fmt.Errorf("%w: found %d of %d different speeds, expected 2 or more", ErrNoTechnique, len(t.Repeats), len(t.order)))...)
	}
	t.Segment = segment
	t.Slowest, t.Fastest = t.speed(0), t.speed(len(t.order)-1)
	t.estimate()
	return t, errors.Join(errs...)
}

// usualSegment returns the segment that most repeats were measured over, the
// first of them where several are as frequent.
func (r Record) usualSegment() pace.Length {
	count := map[pace.Length]int{}
	for _, rep := range r.Repeats {
		count[rep.Segment]++
	}
	var usual pace.Length
	for _, rep := range r.Repeats {
		if rep.Segment > 0 && (usual == 0 || count[rep.Segment] > count[usual]) {
			usual = rep.Segment
		}
	}
	return usual
}

// technique works out one repeat, or says all that stands in the way.
func (r Repeat) technique(p pace.Pool, usual pace.Length, o TechniqueOptions) (RepeatTechnique, []error) {
	var faults []error
	fault := func(field, found, want string) {
		faults = append(faults, &TechniqueError{r.Number, field, found, want})
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
	case s.Check(p) != nil:
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
		return RepeatTechnique{}, faults
	}
	return RepeatTechnique{
		Number:   r.Number,
		Segment:  pace.Segment{Length: r.Segment, Time: r.SegmentTime, Cycles: r.Cycles},
		StrokeAt: StrokeAt{Speed: v},
	}, nil
}

// sort puts the repeats in order of speed, in groups of one speed.
func (t *Technique) sort() {
	all := make([]int, len(t.Repeats))
	for i := range all {
		all[i] = i
	}
	slices.SortStableFunc(all, func(a, b int) int { return cmp.Compare(t.Repeats[a].Speed, t.Repeats[b].Speed) })
	t.order = nil
	for k, i := range all {
		if k == 0 || t.Repeats[i].Speed != t.Repeats[all[k-1]].Speed {
			t.order = append(t.order, nil)
		}
		t.order[len(t.order)-1] = append(t.order[len(t.order)-1], i)
	}
}

// speed returns the k-th speed, slowest first.
func (t *Technique) speed(k int) pace.Speed { return t.Repeats[t.order[k][0]].Speed }

// find adds a finding about a repeat; zero is the whole test.
func (t *Technique) find(repeat int, source, words string, values ...any) {
	var repeats []int
	if repeat > 0 {
		repeats = []int{repeat}
	}
	(*review)(&t.Findings).add(StrokeDoubt, repeats, source, words, values...)
}
