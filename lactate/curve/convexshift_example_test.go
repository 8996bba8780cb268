package curve_test

import (
	"fmt"
	"log"

	"example.com/steptest/lactate/curve"
)

// Two invented tests, which no formula need fit. A stated standard deviation of the days,
// 0.008 of 1.3 m/s for each test, makes the answer less sure.
func ExampleConvexShifted() {
	xs := []float64{1.10, 1.17, 1.24, 1.31, 1.38, 1.45, 1.10, 1.17, 1.24, 1.31, 1.38, 1.45}
	ys := []float64{1.2, 1.1, 1.4, 3.6, 5.9, 8.3, 1.1, 1.3, 1.2, 3.2, 5.6, 8.1}
	groups := []int{0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1}
	var c curve.ConvexShifted
	if err := c.Fit(xs, ys, groups); err != nil {
		log.Fatal(err)
	}
	shift := c.Shift(1)
	fmt.Printf("moved by %.3f (%.3f to %.3f), to the right with %.0f %%\n",
		shift.Mean(), shift.Quantile(0.05), shift.Quantile(0.95), 100*shift.Survival(0))
	days := shift.Plus(0.0147) // √2 · 0.008 · 1.3
	fmt.Printf("and with days that differ, with %.0f %%\n", 100*days.Survival(0))
	// Output:
	// moved by 0.010 (0.003 to 0.017), to the right with 99 %
	// and with days that differ, with 74 %
}
