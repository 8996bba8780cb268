package lactate

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"example.com/steptest/lactate/curve"
)

// LogLog is the log–log threshold: the logarithm of lactate against the logarithm of intensity
// is fitted by two straight lines, and the threshold is where they meet. Beaver, Wasserman &
// Whipp (1985), J Appl Physiol 59:1936–1940, used oxygen uptake for the intensity (from
// memory); Bishop and others (1998) power (abstract seen).
//
// Here the two lines meet and are the best of all such pairs, with the join anywhere from the
// second to the last but one stage ([curve.BrokenLine]). Lines fitted separately to each split
// of the stages, as is also done, meet elsewhere, even outside the gap that they belong to.
// Where two joins fit about equally well, little noise decides between them: look at
// [Influence]. The threshold depends on the zero of intensity and lactate, but not on their
// units. It ignores the curve, which may be nil.
//
// It needs four different intensities (else [ErrTooFewStages]) and a line that is steeper after
// the join than before it and rises (else [ErrShape]).
type LogLog struct{}

// logLogFit is work space of one fit, from which the next sees nothing.
type logLogFit struct {
	line   curve.BrokenLine
	xs, ys []float64
}

var logLogFits = sync.Pool{New: func() any { return new(logLogFit) }}

// Locate implements [Method].
func (LogLog) Locate(t Test, _ Curve) (float64, error) {
	f := logLogFits.Get().(*logLogFit)
	defer logLogFits.Put(f)
	lo, hi, err := f.fit(t)
	if err != nil {
		return 0, err
	}
	// Rounding of the logarithm may not carry the join out of the range.
	return min(max(math.Exp(f.line.Join), lo), hi), nil
}

// Lines returns the two fitted lines: natural logarithm of lactate (mmol/L) against that of
// intensity.
func (LogLog) Lines(t Test) (*curve.BrokenLine, error) {
	f := new(logLogFit)
	if _, _, err := f.fit(t); err != nil {
		return nil, err
	}
	return &f.line, nil
}

func (f *logLogFit) fit(t Test) (lo, hi float64, err error) {
	lo, hi, err = testedRange(t.Stages)
	if err != nil {
		return 0, 0, err
	}
	f.xs, f.ys = f.xs[:0], f.ys[:0]
	for i := range t.Stages {
		if s := &t.Stages[i]; s.sampled() {
			f.xs = append(f.xs, math.Log(s.Intensity))
			f.ys = append(f.ys, math.Log(s.Lactate))
		}
	}
	if err := f.line.Fit(f.xs, f.ys); err != nil {
		return 0, 0, piecesError("log–log", err, f.xs, 4)
	}
	if !(f.line.Right > f.line.Left && f.line.Right > 0) {
		return 0, 0, errLogLogBend
	}
	return lo, hi, nil
}

var errLogLogBend = fmt.Errorf("lactate: log–log: %w: lactate does not rise more steeply after the join than before it", ErrShape)

// piecesError says why straight pieces could not be fitted: too few stages, or fewer lines.
func piecesError(method string, err error, xs []float64, need int) error {
	if !errors.Is(err, curve.ErrUndetermined) {
		return fmt.Errorf("lactate: %s: %w", method, err)
	}
	kind := ErrShape
	if distinct(xs) < need {
		kind = ErrTooFewStages
	}
	return fmt.Errorf("lactate: %s: %w: %w", method, kind, err)
}

// distinct counts the different numbers.
func distinct(xs []float64) int {
	return len(slices.Compact(slices.Sorted(slices.Values(xs))))
}

func (LogLog) String() string { return "log–log" }
