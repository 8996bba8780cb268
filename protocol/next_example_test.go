package protocol_test

import (
	"fmt"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// In the middle of a test: two of six repeats are swum. Swimmer and samples are
// invented.
func ExamplePlan_NextRepeat() {
	plan, err := protocol.NewPlan(protocol.Request{
		Pool: pace.SCM(), Distance: 400 * pace.Metre, Repeats: 6,
		Start: pace.Must(pace.ParsePace("1:27.5/100 m")), Best: 300 * time.Second,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	record := plan.Record()
	for i, lactate := range []float64{1.2, 1.4} {
		record.Repeats[i].Time = plan.Repeats[i].Time
		record.Repeats[i].Lactate = lactate
	}
	advice, err := plan.NextRepeat(record, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("repeat %d of %d in %v, %v, %d left\n", advice.Next.Number, len(plan.Repeats), advice.Next.Time, advice.Reason, advice.Left)
	// Output:
	// repeat 3 of 6 in 5m30s, as planned, 4 left
}

// Speeds for a test as per cents of a race speed.
func ExamplePercentFaster() {
	race, err := pace.MeanSpeed(1500*pace.Metre, 19*time.Minute+30*time.Second)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, v := range protocol.PercentFaster(race, -10, -5, 0, 5) {
		fmt.Println(v, v.In(pace.SCM()))
	}
	// Output:
	// 1.154 m/s 1:26.7/100 m
	// 1.218 m/s 1:22.1/100 m
	// 1.282 m/s 1:18.0/100 m
	// 1.346 m/s 1:14.3/100 m
}
