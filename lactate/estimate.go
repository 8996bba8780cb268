package lactate

import (
	"encoding/json"
	"fmt"
	"math"
)

// Estimate is a value with its interval. Low and High are NaN if no
// interval was asked for. An infinite Low or High says that the interval is
// open on that side: the tested range ended before it did.
type Estimate struct{ Value, Low, High float64 }

// exactly returns an estimate without an interval.
func exactly(v float64) Estimate { return Estimate{v, math.NaN(), math.NaN()} }

// none is the estimate of nothing.
func none() Estimate { return exactly(math.NaN()) }

// HasInterval reports whether an interval was computed, open or not.
func (e Estimate) HasInterval() bool { return !math.IsNaN(e.Low) && !math.IsNaN(e.High) }

// map1 applies an increasing function to value and interval; open ends stay
// open.
func (e Estimate) map1(f func(float64) float64) Estimate {
	g := func(v float64) float64 {
		if !finite(v) {
			return v
		}
		return f(v)
	}
	return Estimate{g(e.Value), g(e.Low), g(e.High)}
}

// MarshalJSON writes {"value": v, "low": l, "high": h} and leaves out whatever
// is not a number: an estimate of nothing is {}. An end that is open is
// "low_open": true or "high_open": true.
func (e Estimate) MarshalJSON() ([]byte, error) {
	out := estimateJSON{LowOpen: math.IsInf(e.Low, -1), HighOpen: math.IsInf(e.High, 1)}
	set := func(dst **float64, v float64) {
		if finite(v) {
			v += 0 // no -0
			*dst = &v
		}
	}
	set(&out.Value, e.Value)
	set(&out.Low, e.Low)
	set(&out.High, e.High)
	return json.Marshal(out)
}

// UnmarshalJSON reads what MarshalJSON writes; what is left out becomes NaN.
func (e *Estimate) UnmarshalJSON(data []byte) error {
	var in estimateJSON
	if err := json.Unmarshal(data, &in); err != nil {
		return fmt.Errorf("lactate: estimate: %w", err)
	}
	*e = none()
	get := func(dst *float64, src *float64) {
		if src != nil {
			*dst = *src
		}
	}
	get(&e.Value, in.Value)
	get(&e.Low, in.Low)
	get(&e.High, in.High)
	if in.LowOpen {
		e.Low = math.Inf(-1)
	}
	if in.HighOpen {
		e.High = math.Inf(1)
	}
	return nil
}

type estimateJSON struct {
	Value    *float64 `json:"value,omitempty"`
	Low      *float64 `json:"low,omitempty"`
	High     *float64 `json:"high,omitempty"`
	LowOpen  bool     `json:"low_open,omitempty"`
	HighOpen bool     `json:"high_open,omitempty"`
}

func finite(v float64) bool { return math.Abs(v) <= math.MaxFloat64 }
