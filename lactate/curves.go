package lactate

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/interp"
)

// Curve is a curve of lactate (mmol/L) against intensity. The curves of package lactate/curve and
// gonum's interpolators are curves. One of your own that does not pass through all samples
// should be a [Regression].
type Curve interface{ interp.FittablePredictor }

// Regression is a curve that does not pass through all samples: the misfit says how large the
// noise is. Any other [Curve] is taken for one that interpolates: its intervals rest on the
// stated noise alone, and nothing says that it misses.
type Regression interface {
	Curve
	// DegreesOfFreedom returns the points of the last fit less the parameters.
	DegreesOfFreedom() int
}

var errFewSampled = errors.New("no two stages with a lactate sample at different intensities")

// testedRange returns the lowest and the highest intensity that has a lactate sample.
func testedRange(stages []Stage) (lo, hi float64, err error) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range stages {
		s := &stages[i]
		if !s.sampled() {
			continue
		}
		if !(s.Intensity >= lo) {
			lo = s.Intensity
		}
		if !(s.Intensity <= hi) {
			hi = s.Intensity
		}
		if math.IsNaN(lo) {
			break
		}
	}
	if !(hi > lo) {
		return 0, 0, fmt.Errorf("lactate: %w: %w", ErrTooFewStages, errFewSampled)
	}
	return lo, hi, nil
}

// rangeOn is testedRange for a method that reads the curve.
func rangeOn(stages []Stage, c Curve) (lo, hi float64, err error) {
	if lo, hi, err = testedRange(stages); err == nil && c == nil {
		err = errNoCurve
	}
	return lo, hi, err
}

var errNoCurve = errors.New("lactate: found no curve, want one fitted to the test")

// CurveName returns what a kind of curve is called beside a result: "convex", "exponential",
// "cubic", "polynomial of degree 2", "two lines", "three lines", or the name of its type.
func CurveName(c Curve) string {
	switch c := c.(type) {
	case *curve.Convex:
		return "convex"
	case *curve.Exponential:
		return "exponential"
	case *curve.Polynomial:
		if c.Degree == 0 || c.Degree == 3 {
			return "cubic"
		}
		return fmt.Sprintf("polynomial of degree %d", c.Degree)
	case *curve.BrokenLine:
		return "two lines"
	case *curve.ThreeLine:
		return "three lines"
	}
	name := fmt.Sprintf("%T", c)
	return name[strings.LastIndexByte(name, '.')+1:]
}
