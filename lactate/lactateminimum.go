package lactate

import (
	"fmt"

	"example.com/steptest/lactate/curve"
)

// LactateMinimumTest is a test of its own kind: (1) one or more maximal efforts that raise
// lactate, (2) a rest of about eight minutes, (3) a step test, in which lactate first falls and
// then rises. Tegtbur, Busse & Braumann (1993), Med Sci Sports Exerc 25:620–627 (from memory;
// the three phases and the eight minutes in the review PMC5463055, excerpt seen). The zero
// value is an empty test, which [LactateMinimum] refuses.
//
// See the cautions of package protocol before asking anyone for a maximal effort.
type LactateMinimumTest struct {
	// Raised holds the lactates between the maximal effort and the first stage, After
	// counted from the end of the effort: do they show that lactate was raised? Nil means
	// not taken.
	Raised []RecoverySample `json:"raised,omitempty"`
	// Stages of the step test, in any order; those without a lactate sample are left out.
	Stages []Stage `json:"stages"`
}

// LactateMinimumPoint is the result of a lactate minimum test. The zero value is none.
type LactateMinimumPoint struct {
	Intensity float64           `json:"intensity"`          // where the curve is lowest, in the test's unit
	Lactate   float64           `json:"lactate_mmol_per_l"` // value of the curve there [mmol/L]
	Curve     *curve.Polynomial `json:"curve_parameters"`   // the fitted parabola
}

// LactateMinimum returns where lactate is lowest in a lactate minimum test, taken for the
// intensity at which lactate appears and disappears equally fast: the minimum of the
// least-squares parabola through the stages. Reading it by eye or by a spline is also done. It
// depends on how high lactate was raised and on the stages that follow, most of all the lowest.
//
// The error lists what cannot be right in the test, or wraps [ErrTooFewStages] for fewer than
// three different intensities, [ErrNotReached] for a minimum outside the tested range, or
// [ErrShape] for a parabola that does not open upward and for samples in Raised that are no
// higher than its minimum. Checked by a constructed parabola (ExampleLactateMinimum).
func LactateMinimum(t LactateMinimumTest) (LactateMinimumPoint, error) {
	step := Test{Stages: t.Stages, Recovery: t.Raised}
	if err := step.Check(); err != nil {
		return LactateMinimumPoint{}, err
	}
	stages := step.Sampled()
	xs, ys := points(stages)
	if n := distinct(xs); n < 3 {
		return LactateMinimumPoint{}, fmt.Errorf("lactate: lactate minimum: %w: found %d different intensities with a lactate sample, want at least 3", ErrTooFewStages, n)
	}
	p := &curve.Polynomial{Degree: 2}
	if err := p.Fit(xs, ys); err != nil {
		return LactateMinimumPoint{}, fmt.Errorf("lactate: lactate minimum: %w", err)
	}
	lo, hi := xs[0], xs[len(xs)-1]
	// The slope of a parabola is a straight line.
	atLo, atHi := p.PredictDerivative(lo), p.PredictDerivative(hi)
	if !(atHi > atLo) {
		return LactateMinimumPoint{}, fmt.Errorf("lactate: lactate minimum: %w: the parabola through the stages does not open upward", ErrShape)
	}
	share := atLo / (atLo - atHi)
	if !(share > 0 && share < 1) {
		side := "below"
		if share >= 1 {
			side = "above"
		}
		return LactateMinimumPoint{}, fmt.Errorf("lactate: lactate minimum: %w: the minimum lies %s the stages, from %v to %v", errMinimumOutside, side, lo, hi)
	}
	x := lo + share*(hi-lo)
	if err := predictable(p, x); err != nil {
		return LactateMinimumPoint{}, err
	}
	m := LactateMinimumPoint{Intensity: x, Lactate: p.Predict(x), Curve: p}
	if len(t.Raised) > 0 {
		highest := 0.0
		for _, r := range t.Raised {
			highest = max(highest, r.Lactate)
		}
		if !(highest > m.Lactate) {
			return LactateMinimumPoint{}, fmt.Errorf("lactate: lactate minimum: %w: lactate was raised to %.3g mmol/L only, which is not above the minimum of %.3g", ErrShape, highest, m.Lactate)
		}
	}
	return m, nil
}

// errMinimumOutside is ErrNotReached in words that fit a minimum.
var errMinimumOutside error = outside{}

type outside struct{}

func (outside) Error() string        { return "minimum outside the tested range" }
func (outside) Is(target error) bool { return target == ErrNotReached }
