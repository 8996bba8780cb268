package forecast

import (
	"encoding/json"
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/words"
)

// Threshold is what a test will be able to say of one threshold. The zero value
// says nothing.
type Threshold struct {
	Method lactate.Method
	// Speed is where the threshold is expected, and around it the interval that
	// the test will give on average [m/s].
	Speed lactate.Estimate
	// Unknown is the standard deviation of the posterior of the threshold itself, on
	// the day of the test [m/s].
	Unknown float64
	// Missed is the probability that the test finds no such threshold, between 0 and 1.
	Missed float64
}

// MarshalJSON writes the method by its name; a number that is not there (NaN) is
// left out. It is for readers of results and not read back.
func (t Threshold) MarshalJSON() ([]byte, error) {
	out := struct {
		Method  string            `json:"method,omitzero"`
		Speed   *lactate.Estimate `json:"speed_m_per_s,omitzero"`
		Unknown *float64          `json:"unknown_m_per_s,omitzero"`
		Missed  *float64          `json:"missed,omitzero"`
	}{Unknown: words.Known(t.Unknown), Missed: words.Known(t.Missed)}
	if t.Method != nil {
		out.Method = t.Method.String()
	}
	if !math.IsNaN(t.Speed.Value) {
		out.Speed = &t.Speed
	}
	return json.Marshal(out)
}

// Width returns the width of the interval (m/s).
func (t Threshold) Width() float64 { return t.Speed.High - t.Speed.Low }
