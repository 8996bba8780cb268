package zones

import (
	"errors"
	"fmt"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// ProfileOf returns what the analysis of a test whose intensities are speeds (m/s)
// says about a swimmer: LT1 and LT2 with their intervals, the fastest repeat,
// lactate on the fitted curve, and heart rates as read between the repeats; those
// are nil if neither threshold has one. A threshold without a speed is an error
// that wraps its own. A pair that does not come in order, or lies closer than its
// intervals can tell apart ([lactate.WarnOutOfOrder]), is one that wraps [ErrOrder]: no
// zones can be drawn on it.
func ProfileOf(a *lactate.Analysis) (Profile, error) {
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
		if w.Kind == lactate.WarnOutOfOrder {
			return Profile{}, faultf(ErrOrder, "%s", w.Text("repeat"))
		}
	}
	p := Profile{
		LT1: thresholdOf(a.LT1.Intensity),
		LT2: thresholdOf(a.LT2.Intensity),
		Top: pace.Speed(a.Highest),
		Lactate: func(v pace.Speed) (float64, error) {
			return a.LactateAt(float64(v))
		},
		SpeedAtLactate: func(level float64) (pace.Speed, error) {
			x, err := a.IntensityAt(level)
			return pace.Speed(x), err
		},
	}
	at := func(v pace.Speed) (float64, error) { return a.HeartRateAt(float64(v)) }
	_, first := at(p.LT1.Speed)
	_, second := at(p.LT2.Speed)
	if first == nil || second == nil {
		p.HeartRate = at
	}
	return p, nil
}

func thresholdOf(e lactate.Estimate) Threshold {
	return Threshold{Speed: pace.Speed(e.Value), Low: pace.Speed(e.Low), High: pace.Speed(e.High)}.settled()
}
