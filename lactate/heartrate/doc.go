// Package heartrate fits the straight line of heart rate against intensity to one
// step test, and compares two such lines:
//
//	line, err := heartrate.Fit(test, heartrate.Options{})
//	h, err := line.HeartRate(1.15)   // at 1.15 m/s, with the interval of one reading
//	v, err := line.Intensity(140)    // the speed at 140 /min
//	c, err := heartrate.Compare(line, later, 1.15, heartrate.Options{})
//
// Intensity is any number that grows with effort: m/s, W, km/h; heart rate is in
// beats per minute. Nothing is extrapolated.
//
// The line rests on all stages of the test. Beside a threshold,
// [lactate.Analysis] reads the heart rate from stage to stage instead.
//
// # Checks
//
// Lines, intervals, inverse predictions, warnings and changes agree with R 4.2.2 on
// twelve tests (TestHeartRateReference); slope, intercept and residual error with
// the certified values of NIST's Norris data. Simulated 90 % intervals hold in 90 of
// 100 tests with normal errors (TestHeartRateCoverage).
//
// # References
//
//   - Fieller EC (1954) J R Stat Soc B 16:175-185 (from memory).
//   - Lamberts RP et al. (2004) J Strength Cond Res 18:641-645 (from memory).
//
// # JSON
//
// The JSON of [Line] is written for readers of results and not read back.
package heartrate

// Heart rates of exercise lie between these (1/min). Beyond, a slip is likelier than the value:
// our judgement, and wider than what is met in healthy swimmers.
const (
	Least = 30
	Most  = 250
)
