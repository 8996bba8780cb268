package forecast

import (
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
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
	// power, and the false alarms, of the options.
	Detectable float64 `json:"detectable_shift_m_per_s"`
	// BetweenDays is the same if the curve also moves from day to day.
	BetweenDays float64 `json:"detectable_shift_between_days_m_per_s"`
}

// shiftTruths is on how many curves a shift is forecast.
const shiftTruths = 50

// forecastShift forecasts the comparison with the last of the earlier tests, or with
// a test of the same stages: one exponential fitted to both, as lactate.Compare
// does, by its standard error on the exponential nearest to each probable curve.
func forecastShift(stages []lactate.Stage, truths []truth, e Expected, o lactate.Options) (s Shift) {
	before := stages
	if n := len(e.Tests); n > 0 {
		before = e.Tests[n-1].Sampled()
	}
	truths = truths[:min(len(truths), shiftTruths)]
	span := final(stages) - stages[0].Intensity
	known, place, read := 0.0, 0.0, 0.0
	for _, t := range truths {
		if x, err := t.locate(o.LT2, before); err == nil {
			place += x
			read++
		}
		if sd, ok := t.shiftError(before, stages, o.Noise); ok && sd <= span {
			s.StandardError += sd
			known++
		}
	}
	if !(known >= float64(len(truths))/2) {
		return Shift{}
	}
	s.StandardError /= known
	// The day counts at the place at which Compare expresses the shift.
	at := (before[0].Intensity + final(before)) / 2
	if 2*read >= float64(len(truths)) {
		at = place / read
	}
	// A common exponential with a shift has four parameters.
	dof := o.Noise.PriorWeight() + float64(len(before)+len(stages)-4)
	day := o.DayToDay * at
	measured, days := s.StandardError*s.StandardError, 2*day*day
	s.Detectable = s.StandardError * uncertain.Detectable(dof, o.FalseAlarms, o.Power)
	s.BetweenDays = math.Sqrt(measured+days) * uncertain.Detectable(uncertain.Satterthwaite(measured, days, dof), o.FalseAlarms, o.Power)
	return s
}

// shiftError returns the standard error of the shift between two tests of one
// exponential, y = A + β·exp(C·(x − δ·after − ref)).
func (t truth) shiftError(before, after []lactate.Stage, noise lactate.Noise) (sd float64, ok bool) {
	var xs, ys []float64
	for _, stages := range [2][]lactate.Stage{before, after} {
		for _, s := range stages {
			xs, ys = append(xs, s.Intensity), append(ys, t.lactate(s.Intensity))
		}
	}
	var c curve.Exponential
	if c.Fit(xs, ys) != nil || !(c.C > 0) {
		return 0, false
	}
	ref := final(after)
	var w uncertain.Sandwich
	w.Begin(4)
	for i, stages := range [2][]lactate.Stage{before, after} {
		for _, s := range stages {
			u := math.Exp(c.C * (s.Intensity - ref))
			rise := c.Predict(s.Intensity) - c.A
			sd := noise.Stage(s, max(c.A+rise, leastLactate), c.C*rise)
			w.Add(sd, 1, u, rise*(s.Intensity-ref)*c.C, -rise*float64(i)) // by C and δ in units of 1/C
		}
	}
	if w.Solve(1) != nil {
		return 0, false
	}
	v := w.Covariance(3, 3)
	return math.Sqrt(v) / c.C, !math.IsNaN(v)
}
