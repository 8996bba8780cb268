package between_test

import (
	"fmt"
	"log"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
)

// Two invented tests seven weeks apart, and a reading each week after the second, of which
// the later ones lie low: the curve has moved to the right.
func ExampleModel_Follow() {
	speeds := []float64{1.10, 1.15, 1.20, 1.25, 1.30, 1.35}
	day := func(n int) time.Time { return time.Date(2025, 1, 6+n, 0, 0, 0, 0, time.UTC) }
	var tests []lactate.DatedTest
	for n, lactates := range [][]float64{{1.1, 1.2, 1.6, 2.6, 4.7, 9.4}, {1.2, 1.1, 1.6, 2.5, 4.4, 9.1}} {
		var t lactate.Test
		for i, v := range speeds {
			t.Stages = append(t.Stages, lactate.Stage{Intensity: v, Lactate: lactates[i]})
		}
		tests = append(tests, lactate.DatedTest{Date: day(49 * n), Test: t})
	}
	model, err := between.New(tests, between.Options{})
	if err != nil {
		log.Fatal(err)
	}
	var readings []between.Reading
	for week, y := range []float64{2.8, 2.7, 2.6, 2.1, 1.9, 1.9, 1.8} {
		readings = append(readings, between.Reading{Date: day(52 + 7*week), Intensity: 1.25, Lactate: y, Kind: "4 × 400 on 6:30"})
	}
	course, err := model.Follow(readings)
	if err != nil {
		log.Fatal(err)
	}
	today := day(95)
	place, due := course.At(today), course.Due(today)
	fmt.Printf("LT2 at %.2f m/s (%.2f to %.2f)\n", place.LT2.Value, place.LT2.Low, place.LT2.High)
	fmt.Printf("by the tests alone (%.2f to %.2f)\n", course.ByTests(today).LT2.Low, course.ByTests(today).LT2.High)
	fmt.Printf("a test is worth its blood: %v\n", due.Worth())
	// Output:
	// LT2 at 1.28 m/s (1.25 to 1.31)
	// by the tests alone (1.22 to 1.29)
	// a test is worth its blood: false
}
