package forecast_test

import (
	"fmt"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
)

// How sure will the next test be? Six stages of 400 m, after an earlier test of
// an invented swimmer.
func ExampleOf() {
	var stages []lactate.Stage
	for _, seconds := range []float64{350, 340, 330, 320, 310, 300} {
		stages = append(stages, lactate.Stage{Intensity: 400 / seconds, Duration: time.Duration(seconds * float64(time.Second))})
	}
	earlier := lactate.Test{Stages: []lactate.Stage{
		{Intensity: 1.14, Lactate: 1.3}, {Intensity: 1.18, Lactate: 1.5}, {Intensity: 1.22, Lactate: 2.2},
		{Intensity: 1.26, Lactate: 3.3}, {Intensity: 1.30, Lactate: 5.4}, {Intensity: 1.33, Lactate: 8.3},
	}}
	out, err := forecast.Of(stages, forecast.Expected{Tests: []lactate.Test{earlier}}, lactate.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v: %.2f ± %.3f m/s\n", out.LT2.Method, out.LT2.Speed.Value, out.LT2.Width()/2)
	fmt.Printf("a shift of %.3f m/s is seen in 80 %% of tests, of %.3f m/s if days differ too\n", out.Shift.Detectable, out.Shift.BetweenDays)
	// Output:
	// baseline + 1.5 mmol/L: 1.25 ± 0.012 m/s
	// a shift of 0.008 m/s is seen in 80 % of tests, of 0.036 m/s if days differ too
}

// Another spacing of the stages between the first and the last.
func ExampleSpace() {
	var stages []lactate.Stage
	for _, seconds := range []float64{350, 340, 330, 320, 310, 300} {
		stages = append(stages, lactate.Stage{Intensity: 400 / seconds, Duration: time.Duration(seconds * float64(time.Second))})
	}
	s, err := forecast.Space(stages, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("even steps are as good as any:", s.AsGood)
	fmt.Printf("both narrower by a twentieth or more: %t\n", s.LT1 <= 0.95 && s.LT2 <= 0.95)
	// Output:
	// even steps are as good as any: false
	// both narrower by a twentieth or more: true
}
