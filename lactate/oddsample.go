package lactate

import (
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
	"gonum.org/v1/gonum/stat/distuv"
)

// An oddSample is a stage whose lactate lies far outside what the other stages lead to
// expect.
type oddSample struct {
	stage    int       // index into Analysis.stages
	expected Estimate  // [mmol/L], with the central 90 %
	without  *Analysis // of the test without it, or nil
}

// warning says which sample it is and what the thresholds would be without it.
func (s oddSample) warning(a *Analysis, number int) Warning {
	words := "the sample of {stage} {1}, %.1f mmol/L, lies far outside what the others lead to expect, %.1f (%.1f to %.1f)"
	values := []any{a.stages[s.stage].Lactate, s.expected.Value, s.expected.Low, s.expected.High}
	if s.without != nil {
		pairs := [][2]Threshold{{a.LT1, s.without.LT1}, {a.LT2, s.without.LT2}}
		for i, p := range pairs {
			if p[0].Err == nil && p[1].Err == nil {
				by, way := 100*(p[1].Intensity.Value/p[0].Intensity.Value-1), "higher"
				if by < 0 {
					way = "lower"
				}
				if math.Abs(by) < 0.05 {
					words += fmt.Sprintf("; without it LT%d would not move", i+1)
					continue
				}
				words += fmt.Sprintf("; without it LT%d would be %%.1f %%%% %s", i+1, way)
				values = append(values, math.Abs(by))
			}
		}
	}
	return Warning{Kind: WarnOddSample, Stages: []int{number}, Words: words, Values: values}
}

const (
	// A test is looked through if a sample lies so many of its stated standard deviations
	// from the curve, or if all together lie so far off that it happens once in twenty.
	suspicious   = 2.5
	suspiciously = 0.95
	// So many stages are looked through at most: with more, no sample matters much.
	oddStages = 40
	// A sample is odd if one as far off is found in one good test of a hundred at most.
	odd = 0.01
)

// oddSample leaves out one inner stage at a time and predicts it from the others on
// [curve.Convex]; it returns the least likely of them if that is odd. It finds one bad inner
// sample: two of them hide one another, and the ends cannot be predicted, since nothing lies
// beyond them. False alarms and what is found: see TestOddSample.
func (a *Analysis) oddSample() (oddSample, bool) {
	n := len(a.stages)
	if n < fewStages || n > oddStages || !a.suspicious() {
		return oddSample{}, false
	}
	found, least := oddSample{}, odd/float64(n-2)
	var from *expectation
	for i := 1; i < n-1; i++ {
		x := a.stages[i].Intensity
		if x == a.Lowest || x == a.Highest {
			continue
		}
		e, err := expect(slices.Concat(a.stages[:i], a.stages[i+1:]), a.stages[i], a.opts.Noise)
		if err != nil {
			continue
		}
		if p := e.likely(a.stages[i].Lactate); p < least {
			found, least, from = oddSample{stage: i}, p, e
		}
	}
	if found.stage == 0 {
		return oddSample{}, false
	}
	found.expected = from.interval()
	rest := a.test
	rest.Stages = slices.Clone(a.test.Stages)
	rest.Stages[found.stage].Lactate = 0
	o := a.opts
	o.Resamples = 0
	if w, err := prepare(rest, o); err == nil {
		w.LT1, w.LT2 = w.read(w.test, o.LT1), w.read(w.test, o.LT2)
		found.without = w
	}
	return found, true
}

// suspicious reports whether the samples lie so far from the curve that one of them may
// be wrong.
func (a *Analysis) suspicious() bool {
	m := a.model()
	for i, s := range a.stages {
		if math.Abs(s.Lactate-m.truth[i]) > suspicious*m.sigma[i] {
			return true
		}
	}
	dof := m.scale.DoF
	return dof > 0 && m.scale.Sum > (distuv.ChiSquared{K: dof}).Quantile(suspiciously)
}

// expectation is what the other stages lead to expect of a sample.
type expectation struct {
	curve curve.Convex
	x, sd float64
}

// expect fits the other stages.
func expect(rest []Stage, at Stage, noise Noise) (*expectation, error) {
	xs, ys := make([]float64, len(rest)), make([]float64, len(rest))
	for i, s := range rest {
		xs[i], ys[i] = s.Intensity, s.Lactate
	}
	e := &expectation{x: at.Intensity}
	if err := noise.fit(&e.curve, xs, ys, uncertain.Weights(xs, ys, noise.about(rest))); err != nil {
		return nil, err
	}
	e.sd = noise.Stage(at, max(e.curve.Predict(e.x), smallestLactate), e.curve.PredictDerivative(e.x))
	return e, nil
}

// likely returns how likely a sample as far off as y is.
func (e *expectation) likely(y float64) float64 {
	below := e.curve.Below(e.x, y, e.sd)
	return 2 * min(below, 1-below)
}

// interval returns the median and the central 90 %, to 0.01 mmol/L.
func (e *expectation) interval() Estimate {
	value := func(share float64) float64 {
		lo, hi := 0.0, 100.0
		for hi-lo > 0.01 {
			if mid := lo/2 + hi/2; e.curve.Below(e.x, mid, e.sd) < share {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo/2 + hi/2
	}
	return Estimate{value(0.5), value(0.05), value(0.95)}
}
