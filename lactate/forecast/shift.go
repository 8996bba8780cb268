package forecast

import (
	"fmt"
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/uncertain"
)

// Shift is what change of the curve a test will be able to show, set beside an
// earlier one (m/s). The zero value says that the two tests determine no shift on
// most of the probable curves: its standard error would exceed the range of the
// speeds.
type Shift struct {
	// StandardError of the shift, averaged over the posterior of the curve.
	StandardError float64 `json:"standard_error_m_per_s"`
	// Detectable is the smallest true shift that the two tests show with the
	// default power of [lactate.CompareOptions], as a grade that is sure.
	Detectable float64 `json:"detectable_shift_m_per_s"`
	// BetweenDays is the same if the curve also moves from day to day.
	BetweenDays float64 `json:"detectable_shift_between_days_m_per_s"`
}

// forecastShift forecasts the comparison with the last of the earlier tests, or with
// a test of the same stages.
func forecastShift(stages []lactate.Stage, all []candidate, e Expected, o lactate.Options) (Shift, error) {
	var earlier []lactate.Stage
	if n := len(e.Tests); n > 0 {
		earlier = e.Tests[n-1].Sampled()
	}
	var s Shift
	compare, err := e.comparison(o)
	if err != nil {
		return s, err
	}
	best := 0
	known := 0.0 // weight of the curves on which the two tests determine a shift
	span := final(stages) - stages[0].Intensity
	var w derivatives
	for i, c := range all {
		if c.weight > all[best].weight {
			best = i
		}
		before := earlier
		if before == nil {
			before = stages
		}
		sd, ok := w.shift(c, before, stages, o.Noise)
		if ok && sd <= span {
			s.StandardError += c.weight * sd
			known += c.weight
		}
	}
	if !(known >= 0.5) {
		return Shift{}, nil
	}
	s.StandardError /= known
	if earlier == nil {
		earlier = stages
	}
	// The day counts at the place at which Compare would express the shift.
	first, err := lactate.Analyze(all[best].test(earlier), o)
	if err != nil {
		return s, fmt.Errorf("%w: %w", ErrNoAnswer, err)
	}
	// A common exponential with a shift has four parameters.
	dof := o.Noise.PriorWeight() + float64(len(earlier)+len(stages)-4)
	day := compare.DayToDay * first.Reference()
	measured, days := s.StandardError*s.StandardError, 2*day*day
	s.Detectable = s.StandardError * uncertain.Detectable(dof, 1-o.Confidence, compare.Power)
	s.BetweenDays = math.Sqrt(measured+days) * uncertain.Detectable(uncertain.Satterthwaite(measured, days, dof), 1-o.Confidence, compare.Power)
	return s, nil
}
