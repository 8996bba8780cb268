package lactate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"example.com/steptest/lactate/internal/reading"
	"example.com/steptest/lactate/internal/uncertain"
)

const (
	// predictions is how many draws a prediction is made of without Options.Resamples.
	predictions = 2000
	// predictionStream keeps the random numbers of samples apart from those of curves.
	predictionStream = 1 << 63
)

// SampleAt returns the lactate that a new sample at an intensity is expected to show (mmol/L),
// with the interval that holds it at Options.Confidence: what the curve is uncertain by and the
// noise of one sample, but not what differs from day to day. Value is the fitted curve, and the
// watch that of a stage like the nearest. The interval is made of Options.Resamples draws, or
// of 2,000.
//
// Outside the tested range the error is an [*OutsideRangeError]. On real tests nine in ten of
// the stages that are left out one at a time lie inside; the prior of the curve was chosen on
// tests like these, see testdata/README.md.
func (a *Analysis) SampleAt(intensity float64) (Estimate, error) {
	y, err := a.LactateAt(intensity)
	if err != nil {
		return none(), err
	}
	if err := predictable(a.Curve, intensity); err != nil {
		return none(), err
	}
	if !a.scaleIsKnown() {
		return exactly(y), nil
	}
	samples := a.drawSamples(intensity)
	e := exactly(y)
	e.Low, e.High = uncertain.Central(samples, a.opts.Confidence)
	return e.holding(), nil
}

// drawSamples draws new samples at an intensity.
func (a *Analysis) drawSamples(intensity float64) []float64 {
	b := *a
	if b.opts.Resamples == 0 {
		b.opts.Resamples = predictions
	}
	samples := make([]float64, b.opts.Resamples)
	noise := make([]float64, len(samples))
	rng := rand.New(rand.NewPCG(a.opts.Seed, predictionStream|uint64(a.stream)))
	for i := range noise {
		noise[i] = rng.NormFloat64()
	}
	duration := a.durationNear(intensity)
	b.resample(func(i int, d drawn) {
		if d.err != nil {
			samples[i] = math.NaN()
			return
		}
		y := max(d.curve.Predict(intensity), smallestLactate)
		sd := a.opts.Noise.Stage(Stage{Intensity: intensity, Duration: duration}, y, reading.Slope(d.curve, intensity, a.Lowest, a.Highest))
		samples[i] = max(y+d.scale*sd*noise[i], smallestLactate)
	})
	return samples
}

// durationNear returns how long the stage lasted that is nearest to an intensity.
func (a *Analysis) durationNear(intensity float64) time.Duration {
	nearest := a.stages[0]
	for _, s := range a.stages {
		if math.Abs(s.Intensity-intensity) < math.Abs(nearest.Intensity-intensity) {
			nearest = s
		}
	}
	return nearest.Duration
}

// Spread returns how far the definitions of one threshold lie apart on this test: those of LT1,
// LT2 and Options.Methods that [Catalogue] says estimate the target, each once, if it
// [Analysis.Counts]. That is the error of choosing a definition; the interval of each is
// the error of that one definition.
func (a *Analysis) Spread(target Target) Spread {
	s := Spread{Target: target}
	seen := map[string]bool{}
	for _, th := range append([]Threshold{a.LT1, a.LT2}, a.Thresholds...) {
		if th.Method == nil {
			continue
		}
		name := th.Method.String()
		if seen[name] || targetOf(th.Method) != target || !a.Counts(th.Method) {
			continue
		}
		seen[name] = true
		s.add(Reading{Method: th.Method, Curve: CurveName(a.Curve), Intensity: th.Intensity.Value}, th.Err)
	}
	return s
}

// Counts reports whether a definition counts on this test: not if [WarnDmaxLow] is raised of it.
func (a *Analysis) Counts(m Method) bool {
	return !slices.ContainsFunc(a.Warnings, func(w Warning) bool {
		if w.Kind != WarnDmaxLow || m == nil {
			return false
		}
		of, ok := w.Values[0].(Method)
		return ok && of.String() == m.String()
	})
}

// targetOf returns what the catalogue says that a method estimates.
func targetOf(m Method) Target {
	for _, e := range catalogued() {
		if e.Method.String() == m.String() {
			return e.Target
		}
	}
	return OtherPoint
}

// String says how far apart the readings lie.
func (s Spread) String() string {
	if s.Answers == 0 {
		return fmt.Sprintf("no definition of %v answers", s.Target)
	}
	return fmt.Sprintf("%v from %.4g by %v to %.4g by %v", s.Target, s.Lowest.Intensity, s.Lowest.Method, s.Highest.Intensity, s.Highest.Method)
}
