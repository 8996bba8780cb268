package say

import (
	"fmt"
	"math"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/clean"
)

// Sentences says in two sentences what a judgement comes to that reckons with days: how
// far the curve moved and how sure that is, and the odds. per is empty for a shift, and
// names the time for a trend, as " every four weeks" does. Without a probability there are no
// odds. A confidence above zero is said with the bracket.
func (a Axis) Sentences(j lactate.Judgement, reference float64, per string, confidence float64) (moved, odds string) {
	moved = clean.Capital(j.Grade.String()) + ": " + a.SizeAndBracket(j, reference, per, confidence) + "."
	if !(j.Probability >= 0 && j.Probability <= 1) {
		return moved, ""
	}
	right := j.Probability >= 0.5
	if j.Grade != lactate.CannotTell {
		right = j.Grade > 0
	}
	side, p := "faster", j.Probability
	if !right {
		side, p = "slower", 1-p
	}
	do, counted := "are", "good and bad days counted"
	if per != "" {
		do, counted = "get", counted+", drift from the line not"
	}
	return moved, fmt.Sprintf("%s that you %s %s, %s.", clean.Capital(InHundred(p)), do, side, counted)
}

// SizeAndBracket says how far a curve moved, with its bracket: a size alone if the grade names
// the side and the bracket does not reach over zero. A confidence above zero is said with it.
func (a Axis) SizeAndBracket(j lactate.Judgement, reference float64, per string, confidence float64) string {
	size := func(v float64) string {
		switch {
		case math.IsInf(v, 0):
			return "open"
		case a.Pool.IsZero():
			return strings.TrimPrefix(Number(v, Decimals(a.Span)), "−")
		}
		return strings.TrimLeft(a.Gain(reference, v), "+−")
	}
	side := func(v float64) string { // behind a size, or a unit
		switch {
		case v > 0:
			return " faster"
		case v < 0:
			return " slower"
		}
		return ""
	}
	e := j.Shift
	s := size(e.Value) + " " + a.Change()
	if j.Grade == lactate.CannotTell && size(e.Value) != size(0) { // as it is printed
		s += side(e.Value)
	}
	s += per
	if !e.HasInterval() {
		return s
	}
	level := ""
	if confidence > 0 {
		level = InHundred(confidence) + ": "
	}
	near, far := e.Low, e.High // the end nearer to no change, and the other
	if j.Grade < 0 || j.Grade == 0 && e.Value < 0 {
		near, far = far, near
	}
	if e.Low < 0 && e.High > 0 {
		return s + " (" + level + size(near) + side(near) + " to " + size(far) + side(far) + ")"
	}
	if math.IsInf(far, 0) && !math.IsInf(near, 0) {
		if confidence > 0 { // as much again lies beyond the other end
			level = InHundred((1+confidence)/2) + ": "
		}
		return s + " (" + level + size(near) + " or more)"
	}
	return s + " (" + level + size(near) + " to " + size(far) + ")"
}

// Change names the unit of a change: seconds per 100 of the pool, or the axis's own.
func (a Axis) Change() string {
	if a.Pool.IsZero() {
		return a.Unit
	}
	return "s per 100 " + a.Pool.UnitSymbol()
}

// hundredths is a probability in whole hundredths.
func hundredths(p float64) int { return int(math.Round(100 * p)) }

// InHundred says a probability as so many in 100.
func InHundred(p float64) string {
	switch n := hundredths(p); {
	case !Finite(p):
		return ""
	case n > 99:
		return "more than 99 in 100"
	case n < 1:
		return "less than 1 in 100"
	default:
		return fmt.Sprintf("%d in 100", n)
	}
}
