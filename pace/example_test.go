package pace_test

import (
	"errors"
	"fmt"
	"time"

	"example.com/steptest/pace"
)

// A repeat of 400 m in 5:32.4, as a speed and as a pace in two pools.
func Example() {
	v, err := pace.Over(400*pace.Metre, pace.MustTime("5:32.4"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(v)
	fmt.Println(v.In(pace.LCM()))
	fmt.Println(v.In(pace.SCY()))
	// Output:
	// 1.203 m/s
	// 1:23.1/100 m
	// 1:16.0/100 yd
}

// A point where a colon may be meant is refused, and both readings are named.
func ExampleParseTime_ambiguous() {
	_, err := pace.ParseTime("5.32")
	fmt.Println(err)
	fmt.Println(errors.Is(err, pace.ErrAmbiguous))
	// Output:
	// pace: time "5.32": could mean 5:32 (minutes and seconds) or 5.32 s; write 5:32 or 0:05.32
	// true
}

func ExampleFormatTime() {
	t := 119970 * time.Millisecond
	fmt.Println(pace.FormatTime(t, 2))
	fmt.Println(pace.FormatTime(t, 1)) // not 1:60.0
	fmt.Println(pace.FormatTime(45*time.Second, 0))
	// Output:
	// 1:59.97
	// 2:00.0
	// 0:45
}

func ExamplePool_Lengths() {
	n, _ := pace.SCY().Lengths(500 * pace.Yard)
	fmt.Println(n)
	_, err := pace.SCY().Lengths(400 * pace.Metre)
	fmt.Println(err)
	// Output:
	// 20
	// pace: 400 m is 17.50 lengths of a 25 yd pool; 17 lengths are 425 yd and 18 are 450 yd
}
