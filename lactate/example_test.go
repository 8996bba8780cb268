package lactate_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"time"

	"example.com/steptest/lactate"
)

// Invented tests of one swimmer, [m/s], [mmol/L], [1/min].
func january() lactate.Test {
	return lactate.Test{Stages: []lactate.Stage{
		{Intensity: 1.10, Lactate: 1.2, HeartRate: 126}, {Intensity: 1.15, Lactate: 1.3, HeartRate: 134},
		{Intensity: 1.20, Lactate: 1.7, HeartRate: 141}, {Intensity: 1.25, Lactate: 2.5, HeartRate: 150},
		{Intensity: 1.30, Lactate: 4.4, HeartRate: 159}, {Intensity: 1.36, Lactate: 9.0, HeartRate: 168},
	}}
}

func march() lactate.Test {
	return lactate.Test{Stages: []lactate.Stage{
		{Intensity: 1.12, Lactate: 1.1, HeartRate: 125}, {Intensity: 1.17, Lactate: 1.4, HeartRate: 132},
		{Intensity: 1.22, Lactate: 1.6, HeartRate: 140}, {Intensity: 1.27, Lactate: 2.6, HeartRate: 149},
		{Intensity: 1.32, Lactate: 4.3, HeartRate: 157}, {Intensity: 1.38, Lactate: 9.2, HeartRate: 167},
	}}
}

// LT1 and LT2 of one test, how sure they are, and what to know before
// believing them.
func ExampleAnalyze() {
	analysis, err := lactate.Analyze(january(), lactate.Options{Resamples: 2000})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, th := range []lactate.Threshold{analysis.LT1, analysis.LT2} {
		fmt.Printf("%v: %.2f m/s (%.2f to %.2f)\n", th.Method, th.Intensity.Value, th.Intensity.Low, th.Intensity.High)
	}
	for _, w := range analysis.Warnings {
		fmt.Println(w)
	}
	// Output:
	// baseline + 0.5 mmol/L: 1.20 m/s (1.19 to 1.22)
	// baseline + 1.5 mmol/L: 1.26 m/s (1.24 to 1.27)
}

// Has the curve moved? Against measurement error, yes; by more than two days
// differ, not so surely.
func ExampleCompare() {
	change, err := lactate.Compare(january(), march(), lactate.CompareOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%+.3f m/s, %v\n", change.Shift.Value, change.Measured.Grade)
	fmt.Println("between days:", change.BetweenDays.Grade)
	fmt.Printf("%.1f %% at LT2\n", change.Percent().Value)
	// Output:
	// +0.019 m/s, faster
	// between days: probably faster
	// 1.5 % at LT2
}

// Any number of tests in one fit, and where the next is to be expected.
func ExampleFollowSeason() {
	day := func(month time.Month, d int) time.Time { return time.Date(2025, month, d, 0, 0, 0, 0, time.UTC) }
	season, err := lactate.FollowSeason([]lactate.DatedTest{{Date: day(1, 13), Test: january()}, {Date: day(3, 10), Test: march()}}, lactate.CompareOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	next, err := season.Expected(day(5, 5))
	fmt.Printf("%+.3f m/s every four weeks: %v; in May at %+.2f m/s, %v\n", season.Trend.Shift.Value, season.Trend.Grade, next.Value, err)
	// Output:
	// +0.010 m/s every four weeks: probably faster; in May at +0.04 m/s, <nil>
}

// Every fault of a test at once, each with its stage, what was found and what
// was expected.
func ExampleTest_Check() {
	test := january()
	test.Stages[1].Lactate = -1.3
	test.Stages[4].Intensity = 0
	err := test.Check()
	fmt.Println(err)
	var fault *lactate.StageError
	if errors.As(err, &fault) {
		fmt.Println("the first:", fault.Field, "of stage", fault.Stage+1)
	}
	// Output:
	// lactate: stage 2: lactate: found -1.3, want a lactate in mmol/L, or zero if not taken
	// lactate: stage 5: intensity: found 0, want a finite number above zero
	// the first: lactate of stage 2
}

// A level outside what was reached is no threshold, and the error says on
// which side to look. Nothing is extrapolated.
func ExampleNotReachedError() {
	analysis, err := lactate.Analyze(january(), lactate.Options{Methods: []lactate.Method{lactate.Fixed{Lactate: 12}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	var missed *lactate.NotReachedError
	if errors.As(analysis.Thresholds[0].Err, &missed) {
		fmt.Printf("%.0f mmol/L, curve up to %.0f, above it: %v\n", missed.Level, missed.Highest, missed.Above())
	}
	// Output:
	// 12 mmol/L, curve up to 9, above it: true
}

// An interval at the price of two refits for each sample.
func ExampleAnalysis_DeltaInterval() {
	analysis, err := lactate.Analyze(january(), lactate.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := analysis.DeltaInterval(lactate.Fixed{Lactate: 4})
	fmt.Printf("%.2f (%.2f to %.2f) m/s, %v\n", e.Value, e.Low, e.High, err)
	// Output:
	// 1.29 (1.29 to 1.30) m/s, <nil>
}

// What earlier tests say of an athlete's noise counts for more than what is
// assumed of everybody.
func ExamplePooledNoise() {
	noise, err := lactate.PooledNoise(lactate.DefaultNoise(), january(), march())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("counts for %.0f observations instead of 4, is smaller than assumed: %v\n", noise.Weight, noise.Lactate(3) < lactate.DefaultNoise().Lactate(3))
	// Output:
	// counts for 10 observations instead of 4, is smaller than assumed: true
}

// An archive of any size, on all cores, in order.
func ExampleAnalyzeAll() {
	archive := maps.All(map[string]lactate.Test{"Robin Vale, January": january()})
	for name, result := range lactate.AnalyzeAll(context.Background(), archive, lactate.Options{}) {
		if result.Err != nil {
			fmt.Println(name, result.Err)
			continue
		}
		fmt.Printf("%s: LT2 %.2f m/s\n", name, result.Analysis.LT2.Intensity.Value)
	}
	// Output:
	// Robin Vale, January: LT2 1.26 m/s
}
