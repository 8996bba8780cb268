package lactate

import (
	"errors"
	"math"
)

// HeartRateChange is how the heart rate at one intensity changed between two
// tests. The zero value is no change at no intensity.
type HeartRateChange struct {
	Intensity float64 `json:"intensity"`
	// Before and After are the two lines there [1/min], each with the interval of
	// the line.
	Before Estimate `json:"before_per_min"`
	After  Estimate `json:"after_per_min"`
	// Measured is After − Before [1/min]. Its interval holds the scatter of the
	// readings about the two lines: it says whether the lines differ.
	Measured Estimate `json:"measured_change_per_min"`
	// BetweenDays is the same change, with an interval that also holds
	// HeartRateOptions.DayToDay, once for each test: it says whether the
	// athlete has changed by more than two days differ.
	BetweenDays Estimate `json:"change_between_days_per_min"`
}

// CompareHeartRates returns the change of heart rate at equal intensity, from
// the line of one test to that of another.
//
// The scatter about both lines is taken to be the same and pooled, as by one
// regression in which each test has its own intercept and slope. Heart
// rate at equal speed falls with training, and also rises or falls with heat,
// sleep, illness and time of day (common practice): believe BetweenDays.
//
// It returns an [*OutsideRangeError] for an intensity outside either tested range, and
// an error for a line that was not fitted. Check: TestHeartRateReference.
func CompareHeartRates(before, after *HeartRateLine, intensity float64, o HeartRateOptions) (HeartRateChange, error) {
	o, err := o.withDefaults()
	if err != nil {
		return HeartRateChange{}, err
	}
	if err := errors.Join(before.inside(intensity), after.inside(intensity)); err != nil {
		return HeartRateChange{}, err
	}
	c := HeartRateChange{Intensity: intensity}
	c.Before, c.After = before.around(intensity, before.leverage(intensity), o.Confidence), after.around(intensity, after.leverage(intensity), o.Confidence)
	rss := 0.0
	dof := 0.0
	for _, l := range []*HeartRateLine{before, after} {
		nu := float64(l.Stages - 2)
		rss += l.ResidualError * l.ResidualError * nu
		dof += nu
	}
	variance := rss / dof * (before.leverage(intensity) + after.leverage(intensity))
	t := student(dof).Quantile((1 + o.Confidence) / 2)
	d := after.at(intensity) - before.at(intensity)
	between := func(variance float64) Estimate {
		half := t * math.Sqrt(variance)
		return Estimate{d, d - half, d + half}
	}
	c.Measured = between(variance)
	c.BetweenDays = between(variance + 2*o.DayToDay*o.DayToDay)
	return c, nil
}
