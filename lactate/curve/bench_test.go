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

// twoTests returns n invented points of each of two step tests.
func twoTests(n int) (xs, ys []float64, groups []int) {
	xs, ys = stepTest(n)
	groups = make([]int, 2*n)
	for i := range n {
		xs, ys = append(xs, xs[i]+0.01), append(ys, ys[i]+0.1)
		groups[n+i] = 1
	}
	return xs, ys, groups
}

// benchmarkFit runs a fit with the same xs and with new ones every time, at 6
// to 6000 points.
func benchmarkFit(b *testing.B, fit func(xs, ys []float64) error) {
	for _, n := range []int{6, 60, 600, 6000} {
		xs, ys := stepTest(n)
		first := xs[0]
		for k, name := range []string{"same", "new"} {
			move := 1e-9 * float64(k)
			b.Run(fmt.Sprintf("points=%d/xs=%s", n, name), func(b *testing.B) {
				b.ReportAllocs()
				for k := 0; b.Loop(); k++ {
					xs[0] = first + move*float64(k&1)
					if err := fit(xs, ys); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/point")
			})
		}
	}
}

func BenchmarkExponentialFit(b *testing.B) { benchmarkFit(b, new(curve.Exponential).Fit) }

func BenchmarkPolynomialFit(b *testing.B) { benchmarkFit(b, new(curve.Polynomial).Fit) }

func BenchmarkBrokenLineFit(b *testing.B) { benchmarkFit(b, new(curve.BrokenLine).Fit) }

func BenchmarkShiftedFit(b *testing.B) {
	for _, n := range []int{6, 60, 600, 6000} {
		xs, ys, groups := twoTests(n)
		first := xs[0]
		for k, name := range []string{"same", "new"} {
			move := 1e-9 * float64(k)
			b.Run(fmt.Sprintf("points=%d+%d/xs=%s", n, n, name), func(b *testing.B) {
				var s curve.Shifted
				b.ReportAllocs()
				for k := 0; b.Loop(); k++ {
					xs[0] = first + move*float64(k&1)
					if err := s.Fit(xs, ys, groups); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(2*n), "ns/point")
			})
		}
	}
}
