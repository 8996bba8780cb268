package lactate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
	"gonum.org/v1/gonum/stat"
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
	// A sample is odd if one as far off would be found in one good test of a hundred.
	odd      = 0.01
	oddDraws = 256
)

// oddSample leaves out one inner stage at a time and predicts it from the others on
// [curve.Convex]; it returns the least likely of them if that is odd. The ends cannot be
// predicted: nothing lies beyond them. False alarms: see TestOddSample.
func (a *Analysis) oddSample() (oddSample, bool) {
	n := len(a.stages)
	if n < fewStages || !a.suspicious() {
		return oddSample{}, false
	}
	found, least := oddSample{}, odd/float64(n-2)
	for i := 1; i < n-1; i++ {
		x := a.stages[i].Intensity
		if x == a.Lowest || x == a.Highest {
			continue
		}
		rest := slices.Concat(a.stages[:i], a.stages[i+1:])
		if e, p, ok := expect(rest, x, a.stages[i].Lactate, a.opts.Noise); ok && p < least {
			found, least = oddSample{stage: i, expected: e}, p
		}
	}
	if found.stage == 0 {
		return oddSample{}, false
	}
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

// expect predicts a sample at x from the other stages, and returns how likely one as far
// off as y is: Student's t about the mean of draws.
func expect(rest []Stage, x, y float64, noise Noise) (e Estimate, p float64, ok bool) {
	xs, ys := make([]float64, len(rest)), make([]float64, len(rest))
	for i, s := range rest {
		xs[i], ys[i] = s.Intensity, s.Lactate
	}
	var c, draw curve.Convex
	if _, err := fitStages(&c, rest, xs, ys, noise); err != nil {
		return none(), 1, false
	}
	nu := noise.PriorWeight() + float64(c.DegreesOfFreedom())
	if !(nu > 0) {
		return none(), 1, false
	}
	rng := rand.New(rand.NewPCG(0, 0))
	values, scale := make([]float64, oddDraws), 0.0
	for i := range values {
		s := c.Draw(&draw, (float64(i)+0.5)/oddDraws, rng)
		scale += s * s / oddDraws
		values[i] = draw.Predict(x)
	}
	mean, variance := stat.MeanVariance(values, nil)
	if !math.IsInf(nu, 1) && nu > 2 {
		scale *= (nu - 2) / nu // of t's own variance
	}
	sd := math.Sqrt(variance + scale*noise.variance(max(mean, smallestLactate)))
	t := uncertain.Student(nu)
	half := sd * t.Quantile(0.95)
	return Estimate{mean, max(mean-half, 0), mean + half}, 2 * t.CDF(-math.Abs(y-mean)/sd), true
}
