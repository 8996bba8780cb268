package lactate

import (
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate/internal/outlier"
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
	farOff         = 2.5
	farOffTogether = 0.95
	// So many stages are looked through at most: with more, no sample matters much.
	oddStages = 40
)

// findOdd returns the least likely inner sample if that is odd, see [outlier.Find]. False
// alarms and what is found: see TestOddSample.
func (a *Analysis) findOdd() (oddSample, bool) {
	n := len(a.stages)
	if n < fewStages || n > oddStages || !a.suspicious() {
		return oddSample{}, false
	}
	xs, ys := points(a.stages)
	found, ok := outlier.Find(xs, ys, a.opts.Noise.about(a.stages), a.opts.Noise.Weight)
	if !ok {
		return oddSample{}, false
	}
	odd := oddSample{stage: found.Point, expected: Estimate{found.Median, found.Low, found.High}}
	rest := a.test
	rest.Stages = slices.Clone(a.test.Stages)
	rest.Stages[odd.stage].Lactate = 0
	o := a.opts
	o.Resamples = 0
	if w, err := prepare(rest, o); err == nil {
		w.LT1, w.LT2 = w.read(w.test, o.LT1), w.read(w.test, o.LT2)
		odd.without = w
	}
	return odd, true
}

// suspicious reports whether the samples lie so far from the curve that one of them may
// be wrong.
func (a *Analysis) suspicious() bool {
	m := a.model()
	for i, s := range a.stages {
		if math.Abs(s.Lactate-m.truth[i]) > farOff*m.sigma[i] {
			return true
		}
	}
	dof := m.scale.DoF
	return dof > 0 && m.scale.Sum > (distuv.ChiSquared{K: dof}).Quantile(farOffTogether)
}
