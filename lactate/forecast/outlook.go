package forecast

import (
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/uncertain"
)

// Outlook is what a test will be able to tell, before it is swum. The zero value
// says nothing.
type Outlook struct {
	LT1   Threshold `json:"lt1"`
	LT2   Threshold `json:"lt2"`
	Shift Shift     `json:"shift"`
	// Confidence of the intervals, between 0 and 1.
	Confidence float64 `json:"confidence"`
	// LeftOut holds the indices of those of Expected.Tests that say nothing here,
	// because one shape for them and the last test is less than a twentieth as
	// probable as a shape for each (Bayes factor). Nil means none.
	LeftOut []int `json:"left_out,omitzero"`
}

// nodes of the rate in a forecast, and in a search for better targets.
const (
	forecastNodes = 15
	searchNodes   = 7
)

// Of returns what a test of these stages will be able to tell of a swimmer, with the
// methods, noise, confidence and power of the options: the expected interval of each
// threshold, and the smallest shift of the curve it can detect beside the last of the
// swimmer's earlier tests, or beside a test of the same stages if there is none.
//
// A stage has its intensity, which is its mean speed (m/s), and its duration, for the
// error of the watch; whatever else it has is ignored. There must be four or more,
// each faster than the last. The error wraps [ErrNoAnswer].
//
// Nothing is drawn at random; an answer takes some five milliseconds, and a few more
// for each earlier test. Each interval is the standard error by the delta method, as
// [lactate.Analysis.DeltaInterval] gives it on what a curve would show without noise,
// times Student's t with the degrees of freedom of the test and the weight of the
// stated noise; the shift's is that of one fit to both tests. All are averaged over
// the posterior of the swimmer's curve.
func Of(stages []lactate.Stage, e Expected, o lactate.Options) (*Outlook, error) {
	o, err := options(o)
	if err != nil {
		return nil, err
	}
	if err := check(stages); err != nil {
		return nil, err
	}
	p, err := e.posterior(final(stages), nil, o)
	if err != nil {
		return nil, err
	}
	all, err := p.candidates(forecastNodes)
	if err != nil {
		return nil, err
	}
	out := &Outlook{Confidence: o.Confidence, LeftOut: p.leftOut}
	if err := out.thresholds(stages, all, o); err != nil {
		return nil, err
	}
	if out.Shift, err = forecastShift(stages, all, e, o); err != nil {
		return nil, err
	}
	return out, nil
}

// final is the intensity of the last stage.
func final(stages []lactate.Stage) float64 { return stages[len(stages)-1].Intensity }

// thresholds forecasts LT1 and LT2.
func (out *Outlook) thresholds(stages []lactate.Stage, all []candidate, o lactate.Options) error {
	z := uncertain.HalfWidth(math.Inf(1), o.Confidence)
	lt1, lt2 := tally{method: o.LT1}, tally{method: o.LT2}
	dof := 0.0
	for _, c := range all {
		a, err := lactate.Analyze(c.test(stages), certain(o))
		if err != nil {
			lt1.miss(c.weight, err)
			lt2.miss(c.weight, err)
			continue
		}
		dof = o.Noise.PriorWeight() + float64(a.DegreesOfFreedom())
		for _, t := range []*tally{&lt1, &lt2} {
			x, err := a.DeltaInterval(t.method)
			if err != nil {
				t.miss(c.weight, err)
				continue
			}
			t.add(c.weight, x.Value, (x.High-x.Low)/(2*z))
		}
	}
	half := math.NaN()
	switch {
	case dof > 0:
		half = uncertain.HalfWidth(dof, o.Confidence)
	case lt1.weight > 0 || lt2.weight > 0:
		return errNoScale
	}
	var err error
	if out.LT1, err = lt1.forecast(half); err != nil {
		return err
	}
	out.LT2, err = lt2.forecast(half)
	return err
}
