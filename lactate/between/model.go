package between

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate"
)

// Model is what the tests say of the curve: its shape, and where it was on their days. It
// does not change and may be used by several goroutines at once. The zero value has
// no tests; see [New].
type Model struct {
	opts      Options
	tests     []lactate.DatedTest // by date
	shape     *shape
	reference float64
	days, off float64 // variances of a day and of an offset
	week      float64 // variance of the drift in a week
	prior     [drifts]float64
	far       float64 // from the curve, in standard deviations, a reading counts in full
}

// New fits the shape and the shifts of the tests, in any order. One test is enough; two
// readings of one kind then tell of moves alone.
//
// The error is not nil for options that cannot be right, for no test, for a test without
// an [lactate.Analyze] answer, and if the tests do not determine the shifts.
func New(tests []lactate.DatedTest, o Options) (*Model, error) {
	o, err := o.WithDefaults()
	if err != nil {
		return nil, err
	}
	if len(tests) == 0 {
		return nil, errors.New("between: found no test, want one or more")
	}
	m := &Model{opts: o, tests: slices.Clone(tests)}
	slices.SortStableFunc(m.tests, func(a, b lactate.DatedTest) int { return dayOf(a.Date) - dayOf(b.Date) })
	var errs []error
	single := o.Lactate
	single.Resamples, single.Methods = 0, []lactate.Method{}
	for i, t := range m.tests {
		a, err := lactate.Analyze(t.Test, single)
		if err != nil {
			errs = append(errs, fmt.Errorf("test of %s: %w", t.Date.Format(time.DateOnly), err))
		} else if i == 0 {
			m.reference = a.Reference()
		}
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	if m.shape, err = newShape(m.tests, o.Lactate); err != nil {
		return nil, err
	}
	_, m.prior = driftFactors()
	m.far = 2.5
	square := func(v float64) float64 { return v * v }
	m.days, m.off, m.week = square(o.DayToDay*m.reference), square(o.Offset), square(o.Drift*m.reference)
	return m, nil
}

// noise returns the variance of a sample of true value y.
func (m *Model) noise(y float64) float64 {
	sd := m.opts.Lactate.Noise.Lactate(math.Max(y, 0.1))
	return m.shape.scale2 * sd * sd
}
