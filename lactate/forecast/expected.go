package forecast

import "example.com/steptest/lactate"

// The prior of a swimmer of whom nothing is known: one standard deviation either
// side covers 0.8 to 1.4 mmol/L at the slowest stage, 6 to 12 mmol/L after the last,
// all-out stage, and rates of an exponential of 11 to 22 per m/s. Ours.
const (
	lowMean, lowSD     = 1.1, 0.3        // [mmol/L] at the slowest stage
	finalMean, finalSD = 9.0, 3.0        // [mmol/L] at the speed of the last stage
	rateMedian         = 15.556349186104 // √(11·22) [1/(m/s)]
	rateLogSD          = 0.34657359028   // ln(22/11)/2
	anyRate            = 0.1             // share of swimmers whose curve bends at any place
)

// Expected is what is known of a swimmer's curve before a test. The zero value is a
// swimmer of whom nothing is known: 1.1 ± 0.3 mmol/L at the slowest stage, 9 ± 3 at
// the last, and a convex curve between them, with the prior of
// [example.com/steptest/lactate/curve.Convex]. Where it bends is as on an
// exponential of a rate of 15.6 per m/s, give or take a factor of 1.41, but for one
// swimmer in ten.
type Expected struct {
	// Tests are earlier tests of the swimmer, the last one last, with speeds
	// [m/s] as intensities. They turn the prior into the posterior, by the noise of
	// the options.
	//
	// The last one says where the curve lies and how it bends; the five before it add
	// to how it bends, wherever they lie: training has moved the curve, nobody knows
	// how far. The day of the last test and the day of the test that is forecast move
	// the curve further, each by Options.DayToDay. An earlier test whose curve is
	// plainly of another shape than the last one's is left out, see
	// [Outlook.LeftOut]. How far their samples scatter is not learned: if they
	// tell, state it, see [lactate.PooledNoise]. Each needs three stages with a
	// lactate. Nil means none.
	Tests []lactate.Test `json:"tests,omitzero"`
}
