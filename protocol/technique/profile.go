package technique

import (
	"cmp"
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// Profile is how a swimmer's stroke changed with speed over one test. The zero
// value holds no repeats; make one with [Of].
type Profile struct {
	Pool    pace.Pool   `json:"pool"`
	Segment pace.Length `json:"segment"` // over which cycles and time were taken, the same in each repeat
	// Basis is what the strokes were counted by. The zero value is a segment.
	Basis Basis `json:"basis,omitzero"`
	// Repeats that were measured, in order of their numbers.
	Repeats []Repeat `json:"repeats"`
	// Slowest and Fastest are the mean speeds of the slowest and fastest of the
	// repeats [m/s]: strokes are read between them alone.
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

	opts  Options
	order [][]int // indices of repeats of one speed, slowest first
}

// Stroke is a swimmer's stroke at one mean speed of a repeat. Rate × Length is
// the speed of clean swimming in the segment. Speed is that of the whole repeat,
// which push-off, glide and turn make faster. Intervals hold the errors of count
// and watch that the options state. The zero value is no stroke.
type Stroke struct {
	Speed  pace.Speed       `json:"speed"`                     // mean of the whole repeat [m/s]
	Rate   lactate.Estimate `json:"stroke_rate_per_min"`       // cycles [1/min]
	Length lactate.Estimate `json:"stroke_length_m"`           // per cycle [m]
	Index  lactate.Estimate `json:"stroke_index_m2_per_s"`     // segment speed × length (Costill et al. 1985) [m²/s]
	Share  lactate.Estimate `json:"segment_over_repeat_speed"` // segment speed / Speed [1]
}

// Repeat is the stroke of one repeat. The zero value is no repeat.
type Repeat struct {
	Number  int          `json:"repeat"` // counted from 1 within the test
	Segment pace.Segment `json:"-"`      // as measured
	Stroke
}

// sort puts the repeats in order of speed, in groups of one speed.
func (t *Profile) sort() {
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
func (t *Profile) speed(k int) pace.Speed { return t.Repeats[t.order[k][0]].Speed }

// WarnStroke is the kind of all findings of a profile.
const WarnStroke lactate.WarningKind = "stroke"

// find adds a finding about a repeat; zero is the whole test.
func (t *Profile) find(repeat int, source, words string, values ...any) {
	w := lactate.Warning{Kind: WarnStroke, Words: words, Values: values, Source: source}
	if repeat > 0 {
		w.Stages, w.Words = []int{repeat}, "repeat {1}: "+words
	}
	t.Findings = append(t.Findings, w)
}
