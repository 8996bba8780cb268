package protocol

import (
	"errors"
	"fmt"
	"math"

	"example.com/steptest/lactate"
	"gonum.org/v1/gonum/stat/distuv"
)

// Outlook is what a plan will be able to tell, before it is swum. The zero
// value says nothing.
type Outlook struct {
	LT1   Forecast      `json:"lt1"`
	LT2   Forecast      `json:"lt2"`
	Shift ShiftForecast `json:"shift"`
	// Confidence of the intervals, between 0 and 1.
	Confidence float64 `json:"confidence"`
	// LeftOut holds the indices of those of Expected.Tests that say nothing here,
	// because one shape for them and the last test is less than a twentieth as
	// probable as a shape for each. Nil means none.
	LeftOut []int `json:"left_out,omitzero"`
}

// ErrForecast is wrapped by errors of [Plan.Outlook], [Plan.Better] and
// [Plan.NextRepeat] that say why there is no answer.
var ErrForecast = errors.New("protocol: forecast")

// nodes of the rate in a forecast, and in a search for better targets.
const (
	forecastNodes = 15
	searchNodes   = 7
)

// Outlook returns what the plan will be able to tell of a swimmer, with the
// methods, noise, confidence and power of the options: the expected interval of
// each threshold, and the smallest shift of the curve it can detect beside the
// last of the swimmer's earlier tests, or beside a test by the same plan where
// there is none. Nothing is drawn at random, and an answer takes some five
// milliseconds, and a few more for each earlier test.
//
// Each interval is the standard error by the delta method, as
// [lactate.Analysis.DeltaInterval] gives it on what a curve would show without
// noise, times Student's t with the degrees of freedom of the test and the
// weight of the stated noise; the shift's is that of one fit to both tests. It
// is averaged over what is believed of the swimmer. Checked by simulation, see
// the package documentation.
//
// It needs four repeats or more, each with a target and faster than the last.
// The error wraps [ErrForecast].
func (p Plan) Outlook(e Expected, o lactate.Options) (*Outlook, error) {
	o, err := withDefaults(o)
	if err != nil {
		return nil, err
	}
	if err := p.forecastable(4); err != nil {
		return nil, err
	}
	b, err := e.belief(p.final(), nil, o)
	if err != nil {
		return nil, err
	}
	all, err := b.candidates(forecastNodes)
	if err != nil {
		return nil, err
	}
	out, err := p.outlook(all, e, o)
	if err != nil {
		return nil, err
	}
	out.LeftOut = b.leftOut
	return out, nil
}

// final is the speed of the last repeat.
func (p Plan) final() float64 { return p.Repeats[len(p.Repeats)-1].speed().MetresPerSecond() }

// forecastable says whether the targets determine what is forecast.
func (p Plan) forecastable(least int) error {
	if len(p.Repeats) < least {
		return fmt.Errorf("%w: found %s, want %d or more", ErrForecast, counted(len(p.Repeats), "repeat"), least)
	}
	for i, t := range p.Repeats {
		if !(t.speed() > 0) {
			return fmt.Errorf("%w: repeat %d has no target", ErrForecast, t.Number)
		}
		if i > 0 && !(t.speed() > p.Repeats[i-1].speed()) {
			return fmt.Errorf("%w: repeat %d is not faster than repeat %d", ErrForecast, t.Number, p.Repeats[i-1].Number)
		}
	}
	return nil
}

func (p Plan) outlook(all []candidate, e Expected, o lactate.Options) (*Outlook, error) {
	out := &Outlook{Confidence: o.Confidence}
	certain := o
	certain.Noise.Weight = math.Inf(1)
	certain.Methods, certain.Resamples = []lactate.Method{}, 0
	z := distuv.UnitNormal.Quantile(1 - (1-o.Confidence)/2)
	lt1, lt2 := tally{method: o.LT1}, tally{method: o.LT2}
	dof := 0.0
	for _, c := range all {
		a, err := lactate.Analyze(c.test(p.Repeats), certain)
		if err != nil {
			lt1.miss(c.weight, err)
			lt2.miss(c.weight, err)
			continue
		}
		dof = priorWeight(o.Noise) + degreesOfFreedom(a, len(p.Repeats))
		for _, t := range []*tally{&lt1, &lt2} {
			x, err := a.DeltaInterval(t.method)
			if err != nil {
				t.miss(c.weight, err)
				continue
			}
			t.add(c.weight, x.Value, (x.High-x.Low)/(2*z))
		}
	}
	var err error
	half := math.NaN()
	switch {
	case dof > 0:
		half = quantile(dof, 1-(1-o.Confidence)/2)
	case lt1.weight > 0 || lt2.weight > 0:
		return nil, fmt.Errorf("%w: no degrees of freedom are left, and the noise stated has no weight", ErrForecast)
	}
	if out.LT1, err = lt1.forecast(half); err != nil {
		return nil, err
	}
	if out.LT2, err = lt2.forecast(half); err != nil {
		return nil, err
	}
	out.Shift, err = p.shift(all, e, o)
	return out, err
}

// tally averages over candidates.
type tally struct {
	method                 lactate.Method
	weight, missed         float64
	sum, square, deviation float64
	err                    error // the last one
}

func (t *tally) miss(weight float64, err error) {
	t.missed += weight
	t.err = err
}

func (t *tally) add(weight, x, sd float64) {
	t.weight += weight
	t.sum += weight * x
	t.square += weight * x * x
	t.deviation += weight * sd
}

func (t *tally) forecast(half float64) (Forecast, error) {
	if !(t.weight > 0) {
		return Forecast{}, fmt.Errorf("%w: %v is found for no curve that is believed: %w", ErrForecast, t.method, t.err)
	}
	mean, sd := t.sum/t.weight, t.deviation/t.weight
	return Forecast{
		Method:        t.method,
		Speed:         lactate.Estimate{Value: mean, Low: mean - half*sd, High: mean + half*sd},
		StandardError: sd,
		Unknown:       math.Sqrt(max(t.square/t.weight-mean*mean, 0)),
		Missed:        t.missed / (t.missed + t.weight),
	}, nil
}

// shift forecasts the comparison with an earlier test.
func (p Plan) shift(all []candidate, e Expected, o lactate.Options) (ShiftForecast, error) {
	before := p.Repeats
	var earlier []lactate.Stage
	if n := len(e.Tests); n > 0 {
		earlier = e.Tests[n-1].Sampled()
	}
	var s ShiftForecast
	best := 0
	known := 0.0 // weight of the curves on which the two tests determine a shift
	span := p.final() - p.Repeats[0].speed().MetresPerSecond()
	var w spread
	for i, c := range all {
		if c.weight > all[best].weight {
			best = i
		}
		stages := earlier
		if stages == nil {
			stages = c.test(before).Stages
		}
		sd, ok := w.shift(c, stages, c.test(p.Repeats).Stages, o.Noise)
		if ok && sd <= span {
			s.StandardError += c.weight * sd
			known += c.weight
		}
	}
	if !(known >= 0.5) {
		return ShiftForecast{}, nil
	}
	s.StandardError /= known
	// How many standard errors are detectable depends on the numbers of
	// stages alone; Compare knows.
	c := all[best]
	first := lactate.Test{Stages: c.test(before).Stages}
	if earlier != nil {
		first.Stages = make([]lactate.Stage, len(earlier))
		for i, st := range earlier {
			first.Stages[i] = lactate.Stage{Intensity: st.Intensity, Lactate: c.lactate(st.Intensity), Duration: st.Duration}
		}
	}
	oo := o
	oo.Methods, oo.Resamples = []lactate.Method{}, 0
	if oo.Noise.Weight < 0 {
		oo.Noise.Weight = 0.1 // next to none: the least that Compare takes, which has nothing else to go by here
	}
	change, err := lactate.Compare(first, c.test(p.Repeats), oo)
	if err != nil {
		return s, fmt.Errorf("%w: %w", ErrForecast, err)
	}
	s.Detectable = change.Measured.Detectable / change.Measured.StandardError * s.StandardError
	// The days are known, so that more degrees of freedom go with both together
	// (Satterthwaite, as in Compare): of the weight that gives so many.
	day := o.DayToDay * change.Reference
	measured, days := s.StandardError*s.StandardError, 2*day*day
	left := float64(change.DegreesOfFreedom)
	share := measured / (measured + days)
	oo.Noise.Weight = (priorWeight(oo.Noise)+left)/(share*share) - left
	change, err = lactate.Compare(first, c.test(p.Repeats), oo)
	if err != nil {
		return s, fmt.Errorf("%w: %w", ErrForecast, err)
	}
	s.BetweenDays = change.Measured.Detectable / change.Measured.StandardError * math.Sqrt(measured+days)
	return s, nil
}

// withDefaults fills in the options that a forecast reads, as package lactate
// documents them, and refuses what it would refuse.
func withDefaults(o lactate.Options) (lactate.Options, error) {
	if o.LT1 == nil {
		o.LT1 = lactate.AboveBaseline{Rise: 0.5}
	}
	if o.LT2 == nil {
		o.LT2 = lactate.MaxDistance{}
	}
	if o.Noise == (lactate.Noise{Weight: o.Noise.Weight}) {
		weight := o.Noise.Weight
		o.Noise = lactate.DefaultNoise()
		o.Noise.Weight = weight
	}
	if o.Confidence == 0 {
		o.Confidence = 0.90
	}
	if o.DayToDay == 0 {
		o.DayToDay = 0.008
	}
	if !(o.Confidence > 0 && o.Confidence < 1) {
		return o, fmt.Errorf("%w: found a confidence of %g, want one between 0 and 1", ErrForecast, o.Confidence)
	}
	if !(o.DayToDay >= 0 && o.DayToDay < 1) {
		return o, fmt.Errorf("%w: found %g from day to day, want a share of the speed, zero or above", ErrForecast, o.DayToDay)
	}
	n := o.Noise
	for _, v := range []float64{n.Absolute, n.Relative, n.Resolution, n.Timing.Seconds()} {
		if !(v >= 0 && v <= math.MaxFloat64) {
			return o, fmt.Errorf("%w: found a noise of %g, want numbers of zero or above", ErrForecast, v)
		}
	}
	if sd := n.Lactate(1); !(sd >= 1e-6 && sd <= 1e3) || math.IsNaN(n.Weight) {
		return o, fmt.Errorf("%w: found a noise of %+v, want an error of 1e-6 to 1000 mmol/L at 1 mmol/L, and a weight", ErrForecast, n)
	}
	return o, nil
}

// priorWeight is the number of observations for which the stated noise counts.
func priorWeight(n lactate.Noise) float64 {
	switch {
	case n.Weight == 0:
		return 4
	case n.Weight < 0:
		return 0
	}
	return n.Weight
}

// degreesOfFreedom are those of the fit, where the curve tells.
func degreesOfFreedom(a *lactate.Analysis, stages int) float64 {
	if c, ok := a.Curve.(interface{ DegreesOfFreedom() int }); ok {
		return float64(c.DegreesOfFreedom())
	}
	return float64(max(stages-3, 0))
}

// quantile of Student's t, or of the normal distribution where nothing tells the
// two apart.
func quantile(dof, p float64) float64 {
	if dof >= 1e7 {
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Sigma: 1, Nu: dof}.Quantile(p)
}
