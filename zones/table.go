package zones

import (
	"errors"
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

// Apply returns the zones of a swimmer. It returns all faults at once: those of
// [Scheme.Check] and [Profile.Check], a bound that the profile does not say how to
// find ([ErrMissing]), or zones that would end before they start ([ErrOrder]).
//
// Nothing is extrapolated. If SpeedAtLactate or SpeedAtHeartRate cannot place
// an edge, because the test did not reach it, the zones on both sides of it
// become one ("4+5"). A heart rate or lactate that cannot be given at an edge is
// left out, and all heart rates are if they do not rise from edge to edge. Warnings
// name each, and the rest stands.
func (s Scheme) Apply(p Profile) (*Table, error) {
	if err := errors.Join(s.Check(), p.Check()); err != nil {
		return nil, err
	}
	p.LT1, p.LT2 = p.LT1.settled(), p.LT2.settled()
	t := &Table{Scheme: s, Profile: p}
	for _, x := range []struct {
		name string
		Threshold
	}{{"LT1", p.LT1}, {"LT2", p.LT2}} {
		if x.High != 0 && !(x.Low <= x.Speed && x.Speed <= x.High) {
			t.warn(WarnOffInterval, "%s at %v lies outside its own bracket, %v to %v: its definition jumps, or does not suit the curve", x.name, x.Speed, x.Low, x.High)
		}
	}
	var errs []error
	first := s.Zones[0]
	z := Zone{Name: first.Name, Meaning: first.Meaning, parts: []string{first.Name}}
	for _, next := range s.Zones[1:] {
		b := next.From.normal()
		at, err := b.locate(p)
		var lost *unreached
		switch {
		case errors.As(err, &lost):
			t.warn(WarnZonesJoined, "no speed at %v: zones %s and %s become one: %v", b, z.Name, next.Name, lost.err)
			z.Name += "+" + next.Name
			z.Meaning = both(z.Meaning, next.Meaning)
			z.parts = append(z.parts, next.Name)
			continue
		case err != nil:
			errs = append(errs, err)
			continue
		}
		e := Edge{Bound: b, Speed: at.Speed, Low: at.Low, High: at.High}
		if from := z.From; !from.Open() && !(from.Speed < e.Speed) {
			errs = append(errs, faultf(ErrOrder, "zone %q: found its start at %v (%v) and its end at %v (%v), want the start below the end", z.Name, from.Bound, from.Speed, b, e.Speed))
		} else if !from.Open() && e.Low != 0 && from.High >= e.Low {
			t.warn(WarnIntervalsOverlap, "the brackets of %v and %v overlap: where zone %s begins and ends is not sure", from.Bound, b, z.Name)
		}
		e.HeartRate = t.ask("heart rate", p.HeartRate, e)
		e.Lactate = t.ask("lactate", p.Lactate, e)
		z.To = e
		t.Zones = append(t.Zones, z)
		z = Zone{Name: next.Name, Meaning: next.Meaning, From: e, parts: []string{next.Name}}
	}
	t.Zones = append(t.Zones, z)
	if len(t.Zones) == 1 && len(s.Zones) > 1 && len(errs) == 0 {
		errs = append(errs, faultf(ErrMissing, "scheme %q: found no edge in the tested range, want one or more", s.Name))
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	t.checkHeartRates()
	return t, nil
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
