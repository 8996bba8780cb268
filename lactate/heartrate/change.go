package heartrate

import (
	"errors"
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/uncertain"
)

// Change is how the heart rate at one intensity changed between two
// tests. The zero value is no change at no intensity.
type Change struct {
	Intensity float64 `json:"intensity"`
	// Before and After are the two lines there [1/min], each with the interval of
	// the line.
	Before lactate.Estimate `json:"before_per_min"`
	After  lactate.Estimate `json:"after_per_min"`
	// Measured is After − Before [1/min]. Its interval holds the scatter of the
	// readings about the two lines: it says whether the lines differ.
	Measured lactate.Estimate `json:"measured_change_per_min"`
	// BetweenDays is the same change, with an interval that also holds
	// Options.DayToDay, once for each test: it says whether the
	// athlete has changed by more than two days differ.
	BetweenDays lactate.Estimate `json:"change_between_days_per_min"`
}

// Compare returns the change of heart rate at equal intensity, from
// the line of one test to that of another.
//
// The scatter about both lines is taken to be the same and pooled, as by one
// regression in which each test has its own intercept and slope. Heart
// rate at equal speed falls with training, and also rises or falls with heat,
// sleep, illness and time of day (common practice): believe BetweenDays.
//
// It returns a [*lactate.OutsideRangeError] for an intensity outside either tested
// range, and an error for a line that was not fitted. Check: TestHeartRateReference.
func Compare(before, after *Line, intensity float64, o Options) (Change, error) {
	o, err := o.withDefaults()
	if err != nil {
		return Change{}, err
	}
	if err := errors.Join(before.inside(intensity), after.inside(intensity)); err != nil {
		return Change{}, err
	}
	c := Change{Intensity: intensity}
	c.Before, c.After = before.around(intensity, before.leverage(intensity), o.Confidence), after.around(intensity, after.leverage(intensity), o.Confidence)
	rss := 0.0
	dof := 0.0
	for _, l := range []*Line{before, after} {
		nu := float64(l.Stages - 2)
		rss += l.ResidualError * l.ResidualError * nu
		dof += nu
	}
	variance := rss / dof * (before.leverage(intensity) + after.leverage(intensity))
	t := uncertain.HalfWidth(dof, o.Confidence)
	d := after.at(intensity) - before.at(intensity)
	between := func(variance float64) lactate.Estimate {
		half := t * math.Sqrt(variance)
		return lactate.Estimate{Value: d, Low: d - half, High: d + half}
	}
	c.Measured = between(variance)
	c.BetweenDays = between(variance + 2*o.DayToDay*o.DayToDay)
	return c, nil
}
