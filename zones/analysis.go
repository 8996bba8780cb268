package zones

import (
	"errors"
	"fmt"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// ErrUnit says that zones need speeds, and the test has none.
var ErrUnit = errors.New("zones: intensities are no speeds")

// speedOf returns how many m/s one unit of the test's intensity is.
func speedOf(unit string) (float64, error) {
	switch unit {
	case "", lactate.MetresPerSecond:
		return 1, nil
	case lactate.KilometresPerHour:
		return 1 / 3.6, nil
	}
	return 0, faultf(ErrUnit, "found intensities in %s, want speeds in m/s or km/h", unit)
}

// ProfileOf returns what the analysis of a test whose intensities are speeds (m/s, or
// km/h if its unit says so) says about a swimmer: LT1 and LT2 with their intervals, the fastest repeat,
// lactate on the fitted curve, and heart rates as read between the repeats; those
// are nil if neither threshold has one. A threshold without a speed is an error
// that wraps its own, and one of a test in another unit wraps [ErrUnit]. A pair that does
// not come in order, or lies closer than its intervals can tell apart
// ([lactate.WarnOutOfOrder], [lactate.WarnPairUnseen]), is one that wraps [ErrOrder]: no zones can
// be drawn on it.
func ProfileOf(a *lactate.Analysis) (Profile, error) {
	unit, err := speedOf(a.Unit)
	if err != nil {
		return Profile{}, err
	}
	var errs []error
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
		if th.Err != nil {
			errs = append(errs, fmt.Errorf("zones: no LT%d: %w", i+1, th.Err))
		}
	}
	if err := errors.Join(errs...); err != nil {
		return Profile{}, err
	}
	for _, w := range a.Warnings {
		if w.Kind == lactate.WarnOutOfOrder || w.Kind == lactate.WarnPairUnseen {
			return Profile{}, faultf(ErrOrder, "%s", w.Text("repeat"))
		}
	}
	p := Profile{
		LT1: thresholdOf(a.LT1.Intensity, unit),
		LT2: thresholdOf(a.LT2.Intensity, unit),
		Top: pace.Speed(a.Highest * unit),
		Lactate: func(v pace.Speed) (float64, error) {
			return a.LactateAt(float64(v) / unit)
		},
		SpeedAtLactate: func(level float64) (pace.Speed, error) {
			x, err := a.IntensityAt(level)
			return pace.Speed(x * unit), err
		},
	}
	at := func(v pace.Speed) (float64, error) { return a.HeartRateAt(float64(v) / unit) }
	_, first := at(p.LT1.Speed)
	_, second := at(p.LT2.Speed)
	if first == nil || second == nil {
		p.HeartRate = at
	}
	return p, nil
}

func thresholdOf(e lactate.Estimate, unit float64) Threshold {
	return Threshold{Speed: pace.Speed(e.Value * unit), Low: pace.Speed(e.Low * unit), High: pace.Speed(e.High * unit)}.settled()
}
