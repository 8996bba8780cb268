package lactate

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate/internal/reading"
)

// ErrNotAnalyzed is returned by an [Analysis] or a [Season] that was put together by hand:
// it holds no test to ask.
var ErrNotAnalyzed = errors.New("lactate: found results that no analysis made, want those that Analyze or FollowSeason returned")

// check returns an error for an analysis that was not made here.
func (a *Analysis) check() error {
	if a.Curve == nil || a.opts.Curve == nil || len(a.stages) == 0 {
		return ErrNotAnalyzed
	}
	return nil
}

// LactateAt returns the fitted curve at an intensity (mmol/L). Outside the tested range the
// error is an [*OutsideRangeError].
func (a *Analysis) LactateAt(intensity float64) (float64, error) {
	if err := a.check(); err != nil {
		return 0, err
	}
	if !(intensity >= a.Lowest && intensity <= a.Highest) {
		return 0, &OutsideRangeError{What: "intensity", Value: intensity, Lowest: a.Lowest, Highest: a.Highest}
	}
	return a.Curve.Predict(intensity), nil
}

// IntensityAt returns where the fitted curve rises through a lactate (mmol/L). Outside what it
// reaches in the tested range the error is a [*NotReachedError].
func (a *Analysis) IntensityAt(lactate float64) (float64, error) {
	if err := a.check(); err != nil {
		return 0, err
	}
	if !positive(lactate) {
		return 0, fmt.Errorf("lactate: found %v mmol/L, want a lactate above zero", lactate)
	}
	return Fixed{Lactate: lactate}.Locate(a.test, a.Curve)
}

// Test returns a copy of the test that was read: its stages with a lactate sample in order of
// intensity, then the others.
func (a *Analysis) Test() Test {
	t := a.test
	t.Stages, t.Recovery = slices.Clone(t.Stages), slices.Clone(t.Recovery)
	return t
}

// Reference returns the intensity at which shifts are expressed as a per cent: LT2, or the
// middle of the tested range if there is none.
func (a *Analysis) Reference() float64 {
	if a.LT2.Err == nil {
		return a.LT2.Intensity.Value
	}
	return a.Lowest/2 + a.Highest/2
}

// DegreesOfFreedom returns what the fit left of the samples; zero for a curve that does not
// say, and is taken to pass through them.
func (a *Analysis) DegreesOfFreedom() int { return reading.DegreesOfFreedom(a.Curve) }

// HeartRateAt returns the heart rate at an intensity (1/min), read between the stages along
// straight lines. Outside the stages that have one the error is an [*OutsideRangeError]; it
// wraps [ErrMissing] if none has. [heartrate.Fit] reads all stages together, with an interval.
func (a *Analysis) HeartRateAt(intensity float64) (float64, error) {
	h := a.hearts
	if len(h.Xs) == 0 {
		return 0, fmt.Errorf("lactate: heart rate: %w", ErrMissing)
	}
	y := h.At(intensity)
	if math.IsNaN(y) {
		return 0, &OutsideRangeError{What: "intensity", Value: intensity, Lowest: h.Xs[0], Highest: h.Xs[len(h.Xs)-1]}
	}
	return y, nil
}
