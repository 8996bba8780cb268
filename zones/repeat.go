package zones

import (
	"errors"
	"fmt"
	"time"

	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/pace"
)

// A Repeat is one swim of a set, as swum or as planned. The zero value is no
// swim.
type Repeat struct {
	Distance  pace.Length   `json:"distance"`
	Time      time.Duration `json:"time_ns"`
	HeartRate float64       `json:"heart_rate_per_min,omitzero"` // at the end [1/min]; zero: not taken
}

// A RepeatError says which repeat is at fault. The zero value says nothing.
type RepeatError struct {
	Number int    // of the repeat, from 1
	Field  string // "distance", "time", "heart rate"
	Err    error
}

// Error returns one line.
func (e *RepeatError) Error() string {
	return fmt.Sprintf("zones: repeat %d, %s: %s", e.Number, e.Field, plain(e.Err))
}

// Unwrap returns e.Err.
func (e *RepeatError) Unwrap() error { return e.Err }

// check returns all faults of the repeats at once.
func check(repeats []Repeat) error {
	var errs []error
	if len(repeats) == 0 {
		errs = append(errs, faultf(ErrMissing, "found no repeat, want one or more"))
	}
	for i, r := range repeats {
		if _, err := pace.MeanSpeed(r.Distance, time.Second); err != nil {
			errs = append(errs, &RepeatError{i + 1, "distance", err})
		}
		if r.Time <= 0 {
			errs = append(errs, &RepeatError{i + 1, "time", faultf(ErrValue, "found %v, want a positive one", r.Time)})
		}
		if r.HeartRate != 0 && !beats(r.HeartRate) {
			errs = append(errs, &RepeatError{i + 1, "heart rate", faultf(ErrValue, "found %v /min, want %s, or 0 if not taken", r.HeartRate, wantBeats)})
		}
	}
	return errors.Join(errs...)
}

// beats reports whether a number can be a heart rate (1/min).
func beats(v float64) bool { return v >= heartrate.Least && v <= heartrate.Most }

var wantBeats = fmt.Sprintf("%d to %d", heartrate.Least, heartrate.Most)
