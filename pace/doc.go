// Package pace holds the quantities of a swim: lengths, pools, times, speeds,
// paces and strokes. It knows nothing about blood or training.
//
// # Quantities
//
//	Length    metres (m)                a float64; the yard is 0.9144 m exactly
//	Speed     metres per second (m/s)   a float64
//	Pace      time per length           "1:21.6/100 yd"
//	Pool      a length and its unit     "25 yd", "50 m", "33 1/3 m"
//	Stroke    rate (1/min), length (m)  of one stroke cycle
//
// Times are [time.Duration]. [ParseTime] reads them as swimmers write them and
// refuses a number that has two readings; [ParseTime] reads back what
// [FormatTime] prints.
//
// # Speed and pace
//
// A pace is the reciprocal of a speed: a larger pace is a slower swim. Fit and
// average speeds, and turn them into a pace for the reader at the end.
//
// A speed belongs to no pool. [Speed.In] gives it as a pace per 100 of a pool,
// and [Pace.In] turns a pace per 100 yd into a pace per 100 m. Both use geometry
// alone: s/100 m = s/100 yd / 0.9144. They do not account for turns, which make
// a short pool faster than a long one.
//
// # Text and JSON
//
// Length, Speed, Pace and Pool implement [encoding.TextMarshaler] and
// [encoding.TextUnmarshaler]: JSON holds them as strings with their unit. Reading back what was written gives the same value, to the last bit. A
// JSON number has no unit and is refused. String methods round for the reader.
//
// # Accuracy
//
// A Duration is a whole number of nanoseconds, and a time worked out from a
// speed is rounded to the nearest one: over a repeat of a minute or more, a
// speed turned into a time and back agrees to 1 part in 10^10.
//
// Everything here may be used from several goroutines at once.
//
// # Not here
//
// Imperial miles (a "mile" in a pool is 1500 m, 1650 yd or 1609 m, by custom),
// factors that compare race times of two courses, and points tables.
//
// # References
//
//   - Refinement of values for the yard and the pound. Federal Register, 1 July
//     1959: 1 yard = 0.9144 m exactly.
//   - Wakayoshi K et al. (1992) Determination and validity of critical velocity
//     as an index of swimming performance in the competitive swimmer. Eur J
//     Appl Physiol 64:153-157. doi:10.1007/BF00717953
//   - Costill DL et al. (1985) Energy expenditure during front crawl swimming:
//     predicting success in middle-distance events. Int J Sports Med 6:266-270.
//     doi:10.1055/s-2008-1025849
package pace
