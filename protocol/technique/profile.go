package technique

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
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
	Findings []protocol.Finding `json:"findings,omitzero"`

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

// find adds a finding.
func (t *Profile) find(repeat int, source, format string, a ...any) {
	t.Findings = append(t.Findings, protocol.Finding{Repeat: repeat, Text: fmt.Sprintf(format, a...), Source: source})
}

// MarshalJSON writes the profile with its findings as texts.
func (t Profile) MarshalJSON() ([]byte, error) {
	type plain Profile // without this method
	texts := make([]string, len(t.Findings))
	for i, f := range t.Findings {
		texts[i] = f.String()
	}
	return json.Marshal(struct {
		plain
		Findings []string `json:"findings,omitempty"`
	}{plain(t), texts})
}
