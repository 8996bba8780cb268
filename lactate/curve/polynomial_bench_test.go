package curve_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate/curve"
)

// Invented: six repeats of a swimmer [m/s], [mmol/L].
var (
	sixSpeeds   = []float64{1.15, 1.18, 1.22, 1.26, 1.3, 1.34}
	sixLactates = []float64{1.4, 1.5, 1.7, 1.8, 2.7, 4.6}
)

func BenchmarkQuinticFit(b *testing.B) {
	b.Run("points=21", func(b *testing.B) {
		p := curve.Polynomial{Degree: 5}
		xs, ys := make([]float64, 21), make([]float64, 21)
		for i := range xs {
			xs[i] = float64(i)
			ys[i] = math.Sin(xs[i])
		}
		b.ReportAllocs()
		for b.Loop() {
			if err := p.Fit(xs, ys); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkPolynomialThresholds(b *testing.B) {
	var p curve.Polynomial
	if err := p.Fit(sixSpeeds, sixLactates); err != nil {
		b.Fatal(err)
	}
	b.Run("method=Upcrossing", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			p.Upcrossing(4, 1.15, 1.34)
		}
	})
	b.Run("method=FarthestBelow", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			p.FarthestBelow(16, 1.15, 1.34)
		}
	})
	b.Run("method=Minimum", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			p.Minimum(1.15, 1.34)
		}
	})
	b.Run("method=Predict", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			p.Predict(1.2)
		}
	})
}
