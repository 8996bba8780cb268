package curve_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/steptest/lactate/curve"
)

func BenchmarkThreeLineFit(b *testing.B) {
	for _, n := range []int{8, 50, 1000, 4096} {
		b.Run(fmt.Sprintf("points=%d", n), func(b *testing.B) {
			// Invented: flat, rising, steep, with a ripple for noise.
			xs, ys := make([]float64, n), make([]float64, n)
			for i := range xs {
				x := float64(i) / float64(n-1)
				xs[i] = x
				ys[i] = 1 + 0.1*math.Sin(1e4*x*x+float64(i)) + 2*max(0, x-0.4) + 10*max(0, x-0.75)
			}
			var c curve.ThreeLine
			b.ReportAllocs()
			for b.Loop() {
				if err := c.Fit(xs, ys); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
