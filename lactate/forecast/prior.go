package forecast

import (
	"fmt"

	"example.com/steptest/lactate"
)

// The prior of a swimmer of whom nothing is known: one standard deviation either
// side covers asymptotes of 0.8 to 1.4 mmol/L, rates of 11 to
// 22 per m/s, and 6 to 12 mmol/L after the last, all-out stage. Ours.
const (
	asymptoteMean, asymptoteSD = 1.1, 0.3        // [mmol/L]
	finalMean, finalSD         = 9.0, 3.0        // [mmol/L] at the speed of the last stage
	swumSD                     = 10.0            // [mmol/L] at the fastest stage of an earlier test, which its sample tells
	rateMedian                 = 15.556349186104 // √(11·22) [1/(m/s)]
	rateLogSD                  = 0.34657359028   // ln(22/11)/2
	rateReach                  = 2.5             // standard deviations of ln rate either side
)

// unlike is how many times less probable than two shapes one shape for two tests
// may be, before the earlier of them is left out. Ours.
const unlike = 20

// Expected is what is known of a swimmer's curve, lactate = A + B·exp(C·speed),
// before a test. The zero value is a swimmer of whom nothing is known, with the
// prior: A is 1.1 ± 0.3 mmol/L, C is 15.6 per m/s, give or take a factor of 1.41
// (11 to 22), and the last stage of the test ends at 9 ± 3 mmol/L.
type Expected struct {
	// Tests are earlier tests of the swimmer, the last one last, with speeds
	// [m/s] as intensities. They turn the prior into the posterior, by the noise of
	// the options.
	//
	// The shape of the curve, A and C, is learned from all of them. Where it
	// lies is that of the last one alone: training has moved the curve since
	// the others, nobody knows how far. Its day and the day of the test that is
	// forecast move the curve further, each by DayToDay: no
	// number of tests tells more of the next day than that. An earlier test whose
	// curve is plainly of another shape than the last one's is left out, see
	// [Outlook.LeftOut]. How far their samples scatter is not learned: if they
	// tell, state it, see [lactate.PooledNoise]. Each needs three stages with a
	// lactate. Nil means none.
	Tests []lactate.Test `json:"tests,omitzero"`
	// DayToDay is the swimmer's variation from day to day, as in
	// [lactate.CompareOptions]. Zero means its default.
	DayToDay float64 `json:"day_to_day,omitzero"`
}

// comparison returns the options of a comparison with an earlier test.
func (e Expected) comparison(o lactate.Options) (lactate.CompareOptions, error) {
	c, err := lactate.CompareOptions{Options: o, DayToDay: e.DayToDay}.WithDefaults()
	if err != nil {
		return c, fmt.Errorf("%w: %w", ErrNoAnswer, err)
	}
	return c, nil
}
