package lactate_test

import (
	"fmt"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// sixStages is an invented test.
var sixStages = lactate.Test{Stages: []lactate.Stage{
	{Intensity: 1.149, Lactate: 1.2, HeartRate: 121},
	{Intensity: 1.183, Lactate: 1.3, HeartRate: 132},
	{Intensity: 1.220, Lactate: 1.7, HeartRate: 144},
	{Intensity: 1.258, Lactate: 2.4, HeartRate: 156},
	{Intensity: 1.299, Lactate: 3.9, HeartRate: 167},
	{Intensity: 1.338, Lactate: 6.8, HeartRate: 178},
}}

func analyze(b *testing.B, t lactate.Test, o lactate.Options) {
	if _, err := lactate.Analyze(t, o); err != nil {
		b.Fatal(err)
	}
}

// All core methods, without intervals.
func BenchmarkAnalyze(b *testing.B) {
	cubic := lactate.Options{Curve: func() lactate.Curve { return new(curve.Polynomial) }}
	b.Run("stages=6/curves=both", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			analyze(b, sixStages, lactate.Options{})
			analyze(b, sixStages, cubic)
		}
	})
	for _, n := range []int{6, 60, 600, 6000} {
		t := many(n)
		b.Run(fmt.Sprintf("stages=%d/curves=convex", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				analyze(b, t, lactate.Options{})
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/stage")
		})
	}
}

// All core methods on the exponential, with intervals.
func BenchmarkIntervals(b *testing.B) {
	for _, size := range []struct{ stages, resamples int }{
		{6, 100}, {6, 1000}, {6, 10000}, {6, 100000}, {60, 1000}, {600, 1000}, {6000, 1000},
	} {
		t := many(size.stages)
		if size.stages == 6 {
			t = sixStages
		}
		b.Run(fmt.Sprintf("stages=%d/resamples=%d", size.stages, size.resamples), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				analyze(b, t, lactate.Options{Resamples: size.resamples})
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(size.resamples), "ns/resample")
		})
	}
}

// Every definition of the catalogue on both common curves.
func BenchmarkSideBySide(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := lactate.SideBySide(sixStages, lactate.SideBySideOptions{Unit: "m/s"}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCompare(b *testing.B) {
	after := lactate.Test{}
	for _, s := range sixStages.Stages {
		s.Intensity += 0.02
		after.Stages = append(after.Stages, s)
	}
	for _, n := range []int{0, 10000} {
		b.Run(fmt.Sprintf("resamples=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := lactate.Compare(sixStages, after, lactate.CompareOptions{Options: lactate.Options{Resamples: n}}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A whole archive, without intervals.
func BenchmarkAnalyzeAll(b *testing.B) {
	for _, n := range []int{1000, 10_000, 100_000} {
		b.Run(fmt.Sprintf("tests=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				for range lactate.AnalyzeAll(b.Context(), archive(n, nil), lactate.Options{}) {
				}
			}
			b.ReportMetric(float64(n)*float64(b.N)/b.Elapsed().Seconds(), "tests/s")
		})
	}
}

// Every definition read on a curve that is fitted already: eight stages.
func BenchmarkLocate(b *testing.B) {
	test := fullTest()
	for i, c := range []lactate.Curve{new(curve.Exponential), new(curve.Polynomial)} {
		fitted(b, c, test)
		for _, e := range lactate.Catalogue("m/s") {
			if _, err := e.Method.Locate(test, c); err != nil || !e.OnCurve && i > 0 {
				continue // no answer, or not read on a curve and done already
			}
			b.Run(fmt.Sprintf("curve=%T/method=%v", c, e.Method), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := e.Method.Locate(test, c); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
