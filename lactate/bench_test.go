package lactate_test

import (
	"fmt"
	"testing"

	"example.com/steptest/lactate"
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

func BenchmarkAnalyze(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := lactate.Analyze(sixStages, lactate.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkIntervals(b *testing.B) {
	for _, n := range []int{1000, 10000} {
		b.Run(fmt.Sprintf("resamples=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := lactate.Analyze(sixStages, lactate.Options{Resamples: n}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkCompare(b *testing.B) {
	after := lactate.Test{}
	for _, s := range sixStages.Stages {
		s.Intensity += 0.02
		after.Stages = append(after.Stages, s)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := lactate.Compare(sixStages, after, lactate.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
