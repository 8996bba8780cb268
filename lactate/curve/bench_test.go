package curve_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/steptest/lactate/curve"
)

// stepTest returns n invented points of a step test.
func stepTest(n int) (xs, ys []float64) {
	xs, ys = make([]float64, n), make([]float64, n)
	for i := range xs {
		xs[i] = 1.15 + 0.19*float64(i)/float64(n-1)
		ys[i] = math.Round(10*(1+2e-9*math.Exp(16*xs[i])+0.2*math.Sin(float64(7*i)))) / 10
	}
	return xs, ys
}

func BenchmarkExponentialFit(b *testing.B) {
	for _, n := range []int{6, 60, 600, 6000} {
		xs, ys := stepTest(n)
		b.Run(fmt.Sprintf("points=%d/xs=same", n), func(b *testing.B) {
			var e curve.Exponential
			b.ReportAllocs()
			for b.Loop() {
				if err := e.Fit(xs, ys); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(fmt.Sprintf("points=%d/xs=new", n), func(b *testing.B) {
			var e curve.Exponential
			first := xs[0]
			b.ReportAllocs()
			for k := 0; b.Loop(); k++ {
				xs[0] = first + 1e-9*float64(k&1)
				if err := e.Fit(xs, ys); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
