package lactate_test

import (
	"errors"
	"fmt"

	"example.com/steptest/lactate"
)

// Heart rate for a speed, and speed for a heart rate, from an invented test. R 4.2.2,
// predict(lm(h ~ v), data.frame(v = 1.15), interval = "prediction", level = 0.9):
// 157.2, 150.7 to 163.8.
func ExampleFitHeartRate() {
	test := lactate.Test{Stages: []lactate.Stage{
		{Intensity: 1.04, HeartRate: 118},
		{Intensity: 1.07, HeartRate: 130},
		{Intensity: 1.10, HeartRate: 143},
		{Intensity: 1.13, HeartRate: 154},
		{Intensity: 1.17, HeartRate: 164},
		{Intensity: 1.22, HeartRate: 178},
	}}
	line, err := lactate.FitHeartRate(test, lactate.HeartRateOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	h, _ := line.HeartRate(1.15)
	fmt.Printf("%.0f /min at 1.15 m/s, a reading within %.0f to %.0f\n", h.Value, h.Low, h.High)
	v, _ := line.Intensity(140)
	fmt.Printf("%.2f m/s at 140 /min, within %.2f to %.2f\n", v.Value, v.Low, v.High)
	_, err = line.HeartRate(1.40)
	fmt.Println(errors.Is(err, lactate.ErrOutsideRange), err)
	// Output:
	// 157 /min at 1.15 m/s, a reading within 151 to 164
	// 1.10 m/s at 140 /min, within 1.08 to 1.12
	// true lactate: intensity: found 1.4, outside the tested range, expected 1.04 to 1.22
}
