package lactate

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
)

// Resamples are made in blocks of this many, each with a random stream of its
// own: the result does not depend on how many cores share them.
const blockSize = 256

// smallest lactate that a simulated sample may have (mmol/L); analysers print
// no less, and zero means lost.
const smallestLactate = 0.1

// A model is a fitted test to draw simulated tests from: true values, their
// standard deviations under the stated noise, and what the residuals say of
// the scale.
type model struct {
	truth, sigma []float64 // of the stages
	rest         float64   // standard deviation of the resting sample
	recovery     []float64 // standard deviations of the recovery samples
	scale        uncertain.Scale
}

func (a *Analysis) model() model {
	t, noise := a.test, a.opts.Noise
	n := len(a.stages)
	m := model{truth: make([]float64, n), sigma: make([]float64, n)}
	for i, s := range a.stages {
		y := max(a.Curve.Predict(s.Intensity), smallestLactate)
		m.truth[i] = y
		m.sigma[i] = noise.Stage(s, y, slopeAt(a.Curve, s.Intensity, a.Lowest, a.Highest))
		r := (s.Lactate - y) / m.sigma[i]
		m.scale.Sum += r * r
	}
	m.rest = math.Sqrt(noise.variance(t.Rest))
	for _, r := range t.Recovery {
		m.recovery = append(m.recovery, math.Sqrt(noise.variance(r.Lactate)))
	}
	m.scale.Weight = noise.PriorWeight()
	m.scale.DoF = float64(degreesOfFreedom(a.Curve))
	return m
}

// simulated draws a test into dst, whose slices have the right lengths, and returns the
// scale of its noise.
func (m *model) simulated(t Test, dst *Test, ys []float64, rng *rand.Rand) float64 {
	s := m.scale.Draw(rng)
	for i, y := range m.truth {
		v := max(y+s*m.sigma[i]*rng.NormFloat64(), smallestLactate)
		dst.Stages[i].Lactate = v
		ys[i] = v
	}
	m.others(t, dst, s, rng)
	return s
}

// others draws the samples at rest and in recovery.
func (m *model) others(t Test, dst *Test, s float64, rng *rand.Rand) {
	if t.Rest > 0 {
		dst.Rest = max(t.Rest+s*m.rest*rng.NormFloat64(), smallestLactate)
	}
	for i, r := range t.Recovery {
		dst.Recovery[i].Lactate = max(r.Lactate+s*m.recovery[i]*rng.NormFloat64(), smallestLactate)
	}
}

// draws holds, for each of some methods, the intensity found in each resample, ±Inf if
// the level lay beyond the tested range and NaN if the definition did not hold, and the
// lactate there, nil for a [fixedLactate].
type draws struct {
	methods            []Method
	intensity, lactate [][]float64
}

func (d *draws) index(m Method) int {
	if !reflect.TypeOf(m).Comparable() {
		return -1
	}
	return slices.IndexFunc(d.methods, func(o Method) bool {
		return reflect.TypeOf(o) == reflect.TypeOf(m) && o == m
	})
}

// ordered returns the share of draws in which one method lies below another, of those in
// which both are found; 1 if there are none. A level beyond the range is beyond any other.
func (d *draws) ordered(m1, m2 Method) float64 {
	if d == nil {
		return 1
	}
	i, k := d.index(m1), d.index(m2)
	if i < 0 || k < 0 {
		return 1
	}
	below, both := 0, 0
	for j, x := range d.intensity[i] {
		y := d.intensity[k][j]
		if math.IsNaN(x) || math.IsNaN(y) || math.IsInf(x, 0) && x == y {
			continue
		}
		both++
		if x < y {
			below++
		}
	}
	if both == 0 {
		return 1
	}
	return float64(below) / float64(both)
}

// refit is what one core needs to analyse simulated tests.
type refit struct {
	curve  Curve
	test   Test
	xs, ys []float64
	source *rand.PCG
	rng    *rand.Rand // from source
}

func (a *Analysis) refitter() *refit {
	r := &refit{curve: a.opts.Curve(), test: a.test, source: rand.NewPCG(0, 0)}
	r.rng = rand.New(r.source)
	r.test.Stages = slices.Clone(a.test.Stages)
	r.test.Recovery = slices.Clone(a.test.Recovery)
	r.xs, r.ys = make([]float64, len(a.stages)), make([]float64, len(a.stages))
	for i, s := range a.stages {
		r.xs[i] = s.Intensity
	}
	return r
}

// drawn is one resample: a simulated test, the curve to read it with or the error of
// its fit, and how many times larger than stated its noise is.
type drawn struct {
	test  Test
	curve Curve
	scale float64
	err   error
}

// resample draws simulated tests, fits the curve to each and hands it over. A [curve.Convex] gives draws from its posterior
// instead.
func (a *Analysis) resample(each func(i int, d drawn)) {
	if c, ok := a.Curve.(*curve.Convex); ok {
		a.drawPosterior(c, each)
		return
	}
	m := a.model()
	inParallel(a.opts.done, a.opts.Resamples, blockSize, a.refitter, func(block, from, to int, r *refit) {
		r.source.Seed(a.opts.Seed, uint64(a.stream)<<40|uint64(block))
		for i := from; i < to; i++ {
			scale := m.simulated(a.test, &r.test, r.ys, r.rng)
			each(i, drawn{r.test, r.curve, scale, a.refit(r.curve, r.xs, r.ys)})
		}
	})
}

// drawThresholds reads every method in each resample.
func (a *Analysis) drawThresholds(methods []Method) *draws {
	n := a.opts.Resamples
	d := &draws{methods: methods, intensity: make([][]float64, len(methods)), lactate: make([][]float64, len(methods))}
	for k := range methods {
		d.intensity[k] = make([]float64, n)
		if !fixedLactate(methods[k]) {
			d.lactate[k] = make([]float64, n)
		}
	}
	a.resample(func(i int, s drawn) {
		for k, method := range methods {
			x := math.NaN()
			if s.err == nil {
				x = locate(method, s.test, s.curve)
			}
			d.intensity[k][i] = x
			if d.lactate[k] == nil {
				continue
			}
			y := math.NaN()
			if !math.IsInf(x, 0) && x == x {
				y = s.curve.Predict(x)
			}
			d.lactate[k][i] = y
		}
	})
	return d
}

// drawCurve reads the curve at the given intensities in each resample.
func (a *Analysis) drawCurve(xs []float64) [][]float64 {
	d := make([][]float64, len(xs))
	for k := range d {
		d[k] = make([]float64, a.opts.Resamples)
	}
	a.resample(func(i int, s drawn) {
		for k, x := range xs {
			if s.err != nil {
				d[k][i] = math.NaN()
				continue
			}
			d[k][i] = s.curve.Predict(x)
		}
	})
	return d
}

// locate reads a method in a simulated test, see [draws].
func locate(m Method, t Test, c Curve) float64 {
	x, err := m.Locate(t, c)
	if err == nil {
		return x
	}
	if errors.Is(err, ErrNotReached) { // first, as it does not allocate
		if e := (*NotReachedError)(nil); errors.As(err, &e) && e.Above() {
			return math.Inf(1)
		} else if e != nil {
			return math.Inf(-1)
		}
	}
	if _, ok := m.(LowestLactateEquivalent); ok {
		switch err {
		case errEquivalentRises: // lowest below the tested range
			return math.Inf(-1)
		case errEquivalentFalls:
			return math.Inf(1)
		}
	}
	return math.NaN()
}

// fixedLactate reports whether a definition says at which lactate the threshold lies, so
// that there is nothing to be uncertain about.
func fixedLactate(m Method) bool {
	_, ok := m.(Fixed)
	return ok
}

// addIntervals puts intervals on every threshold of the analysis.
func (a *Analysis) addIntervals() *draws {
	targets := []*Threshold{&a.LT1, &a.LT2}
	for i := range a.Thresholds {
		targets = append(targets, &a.Thresholds[i])
	}
	early, unseen := a.test.endsEarly(), a.baselineUnseen()
	// Definitions that occur twice are read once.
	var unique draws
	once := func(m Method) int {
		i := unique.index(m)
		if i < 0 {
			i = len(unique.methods)
			unique.methods = append(unique.methods, m)
		}
		return i
	}
	index, floor := make([]int, len(targets)), make([]int, len(targets))
	for i, th := range targets {
		index[i], floor[i] = once(th.Method), -1
		if m, ok := th.Method.(AboveBaseline); ok && unseen && positive(m.rise()) {
			floor[i] = once(Fixed{Lactate: m.rise()})
		}
	}
	d := a.drawThresholds(unique.methods)
	intervals := make([]Threshold, len(d.methods))
	buffer := func() []float64 { return make([]float64, a.opts.Resamples) }
	inParallel(a.opts.done, len(d.methods), 1, buffer, func(k, _, _ int, buf []float64) {
		intervals[k] = a.summarise(d.intensity[k], d.lactate[k], buf)
	})
	for i, th := range targets {
		s := intervals[index[i]]
		th.Failed, th.Beyond = s.Failed, s.Beyond
		if th.Err != nil {
			continue
		}
		s.Intensity.Value, s.Lactate.Value = th.Intensity.Value, th.Lactate.Value
		th.Intensity, th.Lactate = s.Intensity.holding(), s.Lactate.holding()
		fixed := fixedLactate(th.Method)
		if fixed {
			th.Lactate = exactly(th.Lactate.Value)
		}
		if early && dependsOnLast(th.Method) && th.Intensity.HasInterval() {
			th.Intensity.High = math.Inf(1)
			if !fixed {
				th.Lactate.High = math.Inf(1)
			}
		}
		if unseen && fromBaseline(th.Method) && th.Intensity.HasInterval() {
			// A baseline below the one seen is still above zero.
			th.Intensity.Low, th.Lactate.Low = math.Inf(-1), math.Inf(-1)
			if k := floor[i]; k >= 0 && finite(intervals[k].Intensity.Low) {
				th.Intensity.Low = min(intervals[k].Intensity.Low, th.Intensity.Value)
				th.Lactate.Low = unique.methods[k].(Fixed).Lactate
			}
		}
		if !math.IsNaN(th.HeartRate.Value) {
			// An open end of the intensity is an open end of the heart rate.
			at := func(x float64) float64 {
				if math.IsInf(x, 0) {
					return x
				}
				return a.hearts.at(x)
			}
			low, high := at(th.Intensity.Low), at(th.Intensity.High)
			th.HeartRate.Low, th.HeartRate.High = min(low, high), max(low, high)
			th.HeartRate = th.HeartRate.holding()
		}
	}
	return d
}

// summarise turns the draws of one method into intervals and counts; buf is as
// long as they are.
func (a *Analysis) summarise(intensity, lactate, buf []float64) Threshold {
	var s Threshold
	for _, x := range intensity {
		switch {
		case math.IsInf(x, 0):
			s.Failed++
			s.Beyond++
		case math.IsNaN(x):
			s.Failed++
		}
	}
	copy(buf, intensity)
	s.Intensity.Low, s.Intensity.High = uncertain.Central(buf, a.opts.Confidence)
	if lactate != nil {
		copy(buf, lactate)
		s.Lactate.Low, s.Lactate.High = uncertain.Central(buf, a.opts.Confidence)
	}
	return s
}
