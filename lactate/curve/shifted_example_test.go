package curve_test

import (
	"fmt"
	"log"
	"math"

	"example.com/steptest/lactate/curve"
)

// Two tests on one curve, the second moved right by 0.03: constructed, so that the
// numbers that come back are those put in. Groups say which test a point is of, 0
// for the first.
func ExampleShifted() {
	var xs, ys []float64
	var groups []int
	for group, shift := range []float64{0, 0.03} {
		for _, x := range []float64{1.1, 1.15, 1.2, 1.25, 1.3, 1.35} {
			xs = append(xs, x)
			ys = append(ys, 1+math.Exp(14*(x-shift-1.2)))
			groups = append(groups, group)
		}
	}
	var s curve.Shifted
	if err := s.Fit(xs, ys, groups); err != nil {
		log.Fatal(err)
	}
	fmt.Printf("asymptote %.3f, rate %.3f, shifts %.3f\n", s.A, s.C, s.Shifts)
	fmt.Printf("at 1.25: %.3f before, %.3f after\n", s.Predict(1.25, 0), s.Predict(1.25, 1))
	// Output:
	// asymptote 1.000, rate 14.000, shifts [0.000 0.030]
	// at 1.25: 3.014 before, 2.323 after
}
