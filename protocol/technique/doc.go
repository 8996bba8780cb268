// Package technique tells what the stroke does as the repeats of a step test get
// faster.
//
//	profile, err := technique.Of(record, technique.Options{Resamples: 2000})
//	stroke, err := profile.At(1.25)                      // say, at LT2 [m/s]
//	change, err := technique.Compare(before, after, 1.25) // two tests, one speed
//
// # The model
//
// Stroke cycles and time are taken over a measured segment in mid-pool, clear of
// turns. One cycle is two arm strokes in crawl and backstroke.
//
//	rate   = 60 · cycles / time                       [1/min]
//	length = segment / cycles                         [m]
//	index  = segment / time · length                  [m²/s]
//
// Strokes per length, or a stroke rate by a watch, stand in if there is no
// segment ([Basis]): the segment is then a whole length, in its mean time.
//
//	share  = segment / time / mean speed of the repeat [1]
//
// [Profile.At] reads cycles and time along straight lines between the repeats.
// [Trend] is the straight line by least squares from the slowest repeat to the
// fastest. [Shortening] is the join of two lines of stroke length against speed.
//
// # How sure
//
// The errors of count and watch are inputs ([Options]). Intervals are
// percentiles of tests simulated with these errors. They do not hold how a
// swimmer differs from day to day.
//
// # Not here
//
// Strokes of single lengths, breakaway and underwater distances, and judgement of
// what a good stroke is.
//
// # References
//
//   - Arsoniadis GG et al. (2020) Sports 8:23: the worked example of the tests.
//   - Costill DL et al. (1985): stroke index (from memory).
//   - Hyndman RJ, Fan Y (1996) Sample quantiles in statistical packages. Am Stat
//     50:361-365 (from memory): percentiles, definition 5.
//   - Keskinen KL, Komi PV (1993) J Appl Biomech 9:219-226 (from memory): stroke
//     length and the lactate threshold.
//
// # JSON
//
// The JSON of [Basis], [Profile] and [Shortening] is written for readers of results and not read
// back.
package technique
