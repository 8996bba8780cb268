package zones

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// An Edge is one end of a swimmer's zone. The zero value is an open end.
type Edge struct {
	Bound Bound      `json:"anchor"`         // what it hangs on; Open for an open end
	Speed pace.Speed `json:"speed,omitzero"` // [m/s]; zero for an open end
	// Low and High are the ends of the interval that Speed is known within
	// [m/s]. Zero means that there is none.
	Low  pace.Speed `json:"low,omitzero"`
	High pace.Speed `json:"high,omitzero"`
	// HeartRate [1/min] and Lactate [mmol/L] are those at Speed. Zero means not
	// known.
	HeartRate float64 `json:"heart_rate_per_min,omitzero"`
	Lactate   float64 `json:"lactate_mmol_per_l,omitzero"`
}

// Open reports whether e is an open end.
func (e Edge) Open() bool { return e.Bound.Of == Open }

// A Zone is a swimmer's zone. The zero value is open at both ends and holds
// every speed.
type Zone struct {
	Name    string `json:"name"`
	Meaning string `json:"meaning,omitzero"`
	From    Edge   `json:"from"` // slow end
	To      Edge   `json:"to"`   // fast end
	parts   []string
}

// Contains reports whether v lies in z. A zone holds its slow edge and not its
// fast one, and each speed is in one zone: LT2 itself is in the zone above.
func (z Zone) Contains(v pace.Speed) bool {
	return v > 0 && !math.IsInf(float64(v), 0) &&
		(z.From.Open() || v >= z.From.Speed) && (z.To.Open() || v < z.To.Speed)
}

// A Table is the zones of one swimmer, slowest first; they tile all positive
// speeds. The zero value has no zones.
type Table struct {
	Scheme  Scheme  `json:"scheme"`
	Profile Profile `json:"profile"`
	Zones   []Zone  `json:"zones"`
	// Warnings say what a coach should know before using the table: a heart rate
	// that could not be given at an edge, an edge that the test did not reach,
	// thresholds whose intervals overlap, a threshold outside its own interval.
	Warnings []lactate.Warning `json:"warnings,omitempty"`
}

// checkHeartRates leaves the heart rates out if they do not rise from edge to edge.
func (t *Table) checkHeartRates() {
	var last Edge
	for _, z := range t.Zones[1:] {
		e := z.From
		if e.HeartRate == 0 {
			continue
		}
		if last.HeartRate >= e.HeartRate {
			t.warn(WarnHeartRateFalls, "the zones have no heart rates: that at %v, %.0f, is not below that at %v, %.0f", last.Bound, last.HeartRate, e.Bound, e.HeartRate)
			t.Profile.HeartRate = nil
			for i := range t.Zones {
				t.Zones[i].From.HeartRate, t.Zones[i].To.HeartRate = 0, 0
			}
			return
		}
		last = e
	}
}

func both(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}

// ask returns f at an edge, or zero and a warning.
func (t *Table) ask(what string, f func(pace.Speed) (float64, error), e Edge) float64 {
	if f == nil {
		return 0
	}
	x, err := f(e.Speed)
	if err == nil && !positive(x) {
		err = fmt.Errorf("it would be %v", x)
	}
	if err != nil {
		t.warn(WarnEdgeUnknown, "no %s at %v (%v): %v", what, e.Bound, e.Speed, err)
		return 0
	}
	return x
}

// At returns the zone of a speed. It returns an error that wraps [ErrValue] if v
// is not positive and finite.
func (t *Table) At(v pace.Speed) (Zone, error) {
	for _, z := range t.Zones {
		if z.Contains(v) {
			return z, nil
		}
	}
	return Zone{}, faultf(ErrValue, "found a speed of %v m/s, want a positive, finite one", float64(v))
}

// Zone returns a zone by name, "4" and "5" both giving "4+5" if that is one
// zone. It returns an error that wraps [ErrMissing] and lists the names there
// are.
func (t *Table) Zone(name string) (Zone, error) {
	names := make([]string, len(t.Zones))
	for i, z := range t.Zones {
		if z.Name == name || slices.Contains(z.parts, name) {
			return z, nil
		}
		names[i] = z.Name
	}
	return Zone{}, faultf(ErrMissing, "found no zone %q in scheme %q, want one of %s", name, t.Scheme.Name, strings.Join(names, ", "))
}
