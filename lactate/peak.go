package lactate

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// Peak is the highest lactate after a test. The zero value is no peak.
type Peak struct {
	Lactate float64       `json:"lactate_mmol_per_l"` // [mmol/L]
	After   time.Duration `json:"after_ns"`           // time since the end of the last stage
	// Passed reports whether a later sample is lower; if not, lactate may have risen further.
	Passed bool `json:"passed"`
}

// PeakLactate returns the highest of the recovery samples and the sample of the last stage,
// which counts as taken at its end; of equal ones the first. Nothing is read between samples.
//
// The error lists what cannot be right in the test, or wraps [ErrMissing] if there are no
// recovery samples.
func PeakLactate(t Test) (Peak, error) {
	if err := t.Check(); err != nil {
		return Peak{}, err
	}
	if len(t.Recovery) == 0 {
		return Peak{}, fmt.Errorf("lactate: peak lactate: %w: recovery samples", ErrMissing)
	}
	samples := make([]RecoverySample, 0, len(t.Recovery)+1)
	if top := t.top(); top.sampled() {
		samples = append(samples, RecoverySample{Lactate: measuredAt(t, top.Intensity)})
	}
	samples = append(samples, t.Recovery...)
	slices.SortStableFunc(samples, func(a, b RecoverySample) int { return cmp.Compare(a.After, b.After) })
	var p Peak
	for _, s := range samples {
		switch {
		case s.Lactate > p.Lactate:
			p = Peak{Lactate: s.Lactate, After: s.After}
		case s.Lactate < p.Lactate:
			p.Passed = true
		}
	}
	return p, nil
}
