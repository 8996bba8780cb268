package protocol

import (
	"encoding/json"
	"math"

	"example.com/steptest/lactate"
)

// Forecast is what a plan will be able to say of one threshold. The zero value
// says nothing.
type Forecast struct {
	Method lactate.Method
	// Speed is where the threshold is expected, and around it the interval that
	// the test will give on average [m/s]; where in fact it will lie is for the
	// test to say.
	Speed lactate.Estimate
	// StandardError of the reading about the swimmer's own threshold of the
	// day [m/s], averaged over what is believed of the swimmer.
	StandardError float64
	// Unknown is the standard deviation of what is believed of the threshold
	// on the day of the plan [m/s].
	Unknown float64
	// Missed is the share of what is believed in which the test finds no such
	// threshold, between 0 and 1.
	Missed float64
}

// MarshalJSON writes the method by its name; a number that is not there (NaN) is
// left out. It is for readers of results and not read back.
func (f Forecast) MarshalJSON() ([]byte, error) {
	there := func(v float64) *float64 {
		if math.IsNaN(v) {
			return nil
		}
		return &v
	}
	out := struct {
		Method        string            `json:"method,omitzero"`
		Speed         *lactate.Estimate `json:"speed_m_per_s,omitzero"`
		StandardError *float64          `json:"standard_error_m_per_s,omitzero"`
		Unknown       *float64          `json:"unknown_m_per_s,omitzero"`
		Missed        *float64          `json:"missed,omitzero"`
	}{StandardError: there(f.StandardError), Unknown: there(f.Unknown), Missed: there(f.Missed)}
	if f.Method != nil {
		out.Method = f.Method.String()
	}
	if !math.IsNaN(f.Speed.Value) {
		out.Speed = &f.Speed
	}
	return json.Marshal(out)
}

// Width returns the width of the interval (m/s).
func (f Forecast) Width() float64 { return f.Speed.High - f.Speed.Low }

// ShiftForecast is what change of the curve a plan will be able to show, set
// beside an earlier test (m/s). The zero value says that the two tests determine no
// shift on most of the curves that are believed: its standard error would exceed
// the range of the plan's speeds.
type ShiftForecast struct {
	// StandardError of the shift, averaged over what is believed.
	StandardError float64 `json:"standard_error_m_per_s"`
	// Detectable is the smallest true shift that the two tests show with the
	// power, and the false alarms, of the options.
	Detectable float64 `json:"detectable_shift_m_per_s"`
	// BetweenDays is the same where the curve also moves from day to day.
	BetweenDays float64 `json:"detectable_shift_between_days_m_per_s"`
}
