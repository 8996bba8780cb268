package curve_test

import (
	"fmt"

	"example.com/steptest/lactate/curve"
)

func ExampleExponential_String() {
	fmt.Println(&curve.Exponential{A: 0.9, B: 0.0004, C: 6})
	fmt.Println(&curve.Exponential{A: 5, B: -2, C: -0.5})
	// Output:
	// 0.9 + 0.0004·exp(6·x)
	// 5 - 2·exp(-0.5·x)
}

func ExamplePolynomial_String() {
	p := curve.Polynomial{Degree: 2}
	fmt.Println(&p)
	// y = 1 − 2x + x², exactly.
	if err := p.Fit([]float64{-1, 0, 1, 2}, []float64{4, 1, 0, 1}); err != nil {
		fmt.Println(err)
	}
	fmt.Println(&p)
	// Output:
	// not fitted
	// 1 - 2·x + 1·x^2
}

func ExampleBrokenLine_String() {
	fmt.Println(&curve.BrokenLine{Join: 1.3, Level: 2, Left: 1.5, Right: 12})
	fmt.Println(&curve.ThreeLine{Lower: 1.2, Upper: 1.4, Level: 1, Left: 0.5, Middle: 5, Right: 30})
	fmt.Println(&curve.Shifted{A: 1, B: 2e-9, C: 16, Shifts: []float64{0, 0.02}})
	// Output:
	// 2 at 1.3, slopes 1.5 and 12
	// 1 at 1.2, then at 1.4, slopes 0.5, 5 and 30
	// 1 + 2e-09·exp(16·(x - shift)), shifts 0, 0.02
}
