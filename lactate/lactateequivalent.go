package lactate

import (
	"cmp"
	"fmt"

	"example.com/steptest/lactate/internal/reading"
	"example.com/steptest/lactate/internal/words"
	"gonum.org/v1/gonum/interp"
)

// LowestLactateEquivalent is the intensity at which lactate divided by intensity, the lactate
// equivalent, is lowest on the curve. Dickhuth and others (1999), Int J Sports Med 20:122–127,
// and Roecker and others (1998), Med Sci Sports Exerc 30:1552–1557, take it for the aerobic
// threshold (from memory; Heuberger and others 2018 list it over power and over oxygen uptake
// as two concepts, abstract seen). It depends on the zero of intensity but not on its unit: for
// speeds in water it is as well defined as for power, but lies elsewhere.
//
// It needs a curve whose equivalent falls and then rises inside the tested range; else the
// error wraps [ErrShape]. A test that starts too fast has its lowest equivalent at the first
// stage, or below it: that is no minimum.
type LowestLactateEquivalent struct{}

// Locate implements [Method].
func (LowestLactateEquivalent) Locate(t Test, c Curve) (float64, error) {
	return lowestEquivalent(t, c)
}

func (LowestLactateEquivalent) String() string { return "lowest lactate equivalent" }

// AboveLowestEquivalent is the intensity at which the curve has risen by a given amount above
// its lactate at the [LowestLactateEquivalent]. With 1.5 mmol/L it is the individual anaerobic
// threshold of Dickhuth and others (1999), Int J Sports Med 20:122–127 (from memory).
//
// It needs what LowestLactateEquivalent needs, and a curve that reaches the level inside the
// tested range; else the error is a [*NotReachedError].
type AboveLowestEquivalent struct {
	Rise float64 // [mmol/L]. Zero means 1.5.
}

func (m AboveLowestEquivalent) rise() float64 { return cmp.Or(m.Rise, 1.5) }

// Locate implements [Method].
func (m AboveLowestEquivalent) Locate(t Test, c Curve) (float64, error) {
	if !positive(m.rise()) {
		return 0, fmt.Errorf("lactate: rise above the lowest lactate equivalent: found %v, want a number above zero in mmol/L", m.Rise)
	}
	x, err := lowestEquivalent(t, c)
	if err != nil {
		return 0, err
	}
	return locateLevel(t, c, c.Predict(x)+m.rise())
}

func (m AboveLowestEquivalent) String() string {
	return "lowest lactate equivalent + " + words.Short(m.rise()) + " mmol/L"
}

// lowestEquivalent finds the minimum of y/x, where x·y′ − y changes sign.
func lowestEquivalent(t Test, c Curve) (float64, error) {
	lo, hi, err := rangeOn(t.Stages, c)
	if err != nil {
		return 0, err
	}
	equivalent := func(x float64) float64 { return c.Predict(x) / x }
	sign := func(x float64, d interp.DerivativePredictor) float64 { return x*d.PredictDerivative(x) - c.Predict(x) }
	x, inside := reading.LowestOn(c, equivalent, sign, lo, hi)
	switch {
	case inside && !(equivalent(x) < min(equivalent(lo), equivalent(hi))*(1-rounding)):
		return 0, errEquivalentFlat
	case inside:
		return x, nil
	case x > lo:
		return 0, errEquivalentFalls
	}
	return 0, errEquivalentRises
}

var (
	errEquivalentFlat  = fmt.Errorf("lactate: lowest lactate equivalent: %w: lactate/intensity is as low at an end of the tested range as inside", ErrShape)
	errEquivalentRises = fmt.Errorf("lactate: lowest lactate equivalent: %w: lactate/intensity is lowest at the first stage, so that its minimum may lie below the tested range", ErrShape)
	errEquivalentFalls = fmt.Errorf("lactate: lowest lactate equivalent: %w: lactate/intensity is lowest at the last stage, so that it has no minimum inside the tested range", ErrShape)
)
