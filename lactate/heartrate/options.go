package heartrate

import (
	"errors"
	"fmt"
)

// Options are the choices of [Fit] and [Compare]. The zero value is the documented default.
type Options struct {
	// Confidence of the intervals, between 0 and 1. Zero means 0.90.
	Confidence float64
	// WithoutLast leaves the stage of highest intensity out of the line: an
	// all-out effort ends at the maximal heart rate, where the line does not go
	// on. The tested range then ends at the stage before. Zero means that all
	// stages count.
	WithoutLast bool
	// DayToDay is the standard deviation between days of the heart rate at one
	// intensity in an athlete who has not changed [1/min]. It is used by
	// [Compare] alone. Zero means 3: Lamberts and others (2004),
	// J Strength Cond Res 18:641–645, from memory; runners, not swimmers.
	DayToDay float64
}

// withDefaults fills in what was left zero and refuses what cannot be right.
func (o Options) withDefaults() (Options, error) {
	var errs []error
	if o.Confidence == 0 {
		o.Confidence = 0.90
	}
	if !(o.Confidence > 0 && o.Confidence < 1) {
		errs = append(errs, fmt.Errorf("heartrate: options: Confidence: found %v, want a number between 0 and 1, such as 0.90", o.Confidence))
	}
	if o.DayToDay == 0 {
		o.DayToDay = 3
	}
	if !(o.DayToDay >= 0 && o.DayToDay <= 250) {
		errs = append(errs, fmt.Errorf("heartrate: options: DayToDay: found %v, want beats per minute, such as 3", o.DayToDay))
	}
	return o, errors.Join(errs...)
}
