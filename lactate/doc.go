// Package lactate reads a step test: thresholds, how sure they are, and whether two
// tests differ.
//
//	test := lactate.Test{Stages: []lactate.Stage{{Intensity: 1.10, Lactate: 1.2}, …}}
//	a, err := lactate.Analyze(test, lactate.Options{Resamples: 2000})
//	fmt.Println(a.LT2.Intensity)       // value, with its 90 % interval
//	c, err := lactate.Compare(test, later, lactate.CompareOptions{})
//	fmt.Println(c.Shift, c.BetweenDays.Grade) // such as "probably faster"
//
// A stage at one intensity (m/s, km/h, W: any number that grows with effort) ends with a
// lactate (mmol/L). [Analyze] fits a [Curve], by default [curve.Convex], which presumes no
// formula, and reads thresholds off it. LT1 is where lactate begins to rise above its
// baseline, LT2 is near the highest intensity at which it can be steady; by default the
// baseline + 0.5 and + 1.5 mmol/L, in order on any curve. A [Method] is one published
// definition, its options the readings that the sources leave open. Definitions of one point
// differ by more than a good test's noise, see [Analysis.Spread]. They read
//
//   - a level of lactate: [Fixed], [AboveBaseline], [ObservedRise]
//   - a chord: [MaxDistance] (Dmax), [ModifiedMaxDistance], [LogLogMaxDistance]
//   - straight pieces: [LogLog], [FirstTurnPoint], [SecondTurnPoint]
//   - lactate over intensity: [LowestLactateEquivalent], [AboveLowestEquivalent]
//   - a slope: [FixedSlope]; recovery: [RecoveryTangent], [PeakLactate]
//   - tests of another kind: [LactateMinimum], [TwoSpeed]
//
// [Catalogue] lists them with sources, needs and weaknesses; [SideBySide] reads all.
//
// # Conventions
//
// Nothing is extrapolated: a threshold lies in the tested range, ends included, or an error
// says what did not hold. A level is read where the curve rises through it last. Pass
// speeds, never paces: Dmax, log–log and lactate equivalents differ on pace. Everything may
// be used from several goroutines at once. JSON that is not read back: [Change],
// [CommonExponential], [Definition], [Influenced], [Influences], [LactateMinimumPoint],
// [LevelChange], [Panel], [PanelCurve], [PanelRow], [Reading], [Season], [SeasonTest],
// [ShapeTest], [Spread], [Threshold], [ThresholdChange].
//
// # How sure
//
// Options.Resamples asks for intervals: percentiles of draws from the posterior over convex
// shapes, or of a parametric bootstrap about another curve. The stated [Noise] is a prior of
// ν₀ observations (Noise.Weight) for its scale s, to which the residuals add their own ν:
//
//	s² = (ν₀ + Σ r²/σ²) / χ²(ν₀ + ν)
//
// An interval leaves out the day, other definitions and bias of the analyser. The nominal
// 90 % held in 80 to 98 % on most of thirteen simulated convex shapes, stages evenly spaced;
// on a formula it holds if lactate follows it. Six samples alone say little of Dmax: the prior
// narrows it. Coverage, power, references, what is not implemented: testdata/README.md.
package lactate
