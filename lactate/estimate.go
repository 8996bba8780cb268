package lactate

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"example.com/steptest/lactate/internal/words"
)

// Estimate is a value with its interval. Low and High are NaN if no interval was asked for, or
// there can be none, as of a lactate that the definition fixes. One that is infinite is open:
// the tested range ended before the interval did.
type Estimate struct{ Value, Low, High float64 }

// exactly returns an estimate without an interval.
func exactly(v float64) Estimate { return Estimate{v, math.NaN(), math.NaN()} }

// none is the estimate of nothing.
func none() Estimate { return exactly(math.NaN()) }

// HasInterval reports whether an interval was computed, open or not. The zero value has none.
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
	return words.Interval(e.Value, e.Low, e.High)
}

// map1 applies a function to value and ends; open ends stay open.
func (e Estimate) map1(f func(float64) float64) Estimate {
	g := func(v float64) float64 {
		if !finite(v) {
			return v
		}
		return f(v)
	}
	return Estimate{g(e.Value), g(e.Low), g(e.High)}
}

// holding widens an interval to hold its value: the reading of a curve can lie outside the
// central readings of its draws.
func (e Estimate) holding() Estimate {
	if e.HasInterval() && !math.IsNaN(e.Value) {
		e.Low, e.High = min(e.Low, e.Value), max(e.High, e.Value)
	}
	return e
}

// MarshalJSON writes {"value": v, "low": l, "high": h} without what is not a number; an end that
// is open is "low_open": true or "high_open": true.
func (e Estimate) MarshalJSON() ([]byte, error) {
	return json.Marshal(estimateJSON{words.Known(e.Value), words.Known(e.Low), words.Known(e.High), math.IsInf(e.Low, -1), math.IsInf(e.High, 1)})
}

// UnmarshalJSON reads what MarshalJSON writes; what is left out becomes NaN.
func (e *Estimate) UnmarshalJSON(data []byte) error {
	var in estimateJSON
	if err := json.Unmarshal(data, &in); err != nil {
		return fmt.Errorf("lactate: estimate: %w", err)
	}
	value := func(p *float64) float64 {
		if p == nil {
			return math.NaN()
		}
		return *p
	}
	*e = Estimate{value(in.Value), value(in.Low), value(in.High)}
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
