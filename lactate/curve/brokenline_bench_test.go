package curve_test

import (
	"testing"

	"example.com/steptest/lactate/curve"
)

// Invented: the logarithms of eight speeds and lactates.
var (
	eightLogSpeeds   = []float64{0.095, 0.140, 0.182, 0.223, 0.262, 0.300, 0.336, 0.372}
	eightLogLactates = []float64{0.095, 0.182, 0.223, 0.336, 0.642, 1.194, 1.609, 2.067}
)

func BenchmarkLogLogFit(b *testing.B) {
	b.Run("points=8", func(b *testing.B) {
		var c curve.BrokenLine
		b.ReportAllocs()
		for b.Loop() {
			if err := c.Fit(eightLogSpeeds, eightLogLactates); err != nil {
				b.Fatal(err)
			}
		}
	})
}
