package lactate

import (
	"encoding/json"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// ShapeTest is an F test of separate exponentials (three parameters for each test)
// against one exponential with shifts, whatever the common shape of the comparison.
type ShapeTest struct {
	F       float64 // NaN where too few stages are left for it, or no exponential fits
	PValue  float64 // NaN where F is
	Changed bool    // PValue is below (1 − Options.Confidence)/2, 0.05 by default
}

// MarshalJSON leaves out F and PValue where they are NaN.
func (s ShapeTest) MarshalJSON() ([]byte, error) {
	var out struct {
		F       *float64 `json:"f,omitempty"`
		PValue  *float64 `json:"p_value,omitempty"`
		Changed bool     `json:"changed"`
	}
	out.Changed = s.Changed
	if !math.IsNaN(s.F) {
		out.F, out.PValue = &s.F, &s.PValue
	}
	return json.Marshal(out)
}

// testShape compares the joint fit, if there is one, with a fit of its own for every
// test.
func testShape(j *joint, tests []Test, o CompareOptions) ShapeTest {
	none := ShapeTest{F: math.NaN(), PValue: math.NaN()}
	if j == nil {
		return none
	}
	separate := 0.0
	for _, t := range tests {
		own, err := fitJoint([]Test{t}, o.Noise)
		if err != nil {
			return none
		}
		separate += own.RSS()
	}
	extra := float64(2 * (len(tests) - 1))
	left := float64(len(j.stages) - 3*len(tests))
	if left <= 0 || !(separate > 0) {
		return none
	}
	f := max(0, j.RSS()-separate) / extra / (separate / left)
	p := distuv.F{D1: extra, D2: left}.Survival(f)
	return ShapeTest{F: f, PValue: p, Changed: p < (1-o.Confidence)/2}
}
