package between

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"time"
)

// Reading is one lactate taken in training. The zero value is no reading.
type Reading struct {
	// Date is the day; the time of day is not used.
	Date time.Time `json:"date"`
	// Intensity of the repeat, in the tests' unit.
	Intensity float64 `json:"intensity"`
	// Lactate at its end [mmol/L].
	Lactate float64 `json:"lactate_mmol_per_l"`
	// HeartRate is kept and not used [1/min]. Zero means not taken.
	HeartRate float64 `json:"heart_rate_per_min,omitzero"`
	// Kind names the repeats that it came from, such as "4 × 400 on 6:30". Readings of
	// one kind share an offset from the test's lactate at the same intensity. Empty means
	// not known: then the offset is that reading's alone.
	Kind string `json:"kind,omitzero"`
	// Analyser names the instrument, if it is not that of the tests: a kind has an offset
	// on each. Empty means that of the tests.
	Analyser string `json:"analyser,omitzero"`
}

// check reports every value that cannot be right.
func (r Reading) check(number int) error {
	var errs []error
	wrong := func(field string, found any, want string) {
		errs = append(errs, fmt.Errorf("between: reading %d: %s: found %v, want %s", number, field, found, want))
	}
	if y := r.Date.Year(); r.Date.IsZero() || y < 1900 || y > 2200 {
		wrong("date", r.Date.Format(time.DateOnly), "a date from 1900 to 2200")
	}
	if !(r.Intensity > 0 && r.Intensity <= math.MaxFloat64) {
		wrong("intensity", r.Intensity, "a finite number above zero")
	}
	if !(r.Lactate > 0 && r.Lactate <= 100) {
		wrong("lactate", r.Lactate, "a lactate above zero in mmol/L")
	}
	if !(r.HeartRate >= 0 && r.HeartRate <= math.MaxFloat64) {
		wrong("heart rate", r.HeartRate, "beats per minute, or zero if not taken")
	}
	return errors.Join(errs...)
}

// source is what has an offset of its own.
type source struct{ kind, analyser string }

func (r Reading) source() source { return source{r.Kind, r.Analyser} }

func (s source) compare(o source) int {
	return cmp.Or(cmp.Compare(s.kind, o.kind), cmp.Compare(s.analyser, o.analyser))
}

// dayOf numbers the calendar days.
func dayOf(t time.Time) int {
	y, m, d := t.Date()
	return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}
