package zones

import (
	"errors"
	"fmt"
	"math"

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
}

// Contains reports whether v lies in z. A zone holds its slow edge and not its
// fast one, so that each speed is in one zone: LT2 itself is in the zone above.
func (z Zone) Contains(v pace.Speed) bool {
	return v > 0 && !math.IsInf(float64(v), 0) &&
		(z.From.Open() || v >= z.From.Speed) && (z.To.Open() || v < z.To.Speed)
}

// A Table is the zones of one swimmer, slowest first; they tile all positive
// speeds. The zero value has no zones.
type Table struct {
	Scheme  Scheme
	Profile Profile
	Zones   []Zone
	// Warnings say what a coach should know before using the table: a heart rate
	// that could not be given at an edge, thresholds whose intervals overlap.
	Warnings []string
}

// Of returns the zones of a swimmer. It returns all faults at once: those of
// [Scheme.Check] and [Profile.Check], a bound that the profile does not say how to
// find ([ErrMissing]), or zones that would end before they start ([ErrOrder]).
//
// A heart rate or lactate that cannot be given at an edge is left out and named
// in Warnings; the rest stands.
func (s Scheme) Of(p Profile) (*Table, error) {
	if err := errors.Join(s.Check(), p.Check()); err != nil {
		return nil, err
	}
	t := &Table{Scheme: s, Profile: p, Zones: make([]Zone, len(s.Zones))}
	var errs []error
	edges := make([]Edge, len(s.Zones)+1)
	for i := 1; i < len(s.Zones); i++ {
		b := s.Zones[i].From.normal()
		at, err := b.locate(p)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		if !positive(float64(at.Speed)) {
			errs = append(errs, faultf(ErrValue, "speed at %v is %v m/s, want a positive one", b, float64(at.Speed)))
			continue
		}
		edges[i] = Edge{Bound: b, Speed: at.Speed, Low: at.Low, High: at.High}
		if before := edges[i-1]; !before.Open() && !(before.Speed < at.Speed) {
			errs = append(errs, faultf(ErrOrder, "zone %q would start at %v (%v) and end at %v (%v)",
				s.Zones[i-1].Name, before.Bound, before.Speed, b, at.Speed))
		}
		edges[i].HeartRate = t.ask("heart rate", p.HeartRate, edges[i])
		edges[i].Lactate = t.ask("lactate", p.Lactate, edges[i])
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	for i, z := range s.Zones {
		t.Zones[i] = Zone{Name: z.Name, Meaning: z.Meaning, From: edges[i], To: edges[i+1]}
	}
	for i := 2; i < len(s.Zones); i++ {
		if a, b := edges[i-1], edges[i]; a.High != 0 && b.Low != 0 && a.High >= b.Low {
			t.Warnings = append(t.Warnings, fmt.Sprintf("the intervals of %v and %v overlap: zone %s is not told from its neighbours",
				a.Bound, b.Bound, s.Zones[i-1].Name))
		}
	}
	return t, nil
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
		t.Warnings = append(t.Warnings, fmt.Sprintf("no %s at %v (%v): %v", what, e.Bound, e.Speed, err))
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
	return Zone{}, faultf(ErrValue, "speed of %v m/s is in no zone", float64(v))
}

// Zone returns a zone by name. It returns an error that wraps [ErrMissing] and
// lists the names there are.
func (t *Table) Zone(name string) (Zone, error) {
	names := make([]string, len(t.Zones))
	for i, z := range t.Zones {
		if z.Name == name {
			return z, nil
		}
		names[i] = z.Name
	}
	return Zone{}, faultf(ErrMissing, "no zone %q in scheme %q, which has %q", name, t.Scheme.Name, names)
}
