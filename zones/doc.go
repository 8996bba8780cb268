// Package zones makes training zones and sets from two threshold speeds, and
// says afterwards in which zone a set was swum. It knows speeds and pools;
// the caller brings the thresholds.
//
// # Model
//
// A [Profile] holds a swimmer's LT1 and LT2 (m/s), each with an interval if it
// has one, and may hold functions that give heart rate (1/min) and lactate
// (mmol/L) at a speed. A [Scheme] is data: an ordered list of zones with bounds
// that hang on an [Anchor]. [Scheme.Apply] puts the two together into a [Table],
// whose zones tile the speed axis: each positive speed lies in one zone. A zone
// holds its slow edge and not its fast one.
//
// "Zone 2" means a different thing in each scheme: every zone prints what its
// edges hang on beside its number.
//
// # Schemes
//
//   - [ThreeZone]: below LT1, between, above LT2. Skinner & McLellan 1980
//     (from memory); Seiler & Kjerland 2006, on ventilatory thresholds, with 2
//     and 4 mmol/L as analogues.
//   - [Domains]: moderate, heavy, severe. Jamnick et al. 2020. LT2 stands in for
//     critical speed or the maximal lactate steady state.
//   - [FiveZoneLactate] and [FiveZoneHeartRate]: the endurance scale of a
//     Norwegian federation, as printed by Seiler & Tønnessen 2009 and in Seiler's chapter on
//     intensity distribution. Made for land sports: fixed levels, the same for
//     everyone.
//   - Any other, in Go or from JSON ([ReadScheme]), checked for gaps, overlaps
//     and order.
//
// For swimmers: the three zones and the domains follow the swimmer's own curve
// and carry over as they are. The five zones do not know the swimmer, and their
// heart rates come from sports in which the maximum is higher than in water.
// Zones of 60 to 300 s repeats say nothing about sprints, whose speed no longer
// depends on lactate thresholds.
//
// # Sets
//
// [Table.Workout] turns zone, repeats, distance and pool into target times, a send-off
// rounded up to five seconds, the rest it leaves, total time and distance.
// [Table.Review] goes the other way, from the times swum. [Table.Distribute] adds
// up a week. [Table.Propose] drafts one for given hours and days; [ReadWeek] and
// [WriteWeek] keep weeks in files. Send-offs in steps of five seconds are common practice, as is the
// ten seconds of least rest that a [Set] starts from; that easy swims are given
// room down to 0.9 of LT1 is our convention.
//
// # Conventions
//
// Paces run from slow to fast, as zones do: "1:21.6–1:15.2/100 yd". Zero heart
// rate or lactate means not known. Nothing is extrapolated: an edge that the
// test did not reach joins two zones into one, and a warning says so.
//
// Everything here may be used from several goroutines at once.
//
// # Accuracy
//
// Edges are as good as the thresholds; [Edge.In] shows their interval. Times of
// repeats are rounded to the nanosecond and printed to a tenth of a second.
//
// # Not here
//
// Five levels on the lactate–velocity curve for swimmers (Mujika et al. 1995,
// about 2, 4, 6 and 10 mmol/L) and the letters of national bodies (A1, A2, …):
// their numbers are known to us from memory only. Write them as a scheme.
// Weights that turn time in a zone into one number of load: no agreed
// definition. Percentages of an age-predicted maximal heart rate.
//
// # References
//
//   - Skinner JS, McLellan TH (1980) The transition from aerobic to anaerobic
//     metabolism. Res Q Exerc Sport 51:234-248.
//   - Seiler KS, Kjerland GØ (2006) Quantifying training intensity distribution
//     in elite endurance athletes: is there evidence for an "optimal"
//     distribution? Scand J Med Sci Sports 16:49-56.
//     doi:10.1111/j.1600-0838.2004.00418.x
//   - Seiler S, Tønnessen E (2009) Intervals, thresholds, and long slow distance:
//     the role of intensity and duration in endurance training. Sportscience
//     13:32-53.
//   - Jamnick NA et al. (2020) An examination and critique of current methods to
//     determine exercise intensity. Sports Med 50:1729-1756.
//     doi:10.1007/s40279-020-01322-8
//
// (Titles from memory.)
//
// # JSON
//
// The JSON of [Profile] and [Table] is written for readers of results and not read
// back.
package zones
