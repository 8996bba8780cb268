package lactate

import (
	"cmp"
	"fmt"
	"math"

	"example.com/steptest/lactate/internal/words"
)

// ChordStart says where the chord of [ModifiedMaxDistance] starts. The zero value is
// ChordBeforeFirstRise.
type ChordStart int

// The readings in use. They differ more than any other choice: 1.430, 1.411 and 1.453 m/s on
// seven stages that rise from 1.1 to 8.4 mmol/L (constructed example in the tests).
const (
	// ChordBeforeFirstRise: the stage before the first rise from stage to stage that
	// exceeds the limit.
	ChordBeforeFirstRise ChordStart = iota
	// ChordBeforeRiseAboveLowest: the stage before the first one that exceeds the lowest
	// stage so far by more than the limit.
	ChordBeforeRiseAboveLowest
	// ChordAtFirstRise: the stage that first shows the rise.
	ChordAtFirstRise
)

func (s ChordStart) String() string {
	switch s {
	case ChordBeforeFirstRise:
		return "the stage before the first rise"
	case ChordBeforeRiseAboveLowest:
		return "the stage before the rise above the lowest"
	case ChordAtFirstRise:
		return "the stage of the first rise"
	}
	return fmt.Sprintf("ChordStart(%d)", int(s))
}

// ModifiedMaxDistance is Dmax with a chord that starts where lactate begins to rise, of Bishop,
// Jenkins & Mackinnon (1998), Med Sci Sports Exerc 30:1270–1275: from the stage before the
// first rise greater than 0.4 mmol/L to the last stage (the rule from memory). Rises are
// compared after rounding to 1e-6 mmol/L, since analysers print tenths and 1.5 − 1.1 is not
// 0.4 in binary; a rise of exactly the limit is not greater.
//
// On the exponential-plus-constant curve it depends, like [MaxDistance], on the rate C and the
// two ends of the chord alone: it follows a curve that has moved only if the chord starts at
// another stage, and then by a jump.
//
// In swimmers it came out faster than the maximal lactate steady state with short rests, 1.346
// against 1.300 m/s (Arsoniadis and others 2024, abstract seen).
//
// It needs a stage between the start of the chord and the last one, a rise that exceeds the
// limit, and a curve that bends below the chord; else the error wraps [ErrShape].
type ModifiedMaxDistance struct {
	Ends  Ends       // Zero means FittedEnds.
	Start ChordStart // Zero means ChordBeforeFirstRise.
	Rise  float64    // limit that a rise must exceed [mmol/L]. Zero means 0.4.
}

// usualRise is the limit of a first rise [mmol/L].
const usualRise = 0.4

func (m ModifiedMaxDistance) rise() float64 { return cmp.Or(m.Rise, usualRise) }

// Locate implements [Method].
func (m ModifiedMaxDistance) Locate(t Test, c Curve) (float64, error) {
	if !positive(m.rise()) {
		return 0, fmt.Errorf("lactate: rise of modified Dmax: found %v, want a number above zero in mmol/L", m.Rise)
	}
	stages := ordered(t)
	start, err := m.start(stages)
	if err != nil {
		return 0, err
	}
	lo, hi := stages[start].Intensity, stages[len(stages)-1].Intensity
	between := false
	for _, s := range stages[start:] {
		between = between || s.Intensity > lo && s.Intensity < hi
	}
	if !between {
		return 0, errNothingBetween
	}
	return belowChord(t, c, m.Ends, lo, hi)
}

var (
	errNothingBetween = fmt.Errorf("lactate: modified Dmax: %w: no stage between the start of the chord and the last stage", ErrShape)
	errNoRise         = fmt.Errorf("lactate: modified Dmax: %w: no rise exceeds the limit", ErrShape)
)

// start returns the index of the stage at which the chord starts.
func (m ModifiedMaxDistance) start(stages []Stage) (int, error) {
	least := math.Inf(1)
	for i := 1; i < len(stages); i++ {
		least = min(least, stages[i-1].Lactate)
		switch m.Start {
		case ChordBeforeFirstRise:
			if exceeds(stages[i].Lactate-stages[i-1].Lactate, m.rise()) {
				return i - 1, nil
			}
		case ChordAtFirstRise:
			if exceeds(stages[i].Lactate-stages[i-1].Lactate, m.rise()) {
				return i, nil
			}
		case ChordBeforeRiseAboveLowest:
			if exceeds(stages[i].Lactate-least, m.rise()) {
				return i - 1, nil
			}
		default:
			return 0, fmt.Errorf("lactate: found %v, want a start of this package", m.Start)
		}
	}
	return 0, errNoRise
}

// exceeds compares lactates after rounding to 1e-6 mmol/L.
func exceeds(a, b float64) bool { return math.Round(a*1e6) > math.Round(b*1e6) }

func (m ModifiedMaxDistance) String() string {
	s := "modified Dmax"
	if m.rise() != usualRise {
		s += ", rise > " + words.Short(m.rise()) + " mmol/L"
	}
	if m.Start != ChordBeforeFirstRise {
		s += ", chord from " + m.Start.String()
	}
	return m.Ends.of(s)
}
