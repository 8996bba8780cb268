package pace_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"example.com/steptest/pace"
)

// A repeat of 400 m in 5:32.4, as a speed and as a pace in two pools.
func Example() {
	v, err := pace.MeanSpeed(400*pace.Metre, pace.Must(pace.ParseTime("5:32.4")))
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

// A point that may stand for a colon is refused, and both readings are named.
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
	// pace: distance: found 400 m, 17.50 lengths of a 25 yd pool, want whole lengths: 17 are 425 yd and 18 are 450 yd
}

// Even splits of 400 m in 5:20, per 100.
func ExamplePool_EvenSplits() {
	p := pace.SCM()
	splits, err := p.EvenSplits(400*pace.Metre, pace.Must(pace.ParseTime("5:20")), p.Per100())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range splits {
		fmt.Println(s.Distance, pace.FormatTime(s.Time, 1), pace.FormatTime(s.Lap, 1))
	}
	// Output:
	// 100 m 1:20.0 1:20.0
	// 200 m 2:40.0 1:20.0
	// 300 m 4:00.0 1:20.0
	// 400 m 5:20.0 1:20.0
}

// The two-swim test (Wakayoshi et al. 1992): (400 − 200)/(5:00 − 2:20). The
// swims are invented.
func ExampleCriticalSpeed() {
	c, err := pace.CriticalSpeed([]pace.Best{
		{Distance: 200 * pace.Metre, Time: pace.Must(pace.ParseTime("2:20"))},
		{Distance: 400 * pace.Metre, Time: pace.Must(pace.ParseTime("5:00"))},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c.Speed, c.Speed.In(pace.LCM()), c.Reserve)
	// Output: 1.250 m/s 1:20.0/100 m 25 m
}

// Six cycles, twelve arm strokes of freestyle, over 10 m in mid-pool.
func ExampleSegment_Stroke() {
	s, err := pace.Segment{Length: 10 * pace.Metre, Time: pace.Must(pace.ParseTime("0:08.00")), Cycles: 6}.Stroke()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f /min, %.2f m per cycle, %.2f m²/s\n", s.Rate, s.Length.Metres(), s.Index())
	// Output: 45.0 /min, 1.67 m per cycle, 2.08 m²/s
}

// JSON holds quantities as text with their unit.
func ExamplePace_MarshalText() {
	b, err := json.Marshal(map[string]any{
		"pool": pace.SCY(), "repeat": 400 * pace.Yard, "pace": pace.Must(pace.ParsePace("1:21.65/100 yd")), "speed": pace.Speed(1.12),
	})
	fmt.Println(string(b), err)
	// Output: {"pace":"1:21.65/100 yd","pool":"25 yd","repeat":"400 yd","speed":"1.12 m/s"} <nil>
}
