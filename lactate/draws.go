package lactate

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"

	"example.com/steptest/lactate/internal/reading"
	"example.com/steptest/lactate/internal/uncertain"
)

// draws holds, for each of some methods, the intensity found in each resample, ±Inf if
// the level lay beyond the tested range and NaN if the definition did not hold, and the
// lactate there, nil for a [fixedLactate].
type draws struct {
	methods            []Method
	intensity, lactate [][]float64
}

// indexOf returns the place of a method among others; −1 if it is not there, or cannot be compared.
func indexOf(methods []Method, m Method) int {
	if !reflect.TypeOf(m).Comparable() {
		return -1
	}
	return slices.IndexFunc(methods, func(o Method) bool {
		return reflect.TypeOf(o) == reflect.TypeOf(m) && o == m
	})
}

// shareBelow returns the share of draws in which one method lies below another, of those in
// which both are found; 1 if there are none. A level beyond the range is beyond any other.
func (d *draws) shareBelow(m1, m2 Method) float64 {
	if d == nil {
		return 1
	}
	i, k := indexOf(d.methods, m1), indexOf(d.methods, m2)
	if i < 0 || k < 0 {
		return 1
	}
	return uncertain.Ordered(d.intensity[i], d.intensity[k])
}

// fixedLactate reports whether a definition says at which lactate the threshold lies, so
// that there is nothing to be uncertain about.
func fixedLactate(m Method) bool {
	_, ok := m.(Fixed)
	return ok
}

// baselineStream keeps the random numbers of baselines apart from those of curves.
const baselineStream = 1 << 62

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
	var u []float64 // where each baseline lies that was not seen
	if a.baselineUnseen() {
		u = make([]float64, n)
		uncertain.Strata(u, rand.New(rand.NewPCG(a.opts.Seed, baselineStream|uint64(a.stream))))
	}
	a.resample(func(i int, s drawn) {
		for k, method := range methods {
			if m, ok := method.(aboveUnseen); ok && s.err == nil {
				_, start := reading.Minimum(s.curve, a.Lowest, a.Highest)
				method = m.at(start, u[i])
			}
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
