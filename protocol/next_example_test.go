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
