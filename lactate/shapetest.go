package lactate

import (
	"encoding/json"

	"example.com/steptest/lactate/internal/words"
)

// ShapeTest is an F test of separate exponentials, three parameters each, against one with
// shifts, whatever the common shape of the comparison.
type ShapeTest struct {
	F       float64 // NaN where too few stages are left for it, or no exponential fits
	PValue  float64 // NaN where F is
	Changed bool    // PValue is below (1 − Options.Confidence)/2, 0.05 by default
}

// MarshalJSON leaves out F and PValue where they are NaN.
func (s ShapeTest) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		F       *float64 `json:"f,omitempty"`
		PValue  *float64 `json:"p_value,omitempty"`
		Changed bool     `json:"changed"`
	}{words.Known(s.F), words.Known(s.PValue), s.Changed})
}
