package lactate

import (
	"cmp"
	"errors"
	"fmt"

	"example.com/steptest/lactate/internal/reading"
	"example.com/steptest/lactate/internal/words"
)

// Method is one definition of a threshold. Those of this package are small comparable values;
// the zero value is the reading named in the doc comment.
type Method interface {
	// Locate returns the intensity of the threshold in the test, on the curve c that was
	// fitted to it. The result lies inside the tested range; if the definition does not
	// hold, the error says which part did not. It may run on several goroutines at once,
	// each with a curve of its own.
	Locate(t Test, c Curve) (intensity float64, err error)
	// String names the definition, with its numbers.
	String() string
}

// Errors of [Method.Locate], [Analyze] and [Compare], wrapped by errors that say more.
var (
	// ErrNotReached: the curve does not reach the level inside the tested range; the error
	// of the method is a [*NotReachedError].
	ErrNotReached = errors.New("level not reached inside the tested range")
	// ErrTooFewStages: fewer stages than the definition or the curve needs.
	ErrTooFewStages = errors.New("too few stages")
	// ErrShape: the curve or the stages do not have the shape that the definition needs,
	// such as a bend upward.
	ErrShape = errors.New("the definition does not hold for this shape")
	// ErrMissing: a sample that the definition needs was not taken.
	ErrMissing = errors.New("a sample that the method needs is missing")
)

// NotReachedError says that something, most often the curve, does not rise to a level inside the
// tested range. It is [ErrNotReached] to [errors.Is].
type NotReachedError struct {
	Level   float64 // what was asked for [mmol/L]
	Lowest  float64 // lowest value in the tested range [mmol/L]
	Highest float64 // value at the highest intensity [mmol/L]
	// Of is what was to reach the level. Empty means "the curve".
	Of string
	// Unit of the three numbers. Empty means mmol/L.
	Unit string
}

func (e *NotReachedError) Error() string {
	of, unit := cmp.Or(e.Of, "the curve"), cmp.Or(e.Unit, "mmol/L")
	end, where := e.Lowest, "starts above it, at"
	if e.Above() {
		end, where = e.Highest, "ends at"
	}
	level, other := words.Apart(e.Level, end)
	return fmt.Sprintf("lactate: %s %s: %v: %s %s %s %[2]s", level, unit, ErrNotReached, of, where, other)
}

// Above reports whether the level lies above the curve's upper end: the threshold then lies at
// higher intensities than were tested, if anywhere.
func (e *NotReachedError) Above() bool { return e.Level > e.Highest }

// Unwrap returns [ErrNotReached].
func (e *NotReachedError) Unwrap() error { return ErrNotReached }

// dependsOnLast reports whether a method rests on the last stage: on a test that ends early its
// answer lies too low.
func dependsOnLast(m Method) bool {
	_, loglog := m.(LogLogMaxDistance)
	return loglog || isDmax(m)
}

// isDmax reports whether a method is Dmax or modified Dmax, which are read in mmol/L: where
// the curve lies farthest below a line.
func isDmax(m Method) bool {
	switch m.(type) {
	case MaxDistance, ModifiedMaxDistance:
		return true
	}
	return false
}

// fromBaseline reports whether a method measures from a baseline that the easy stages show.
func fromBaseline(m Method) bool {
	switch m := m.(type) {
	case AboveBaseline:
		return m.From != BaselineRestingSample
	case ObservedRise:
		return m.From != BaselineRestingSample
	}
	return false
}

// locateLevel is the intensity at which the curve last rises through level.
func locateLevel(t Test, c Curve, level float64) (float64, error) {
	lo, hi, err := rangeOn(t.Stages, c)
	if err != nil {
		return 0, err
	}
	if x, ok := reading.Upcrossing(c, level, lo, hi); ok {
		return x, nil
	}
	_, least := reading.Minimum(c, lo, hi)
	return 0, &NotReachedError{Level: level, Lowest: least, Highest: c.Predict(hi)}
}

// ordered is Sampled without a copy if the stages stand so at the start, as in refits.
func ordered(t Test) []Stage {
	n := 0
	for n < len(t.Stages) && t.Stages[n].sampled() {
		if n > 0 && t.Stages[n].Intensity < t.Stages[n-1].Intensity {
			return t.Sampled()
		}
		n++
	}
	for i := n; i < len(t.Stages); i++ {
		if t.Stages[i].sampled() {
			return t.Sampled()
		}
	}
	return t.Stages[:n]
}
