package forecast

import (
	"fmt"
	"slices"

	"example.com/steptest/lactate"
)

// Spacing is a test beside one of even steps, with as many stages between the same
// ends. The zero value is no test.
type Spacing struct {
	// Stages are spaced to tell more, or are those of even steps if they are as good.
	Stages []lactate.Stage `json:"stages"`
	// Even are the stages with even steps.
	Even []lactate.Stage `json:"even"`
	// LT1 and LT2 say how wide the intervals of Stages are, those of Even being 1,
	// averaged over the posterior of the swimmer's curve.
	LT1 float64 `json:"lt1_width"`
	LT2 float64 `json:"lt2_width"`
	// AsGood says that no spacing within the rules was found that narrows LT1 and LT2
	// by a twentieth each: Stages is Even then.
	AsGood bool `json:"as_good,omitzero"`
}

// worthwhile is the width of a spacing worth a hint, that of even steps being 1.
const worthwhile = 0.95

// Space places the stages between the first and the last for narrow intervals of both
// LT1 and LT2, over the probable shapes of the swimmer's curve.
//
// Every spacing is tried on simulated tests, and the best once more on others. It
// needs 4 to 12 stages of one distance (intensity times duration), each faster than
// the last. The error wraps [ErrNoAnswer].
func Space(stages []lactate.Stage, e Expected, o lactate.Options, r Rules) (*Spacing, error) {
	o, r, distance, err := searching(stages, o, r)
	if err != nil {
		return nil, err
	}
	b, err := e.belief(stages, nil, o)
	if err != nil {
		return nil, err
	}
	even := evenly(durations(stages), r.Round)
	s := b.search(distance, len(stages), nil, o, r)
	if err := s.found(even); err != nil {
		return nil, err
	}
	times, ok := s.run(even, 1)
	if !ok {
		return nil, fmt.Errorf("%w: targets that are %s apart, or more, do not fit between %s and %s", ErrNoAnswer, r.Least, even[0], even[len(even)-1])
	}
	d := &Spacing{Stages: over(distance, even), Even: over(distance, even), LT1: 1, LT2: 1, AsGood: true}
	if slices.Equal(times, even) {
		return d, nil
	}
	if lt1, lt2 := s.check(even, times); max(lt1, lt2) <= worthwhile {
		*d = Spacing{Stages: over(distance, times), Even: d.Even, LT1: lt1, LT2: lt2}
	}
	return d, nil
}
