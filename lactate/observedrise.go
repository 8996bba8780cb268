package lactate

import (
	"cmp"
	"fmt"

	"example.com/steptest/lactate/internal/reading"
	"example.com/steptest/lactate/internal/words"
)

// ObservedRise is the lowest stage at which the measured lactate has risen by at least a given
// amount above a baseline: an intensity that was tested, not one read off the curve.
//
// Bishop, Jenkins & Mackinnon (1998), Med Sci Sports Exerc 30:1270–1275, count a rise of at
// least 1 mmol/L (abstract seen); so do some concepts compared by Heuberger and others (2018),
// PLoS ONE 13:e0206846 (abstract seen). Read off the curve, the same rise is [AboveBaseline];
// it comes out lower, by up to one step of the test.
//
// Only stages above those of the baseline count: for BaselineFittedLowest those above the
// curve's lowest point, for BaselineLowestStage those above the first stage of the lowest
// value. Lactates are compared after rounding to 1e-6 mmol/L, since analysers print tenths. A
// later fall does not undo a rise. A sample that is off by a little moves the answer by a whole
// stage or not at all.
//
// The error is a [*NotReachedError] if no stage meets the rise, or if the lowest stage already
// lies that far above rest: the rise is then below the tested range.
type ObservedRise struct {
	Rise float64  // [mmol/L]. Zero means 1.0.
	From Baseline // Zero means BaselineFittedLowest.
}

func (m ObservedRise) rise() float64 { return cmp.Or(m.Rise, 1) }

// Locate implements [Method]. The curve may be nil unless the baseline is
// BaselineFittedLowest.
func (m ObservedRise) Locate(t Test, c Curve) (float64, error) {
	if !positive(m.rise()) {
		return 0, fmt.Errorf("lactate: observed rise: found %v, want a number above zero in mmol/L", m.Rise)
	}
	lo, hi, err := testedRange(t.Stages)
	if err != nil {
		return 0, err
	}
	base, err := m.From.value(t, c)
	if err != nil {
		return 0, err
	}
	stages := ordered(t)
	level := base + m.rise()
	first := 0
	switch m.From {
	case BaselineFittedLowest:
		x, _ := reading.Minimum(c, lo, hi)
		for first < len(stages) && stages[first].Intensity <= x {
			first++
		}
	case BaselineLowestStage:
		for stages[first].Lactate > base {
			first++
		}
		first++
	case BaselineFirstStage:
		first = 1
	case BaselineFirstTwoStages:
		first = 2
	}
	highest := base
	for i, s := range stages[first:] {
		if exceeds(level, s.Lactate) {
			highest = max(highest, s.Lactate)
			continue
		}
		if first+i == 0 {
			return 0, &NotReachedError{Level: level, Lowest: s.Lactate, Highest: max(s.Lactate, level), Of: "the lowest stage"}
		}
		return s.Intensity, nil
	}
	return 0, &NotReachedError{Level: level, Lowest: base, Highest: highest, Of: "what was measured"}
}

func (m ObservedRise) String() string {
	return fmt.Sprintf("first stage of %v + %s mmol/L", m.From, words.Short(m.rise()))
}
