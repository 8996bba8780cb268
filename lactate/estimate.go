package lactate

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Estimate is a value with its interval. Low and High are NaN if no
// interval was asked for, or there can be none, as of a lactate that the definition fixes.
// An infinite Low or High says that the interval is
// open on that side: the tested range ended before it did.
type Estimate struct{ Value, Low, High float64 }

// exactly returns an estimate without an interval.
func exactly(v float64) Estimate { return Estimate{v, math.NaN(), math.NaN()} }

// none is the estimate of nothing.
func none() Estimate { return exactly(math.NaN()) }

// HasInterval reports whether an interval was computed, open or not. The zero value has
// none.
func (e Estimate) HasInterval() bool {
	return !math.IsNaN(e.Low) && !math.IsNaN(e.High) && e != Estimate{}
}

// String prints the value with its interval, "1.154 (1.151 to 1.157)", to two digits of
// the interval's half width: "1.154 (1.151 to open)" if it is open, "1.154" without one,
// and "none" if there is no value. Tables and pictures print in other ways.
func (e Estimate) String() string {
	if math.IsNaN(e.Value) {
		return "none"
	}
	if !e.HasInterval() {
		return strconv.FormatFloat(e.Value, 'g', 4, 64)
	}
	half := 0.0
	for _, end := range []float64{e.Low, e.High} {
		if d := math.Abs(end - e.Value); finite(d) {
			half = max(half, d)
		}
	}
	print := func(v float64) string {
		switch {
		case math.IsInf(v, 0):
			return "open"
		case half == 0:
			return strconv.FormatFloat(v, 'g', 4, 64)
		}
		decimals := min(max(1-int(math.Floor(math.Log10(half))), 0), 15)
		s := strconv.FormatFloat(v, 'f', decimals, 64)
		if strings.Trim(s, "-0.") == "" { // no -0.00
			s = strings.TrimPrefix(s, "-")
		}
		return s
	}
	return print(e.Value) + " (" + print(e.Low) + " to " + print(e.High) + ")"
}

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
