package curve_test

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve"
)

// Constructed: lactate is 1 + 2·t + 40·t³ with t the speed less 1.1 m/s. At
// t = 0.3 that is 2.68 mmol/L; the chord from t = 0 to 0.5 has slope 12, the
// curve at t = √(10/120) = 0.2887.
func ExamplePolynomial() {
	var speeds, lactates []float64 // [m/s], [mmol/L]
	for i := range 6 {
		t := 0.1 * float64(i)
		speeds = append(speeds, 1.1+t)
		lactates = append(lactates, 1+2*t+40*t*t*t)
	}
	var p curve.Polynomial // zero Degree: a cubic
	if err := p.Fit(speeds, lactates); err != nil {
		fmt.Println(err)
		return
	}
	lo, hi := 1.1, 1.6
	x, ok := p.Upcrossing(2.68, lo, hi)
	fmt.Printf("2.68 mmol/L at %.4f m/s, reached: %v\n", x, ok)
	chord := (p.Predict(hi) - p.Predict(lo)) / (hi - lo)
	x, ok = p.FarthestBelow(chord, lo, hi)
	fmt.Printf("farthest below the chord at %.4f m/s, inside: %v\n", x, ok)
	// Output:
	// 2.68 mmol/L at 1.4000 m/s, reached: true
	// farthest below the chord at 1.3887 m/s, inside: true
}

// Constructed: lactate is 1.2·(v/1.3)^1.5 up to 1.3 m/s and 1.2·(v/1.3)^12
// after it: two lines on logarithmic axes.
func ExampleBrokenLine() {
	speeds := []float64{1.10, 1.15, 1.20, 1.25, 1.35, 1.40, 1.45, 1.50}
	lactates := []float64{0.934018, 0.998419, 1.064236, 1.131439, 1.887410, 2.920098, 4.449150, 6.682764}
	var xs, ys []float64
	for i := range speeds {
		xs = append(xs, math.Log(speeds[i]))
		ys = append(ys, math.Log(lactates[i]))
	}
	var b curve.BrokenLine
	if err := b.Fit(xs, ys); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f m/s, %.3f mmol/L\n", math.Exp(b.Join), math.Exp(b.Level))
	fmt.Printf("slopes %.2f and %.2f\n", b.Left, b.Right)
	// Output:
	// 1.3000 m/s, 1.200 mmol/L
	// slopes 1.50 and 12.00
}

// Constructed: lactate is level up to 1.22 m/s, rises by 10 mmol/L per m/s up
// to 1.36 m/s, and by 40 after it.
func ExampleThreeLine() {
	var speeds, lactates []float64
	for i := range 9 {
		v := 1.10 + 0.05*float64(i)
		speeds = append(speeds, v)
		lactates = append(lactates, 1.2+10*max(0, v-1.22)+30*max(0, v-1.36))
	}
	var c curve.ThreeLine
	if err := c.Fit(speeds, lactates); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("first turn point %.3f m/s, %.2f mmol/L\n", c.Lower, c.Predict(c.Lower))
	fmt.Printf("second turn point %.3f m/s, %.2f mmol/L\n", c.Upper, c.Predict(c.Upper))
	// Output:
	// first turn point 1.220 m/s, 1.20 mmol/L
	// second turn point 1.360 m/s, 2.60 mmol/L
}
