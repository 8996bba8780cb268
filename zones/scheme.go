package zones

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// A Part is the definition of one zone of a scheme. The zero value has no name
// and is refused.
type Part struct {
	Name    string `json:"name"`             // "1", "heavy"
	Meaning string `json:"meaning,omitzero"` // a few words, for the reader
	From    Bound  `json:"from"`             // slow end
	To      Bound  `json:"to"`               // fast end
}

// A Scheme cuts the speed axis into zones. It is data: write one in Go or read
// one from JSON, in which each bound is a text (see [Bound]):
//
//	{"name": "two halves", "source": "our club", "zones": [
//	  {"name": "easy", "from": "open", "to": "0.95 LT2"},
//	  {"name": "hard", "from": "0.95 LT2", "to": "open"}]}
//
// The zero value has no zones and is refused.
type Scheme struct {
	Name   string `json:"name"`
	Source string `json:"source,omitzero"` // who says so, and how well it is known
	Zones  []Part `json:"zones"`           // slowest first
}

// ErrGap says that a speed would be in no zone, ErrOverlap that it would be in
// two.
var (
	ErrGap     = errors.New("zones: gap")
	ErrOverlap = errors.New("zones: overlap")
)

// Check reports all faults of s that can be seen without a swimmer: a zone
// without a name or with another's, a bound that has no meaning, an end of the
// axis that is not open ([ErrGap]), a bound inside it that is ([ErrOverlap]), a
// zone that does not start where the one before it ends ([ErrGap], [ErrOverlap],
// or both, if only a swimmer's speeds can tell which).
func (s Scheme) Check() error {
	var errs []error
	if len(s.Zones) == 0 {
		errs = append(errs, faultf(ErrMissing, "scheme %q: found no zone, want one or more", s.Name))
	}
	seen := map[string]bool{}
	for i, z := range s.Zones {
		if z.Name == "" {
			errs = append(errs, faultf(ErrMissing, "scheme %q: zone %d: found no name, want one", s.Name, i+1))
		} else if seen[z.Name] {
			errs = append(errs, faultf(ErrValue, "scheme %q: found two zones named %q, want different names", s.Name, z.Name))
		}
		seen[z.Name] = true
		for _, b := range []Bound{z.From, z.To} {
			if err := b.Check(); err != nil {
				errs = append(errs, faultf(ErrValue, "zone %q: %s", z.Name, plain(err)))
			}
		}
		first, last := i == 0, i == len(s.Zones)-1
		if first && z.From.Of != Open {
			errs = append(errs, faultf(ErrGap, "gap: found no zone below %v, the start of zone %q, want the slowest zone open", z.From, z.Name))
		}
		if last && z.To.Of != Open {
			errs = append(errs, faultf(ErrGap, "gap: found no zone above %v, the end of zone %q, want the fastest zone open", z.To, z.Name))
		}
		if !first {
			if err := join(s.Zones[i-1], z); err != nil {
				errs = append(errs, err)
			}
		}
	}
	return errors.Join(errs...)
}

// join checks that zone b starts where zone a ends.
func join(a, b Part) error {
	to, from := a.To.normal(), b.From.normal()
	kind, word := errors.Join(ErrGap, ErrOverlap), "gap or overlap"
	switch {
	case to.Of == Open || from.Of == Open:
		kind, word = ErrOverlap, "overlap"
	case to == from:
		return nil
	case to.Of == from.Of && to.Amount < from.Amount:
		kind, word = ErrGap, "gap"
	case to.Of == from.Of:
		kind, word = ErrOverlap, "overlap"
	}
	return faultf(kind, "%s: found the end of zone %q at %v and the start of zone %q at %v, want one bound", word, a.Name, to, b.Name, from)
}

// ReadScheme reads a scheme from JSON (see [Scheme]) and checks it. A field that
// it does not know is an error, since a misspelt bound would be an open one, and
// so is anything after the scheme.
func ReadScheme(r io.Reader) (Scheme, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return Scheme{}, fmt.Errorf("zones: scheme: %w", err)
	}
	var s Scheme
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&s); err != nil {
		return Scheme{}, inScheme(text, d.InputOffset(), err)
	}
	if _, err := d.Token(); err != io.EOF {
		return Scheme{}, faultf(ErrValue, "scheme: found more text after its end, want one scheme")
	}
	if err := s.Check(); err != nil {
		return Scheme{}, err
	}
	return s, nil
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
	for _, next := range s.Zones[1:] { // each from where the one before ends: Check saw to it
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
