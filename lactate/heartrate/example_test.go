package heartrate_test

import (
	"errors"
	"fmt"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/heartrate"
)

// Heart rate for a speed, and speed for a heart rate, from an invented test. R 4.2.2,
// predict(lm(h ~ v), data.frame(v = 1.15), interval = "prediction", level = 0.9):
// 157.2, 150.7 to 163.8.
func ExampleFit() {
	test := lactate.Test{Stages: []lactate.Stage{
		{Intensity: 1.04, HeartRate: 118},
		{Intensity: 1.07, HeartRate: 130},
		{Intensity: 1.10, HeartRate: 143},
		{Intensity: 1.13, HeartRate: 154},
		{Intensity: 1.17, HeartRate: 164},
		{Intensity: 1.22, HeartRate: 178},
	}}
	line, err := heartrate.Fit(test, heartrate.Options{})
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
	// true lactate: intensity: found 1.4, outside the tested range, want 1.04 to 1.22
}

// Heart rate at equal speed, in two tests: lower, but by no more than two days
// differ.
func ExampleCompare() {
	before, err1 := heartrate.Fit(january(), heartrate.Options{})
	after, err2 := heartrate.Fit(march(), heartrate.Options{})
	if err := errors.Join(err1, err2); err != nil {
		fmt.Println(err)
		return
	}
	c, err := heartrate.Compare(before, after, 1.25, heartrate.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("measured %.0f (%.0f to %.0f) /min\n", c.Measured.Value, c.Measured.Low, c.Measured.High)
	fmt.Printf("between days %.0f (%.0f to %.0f) /min\n", c.BetweenDays.Value, c.BetweenDays.Low, c.BetweenDays.High)
	// Output:
	// measured -5 (-5 to -4) /min
	// between days -5 (-13 to 3) /min
}
