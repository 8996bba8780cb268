package lactate

import "fmt"

// LogLogMaxDistance is Dmax with a chord from the curve at the [LogLog] threshold to the last
// stage: the modified Dmax that Jamnick and others (2018), PLoS ONE 13(7):e0199794, found
// nearest to the maximal lactate steady state of 56 candidates (abstract seen; the recipe from
// memory). They drew it on a cubic and on the exponential-plus-constant curve; here it is read
// on whichever curve is given.
//
// It needs what LogLog needs, a stage between the start of the chord and the last one, and a
// curve that bends below the chord; else the error wraps [ErrTooFewStages] or [ErrShape].
type LogLogMaxDistance struct {
	Ends Ends // of the upper end: nothing was measured at the lower. Zero means FittedEnds.
}

// Locate implements [Method].
func (m LogLogMaxDistance) Locate(t Test, c Curve) (float64, error) {
	if c == nil {
		return 0, errNoCurve
	}
	lo, err := LogLog{}.Locate(t, c)
	if err != nil {
		return 0, err
	}
	_, hi, err := testedRange(t.Stages)
	if err != nil {
		return 0, err
	}
	between := false
	for i := range t.Stages {
		s := &t.Stages[i]
		between = between || s.sampled() && s.Intensity > lo && s.Intensity < hi
	}
	if !between {
		return 0, errLogLogLast
	}
	to, err := m.Ends.lactate(t, c, hi)
	if err != nil {
		return 0, err
	}
	return farthestBelowChord(c, lo, c.Predict(lo), hi, to)
}

var errLogLogLast = fmt.Errorf("lactate: Dmax from the log–log point: %w: no stage between that point and the last stage", ErrShape)

func (m LogLogMaxDistance) String() string { return m.Ends.of("Dmax from the log–log point") }
