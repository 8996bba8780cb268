// Package lactate reads a step test: thresholds, how sure they are, and whether two
// tests differ.
//
//	test := lactate.Test{Stages: []lactate.Stage{{Intensity: 1.10, Lactate: 1.2}, …}}
//	a, err := lactate.Analyze(test, lactate.Options{Resamples: 2000})
//	fmt.Println(a.LT2.Intensity)       // value, with its 90 % interval
//	c, err := lactate.Compare(test, later, lactate.CompareOptions{})
//	fmt.Println(c.Shift, c.BetweenDays.Grade) // such as "probably faster"
//
// # The model
//
// Each stage of a step test is held at one intensity x: m/s, km/h, W, any number that
// grows with effort. It ends with a lactate y (mmol/L) and often a heart rate (1/min).
// [Analyze] fits a [Curve] y(x) and reads thresholds off it. The default curve is
// [curve.Convex], which presumes no formula; [curve.Exponential] and [curve.Polynomial]
// are options. LT1 is where lactate begins to rise above its baseline, LT2 is near the
// highest intensity at which it can be steady; by default the baseline + 0.5 and + 1.5
// mmol/L, in order on any curve. A [Method] is one published definition; its options are
// the readings that the sources leave open. There is no bare "threshold": definitions of
// one point differ by more than a good test's noise, see [Analysis.Spread].
//
// # Methods
//
//   - a level of lactate: [Fixed], [AboveBaseline], [ObservedRise]
//   - a chord: [MaxDistance] (Dmax), [ModifiedMaxDistance], [LogLogMaxDistance]
//   - straight pieces: [LogLog], [FirstTurnPoint], [SecondTurnPoint]
//   - lactate over intensity: [LowestLactateEquivalent], [AboveLowestEquivalent]
//   - a slope: [FixedSlope]; recovery: [RecoveryTangent], [PeakLactate]
//   - tests of another kind: [LactateMinimum], [TwoSpeed]
//
// [Catalogue] has them as data, with sources, needs and weaknesses. [SideBySide] reads
// them all off one test, and [Influence] tells which stage each rests on.
//
// # Conventions
//
// Nothing is extrapolated: a threshold lies in the tested range, ends included, or
// there is an error that says which part of the definition did not hold. On a curve
// that dips, a level is read where the curve rises through it last. Pass speeds, never
// paces: Dmax, log–log and lactate equivalents differ on pace. A lactate of zero was
// not taken or was lost. Lactates are compared after rounding to 1e-6 mmol/L. Everything
// may be used from several goroutines at once.
//
// # How sure
//
// Options.Resamples asks for intervals: plain percentiles of draws from the posterior over
// convex shapes, or of a parametric bootstrap about another curve. [Noise] states the
// errors; the stated noise is a prior of Noise.Weight observations (ν₀) for the scale, and
// the residuals add their own ν:
//
//	s² = (ν₀ + Σ r²/σ²) / χ²(ν₀ + ν)
//
// An interval is about one definition on the true curve. It leaves out the day, other
// definitions and bias of the analyser. On convex shapes and evenly spaced stages the nominal
// 90 % held in 80 to 98 % on most of thirteen simulated shapes, see testdata/README.md; on a
// formula it holds if lactate follows that formula. Six samples alone say little of Dmax: what
// narrows it is the prior. [Analysis.SampleAt] predicts a new sample. Mind [Analysis] Warnings and
// Threshold.Failed. [Compare] and
// [FollowSeason] fit one shape with a shift to all tests, and keep the variation from
// day to day apart. Coverage, false alarms and power, simulated: testdata/README.md,
// with the references, and what is not implemented and why.
//
// # JSON
//
// The JSON of [Change], [CommonExponential], [Definition], [Influenced], [Influences],
// [LactateMinimumPoint], [LevelChange], [Panel], [PanelCurve], [PanelRow], [Reading],
// [Season], [SeasonTest], [ShapeTest], [Spread], [Threshold] and [ThresholdChange] is
// written for readers of results and not read back.
package lactate
