package lactate

import (
	"fmt"
	"sync"

	"example.com/steptest/lactate/curve"
)

// FirstTurnPoint is the first lactate turn point, LTP1: the lower of the two joins of three
// straight lines fitted to lactate against intensity, taken as the first rise of lactate above
// its baseline. Hofmann & Tschakert (2011), Cardiol Res Pract 2011:209302, and Pokan and others
// (1997) (from memory).
//
// The three lines meet and are the best of all such lines over both joins together; each holds
// at least two stages, its ends included ([curve.ThreeLine]). The authors look for each turn
// point in a part of the test chosen beforehand. Six numbers are fitted: seven or eight stages
// leave little to judge them by, see [Influence]. The point depends neither on the units of the
// axes nor on their zero. It ignores the curve, which may be nil.
//
// It needs six different intensities (else [ErrTooFewStages]) and three lines, each steeper
// than the one before, the second and third rising (else [ErrShape]).
type FirstTurnPoint struct{}

// SecondTurnPoint is the second lactate turn point, LTP2: the upper of the two joins, taken as
// the second, abrupt rise of lactate. All else is as for [FirstTurnPoint].
type SecondTurnPoint struct{}

// turnFit is what one fit needs, see logLogFit.
type turnFit struct {
	lines  curve.ThreeLine
	xs, ys []float64
}

var turnFits = sync.Pool{New: func() any { return new(turnFit) }}

// Locate implements [Method].
func (FirstTurnPoint) Locate(t Test, _ Curve) (float64, error) {
	lower, _, err := turnPoints(t)
	return lower, err
}

// Locate implements [Method].
func (SecondTurnPoint) Locate(t Test, _ Curve) (float64, error) {
	_, upper, err := turnPoints(t)
	return upper, err
}

// Lines returns the three fitted lines: lactate (mmol/L) against intensity.
func (FirstTurnPoint) Lines(t Test) (*curve.ThreeLine, error) {
	f := new(turnFit)
	if err := f.fit(t); err != nil {
		return nil, err
	}
	return &f.lines, nil
}

// Lines returns the three fitted lines, which are those of [FirstTurnPoint.Lines].
func (SecondTurnPoint) Lines(t Test) (*curve.ThreeLine, error) { return FirstTurnPoint{}.Lines(t) }

func turnPoints(t Test) (lower, upper float64, err error) {
	f := turnFits.Get().(*turnFit)
	defer turnFits.Put(f)
	if err := f.fit(t); err != nil {
		return 0, 0, err
	}
	return f.lines.Lower, f.lines.Upper, nil
}

func (f *turnFit) fit(t Test) error {
	f.xs, f.ys = f.xs[:0], f.ys[:0]
	for i := range t.Stages {
		if s := &t.Stages[i]; s.sampled() {
			f.xs = append(f.xs, s.Intensity)
			f.ys = append(f.ys, s.Lactate)
		}
	}
	l := &f.lines
	if err := l.Fit(f.xs, f.ys); err != nil {
		return piecesError("turn points", err, f.xs, 6)
	}
	if !(l.Middle > l.Left && l.Middle > 0) {
		return errFirstTurn
	}
	if !(l.Right > l.Middle) {
		return errSecondTurn
	}
	return nil
}

var (
	errFirstTurn  = fmt.Errorf("lactate: turn points: %w: the second of the three lines does not rise, or not more steeply than the first", ErrShape)
	errSecondTurn = fmt.Errorf("lactate: turn points: %w: the third of the three lines is not steeper than the second", ErrShape)
)

func (FirstTurnPoint) String() string  { return "first turn point" }
func (SecondTurnPoint) String() string { return "second turn point" }
