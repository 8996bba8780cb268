package lactate

import (
	"math"
	"math/rand/v2"
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
