package lactate

import (
	"encoding/json"
	"fmt"
	"slices"
)

// Reading is one definition read on one curve. The zero value is none.
type Reading struct {
	Method    Method
	Curve     string // its name; empty if the method is not read on a curve
	Intensity float64
}

// MarshalJSON writes the method by its name.
func (r Reading) MarshalJSON() ([]byte, error) {
	out := struct {
		Method    string  `json:"method,omitempty"`
		Curve     string  `json:"curve,omitempty"`
		Intensity float64 `json:"intensity"`
	}{"", r.Curve, r.Intensity}
	if r.Method != nil {
		out.Method = r.Method.String()
	}
	return json.Marshal(out)
}

// Spread says how far apart the definitions of one target lie. In the zero value none answered.
type Spread struct {
	Target   Target  `json:"target"`
	Answers  int     `json:"answers"`  // how many readings there are
	Refusals int     `json:"refusals"` // how many could not answer
	Lowest   Reading `json:"lowest"`
	Highest  Reading `json:"highest"`
}

// Spread returns that of the readings that estimate a target; one definition on two curves
// counts as two.
func (p *Panel) Spread(target Target) Spread {
	s := Spread{Target: target}
	for _, row := range p.Rows {
		if row.Definition.Target != target {
			continue
		}
		for k, cell := range row.Cells {
			r := Reading{Method: row.Definition.Method, Intensity: cell.Intensity.Value}
			if row.Definition.OnCurve && k < len(p.Curves) {
				r.Curve = p.Curves[k].Name
			}
			s.add(r, cell.Err)
		}
	}
	return s
}

// add counts a reading, or a refusal if err is not nil.
func (s *Spread) add(r Reading, err error) {
	if err != nil {
		s.Refusals++
		return
	}
	if s.Answers == 0 || r.Intensity < s.Lowest.Intensity {
		s.Lowest = r
	}
	if s.Answers == 0 || r.Intensity > s.Highest.Intensity {
		s.Highest = r
	}
	s.Answers++
}

// Spread returns how far the definitions of one threshold lie apart on this test: those of LT1,
// LT2 and Options.Methods that [Catalogue] says estimate the target, each once, if it
// [Analysis.Counts]. That is the error of choosing a definition; the interval of each is
// the error of that one definition.
func (a *Analysis) Spread(target Target) Spread {
	s := Spread{Target: target}
	seen := map[string]bool{}
	for _, th := range append([]Threshold{a.LT1, a.LT2}, a.Thresholds...) {
		if th.Method == nil {
			continue
		}
		name := th.Method.String()
		if seen[name] || targetOf(th.Method) != target || !a.Counts(th.Method) {
			continue
		}
		seen[name] = true
		s.add(Reading{Method: th.Method, Curve: CurveName(a.Curve), Intensity: th.Intensity.Value}, th.Err)
	}
	return s
}

// Counts reports whether a definition counts on this test: not if [WarnDmaxLow] is raised of it.
func (a *Analysis) Counts(m Method) bool {
	return m == nil || !slices.ContainsFunc(a.notCounted, func(o Method) bool { return o.String() == m.String() })
}

// targetOf returns what the catalogue says that a method estimates.
func targetOf(m Method) Target {
	for _, e := range catalogued() {
		if e.Method.String() == m.String() {
			return e.Target
		}
	}
	return OtherPoint
}

// String says how far apart the readings lie.
func (s Spread) String() string {
	if s.Answers == 0 {
		return fmt.Sprintf("no definition of %v answers", s.Target)
	}
	return fmt.Sprintf("%v from %.4g by %v to %.4g by %v", s.Target, s.Lowest.Intensity, s.Lowest.Method, s.Highest.Intensity, s.Highest.Method)
}
