package lactate

import (
	"fmt"
	"math"
)

// Change is what happened to the curve between two tests.
type Change struct {
	// Before and After are the two tests, each read on its own.
	Before *Analysis `json:"before"`
	After  *Analysis `json:"after"`
	// Shift is how far the curve moved along the intensity axis, if both tests share one
	// shape: that of Measured.
	Shift Estimate `json:"shift"`
	// Measured weighs the shift against measurement error alone: do the two curves differ?
	Measured Judgement `json:"measured"`
	// BetweenDays weighs it against measurement error and the variation from day to day of
	// each test: has the athlete changed by more than two days differ?
	BetweenDays Judgement `json:"between_days"`
	// Exponential is the common shape if an exponential was asked for; nil if not.
	Exponential *CommonExponential `json:"exponential,omitempty"`
	// Reference is the intensity at which the shift is expressed as a per cent, see
	// [Analysis.Reference] of the first test.
	Reference float64 `json:"reference"`
	// Shape tests, by exponentials, whether one shape with a shift describes both tests.
	Shape ShapeTest `json:"shape"`
	// Thresholds holds the change of LT1, LT2 and every method of the options.
	Thresholds []ThresholdChange `json:"thresholds"`
	// Levels holds the change of lactate and heart rate at the first test's stages and
	// thresholds that lie inside both tested ranges.
	Levels []LevelChange `json:"levels"`
	// Confidence and Power as the options had them.
	Confidence float64 `json:"confidence"`
	Power      float64 `json:"power"`
	// Meaningful change of the options, in the tests' unit of intensity.
	Meaningful float64 `json:"meaningful,omitzero"`
	// Warnings about the comparison; those about either test are in Before and After.
	Warnings []Warning `json:"warnings,omitempty"`

	littleShared bool // see WarnLittleShared
}

// Compare asks whether the curve moved between two tests. They need not have the same stages.
//
// Both tests share one shape over their joint range, and differ by a shift along the intensity
// axis alone: any convex shape (see [curve.ConvexShifted]), with a flat prior for the shift and
// the prior of the noise of the options; or, if the curve of the options is a
// [curve.Exponential], an exponential-plus-constant, by least squares (see [curve.Shifted])
// with Student's t. A sample that [Analyze] finds odd is left out of that shape alone, with a warning.
//
// A shift is not yet fitness: less carbohydrate, a sample diluted by sweat or water, or another
// analyser lower every lactate, and that too looks like a curve that has moved to the right
// (common practice).
//
// The error is not nil if either test has no [Analyze] answer or both do not determine a shift.
func Compare(before, after Test, o CompareOptions) (*Change, error) {
	o, err := o.WithDefaults()
	if err != nil {
		return nil, err
	}
	if err := oneUnit(before, after); err != nil {
		return nil, err
	}
	c := &Change{Confidence: o.Confidence, Power: o.Power}
	tests := []Test{before, after}
	var analyses [2]*Analysis
	var drawsOf [2]*draws
	for i, t := range tests {
		which := [...]string{"first", "second"}[i]
		a, d, err := analyze(t, o.Options, i)
		if err != nil {
			return nil, fmt.Errorf("%s test: %w", which, err)
		}
		analyses[i], drawsOf[i] = a, d
		var stage int
		if tests[i], stage = a.withoutOdd(t); stage > 0 {
			c.Warnings = append(c.Warnings, leftOut(stage, i+1, "the "+which+" test"))
		}
	}
	c.Before, c.After = analyses[0], analyses[1]
	joint, err := fitCommon(tests, o)
	if err != nil {
		return nil, err
	}
	c.Exponential, c.Shape = joint.exponential, joint.oneShape
	c.Reference = c.Before.Reference()
	c.Meaningful = o.Meaningful * c.Reference
	shift := []float64{1} // that of the second test
	c.Measured = o.judge(joint.Sum(shift, 0), c.Meaningful)
	c.BetweenDays = o.judge(joint.Sum(shift, betweenDays(o.DayToDay*c.Reference)), c.Meaningful)
	if err := checkJudged(c.Measured, c.BetweenDays); err != nil {
		return nil, err
	}
	c.Shift = c.Measured.Shift
	c.compareThresholds(drawsOf, o.Options)
	c.compareLevels(o.Options)
	c.warn()
	return c, nil
}

// checkJudged refuses numbers too large or too small to reckon with.
func checkJudged(all ...Judgement) error {
	for _, j := range all {
		if !finite(j.Shift.Value) || !(j.StandardError > 0) || !finite(j.StandardError) || !finite(j.Detectable) || math.IsNaN(j.Probability) {
			return errImmense
		}
	}
	return nil
}

// TestAgain reports whether the answer is to test again: it is not sure that the curve has moved,
// or the tests share too little to tell.
func (c *Change) TestAgain() bool { return !c.BetweenDays.Grade.Sure() || c.littleShared }

// Percent returns the shift as a per cent of the reference intensity.
func (c *Change) Percent() Estimate {
	return c.Shift.map1(func(v float64) float64 { return 100 * v / c.Reference })
}
