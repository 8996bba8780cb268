package protocol_test

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
)

// Six 400s from a recent best: the first lies below LT1 for most swimmers.
func ExampleNewPlan() {
	plan, err := protocol.NewPlan(protocol.Request{Pool: pace.SCY(), Repeats: 6, Best: pace.Must(pace.ParseTime("4:56"))})
	if err != nil {
		panic(err)
	}
	for _, t := range plan.Repeats {
		fmt.Println(t.Number, "leaves at", pace.FormatTime(t.Leave, 0), "for", pace.FormatTime(t.Time, 0), "or", pace.FormatTime(t.Split(plan.Pool.Per100()), 1), "per 100")
	}
	// Output:
	// 1 leaves at 0:00 for 6:01 or 1:30.3 per 100
	// 2 leaves at 7:11 for 5:48 or 1:27.0 per 100
	// 3 leaves at 14:09 for 5:35 or 1:23.8 per 100
	// 4 leaves at 20:54 for 5:22 or 1:20.5 per 100
	// 5 leaves at 27:26 for 5:09 or 1:17.3 per 100
	// 6 leaves at 33:45 for 4:56 or 1:14.0 per 100
}

// The next test between the ends of the last one, of which the forecast knows
// too. The data is invented.
func ExampleRequest_FromLast() {
	records, err := sheet.Read(strings.NewReader(`swimmer,date,pool,distance,repeat,time,lactate
Robin Vale,2025-01-18,25 yd,400,1,5:51.7,1.5
Robin Vale,2025-01-18,25 yd,400,2,5:42.4,1.7
Robin Vale,2025-01-18,25 yd,400,3,5:32.3,2.3
Robin Vale,2025-01-18,25 yd,400,4,5:23.4,3.0
Robin Vale,2025-01-18,25 yd,400,5,5:12.4,4.7
Robin Vale,2025-01-18,25 yd,400,6,4:58.8,9.9
`))
	if err != nil {
		panic(err)
	}
	last, err := records[0].Test()
	if err != nil {
		panic(err)
	}
	read, err := lactate.Analyze(last, lactate.Options{})
	if err != nil {
		panic(err)
	}
	plan, err := protocol.NewPlan(protocol.Request{Pool: pace.SCY(), Repeats: 6}.FromLast(read))
	if err != nil {
		panic(err)
	}
	var targets []string
	for _, t := range plan.Repeats {
		targets = append(targets, pace.FormatTime(t.Time, 0))
	}
	fmt.Println(strings.Join(targets, " "))
	out, err := plan.Outlook(forecast.Expected{Tests: []lactate.Test{last}}, lactate.Options{})
	if err != nil {
		panic(err)
	}
	fmt.Println("LT2 near", pace.FormatTime(pace.Speed(out.LT2.Speed.Value).In(plan.Pool).Time, 0), "per 100 yd")
	// Output:
	// 5:52 5:41 5:31 5:20 5:09 4:59
	// LT2 near 1:21 per 100 yd
}

// Two records are compared as tests, and as they were swum. The data is invented.
func ExampleDifferences() {
	records, err := sheet.Read(bytes.NewReader(sheets.Retest()))
	if err != nil {
		panic(err)
	}
	before, after := records[0], records[1]
	var tests [2]lactate.Test
	for i, rec := range []protocol.Record{before, after} {
		if tests[i], err = rec.Test(); err != nil {
			panic(err)
		}
	}
	change, err := lactate.Compare(tests[0], tests[1], lactate.CompareOptions{})
	if err != nil {
		panic(err)
	}
	fmt.Println(table.Answer(change, table.Options{Pool: after.Pool}))
	for _, d := range protocol.Differences(before, after) {
		fmt.Println("But", d)
	}
	// Output:
	// Faster: 1.7 s per 100 yd (90 in 100: 0.2 to 3.1). 97 in 100 that you are faster, good and bad days counted.
}

func ExamplePlan_Review() {
	plan, err := protocol.NewPlan(protocol.Request{Pool: pace.SCM(), Repeats: 4, Distance: 200 * pace.Metre, Best: pace.Must(pace.ParseTime("2:20")), Drop: 2500 * time.Millisecond, Rest: 20 * time.Second})
	if err != nil {
		panic(err)
	}
	for _, f := range plan.Review(protocol.Known{}) {
		fmt.Println(f)
	}
	// Output:
	// 4 repeats: five or more are usual; fewer hardly show where the curve bends (common practice)
	// repeat 4: lasts less than 3 min: 3 to 4 min are the least for lactate to settle, 5 are better (Bentley, Newell & Bishop 2007 and Foxdal et al. 1996, from memory)
	// repeat 1: 20 s of rest: hardly time to touch, dry the hand and sample; several swimmers need a helper each (common practice: a sample about a minute after a step)
	// in total 8 blood samples, 800 m swum without the warm-up, 17:50 from the first start to the last sample
}

func ExamplePlan_Outlook() {
	plan, err := protocol.NewPlan(protocol.Request{Pool: pace.SCM(), Repeats: 6, Best: pace.Must(pace.ParseTime("5:00"))})
	if err != nil {
		panic(err)
	}
	out, err := plan.Outlook(forecast.Expected{}, lactate.Options{})
	if err != nil {
		panic(err)
	}
	fmt.Printf("LT2 by %v to ± %.3f m/s; a shift of %.3f m/s is seen\n", out.LT2.Method, out.LT2.Width()/2, out.Shift.Detectable)
	// Output:
	// LT2 by baseline + 1.5 mmol/L to ± 0.014 m/s; a shift of 0.009 m/s is seen
}

func ExamplePlan_Space() {
	plan, err := protocol.NewPlan(protocol.Request{Pool: pace.SCM(), Repeats: 6, Best: pace.Must(pace.ParseTime("5:00"))})
	if err != nil {
		panic(err)
	}
	spacing, err := plan.Space(forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil {
		panic(err)
	}
	for _, t := range []protocol.Target{spacing.Plan.Repeats[0], spacing.Plan.Repeats[5]} {
		fmt.Println(t.Number, pace.FormatTime(t.Time, 0))
	}
	fmt.Println("both narrower by a twentieth:", spacing.LT1 <= 0.95 && spacing.LT2 <= 0.95)
	// Output:
	// 1 6:06
	// 6 5:00
	// both narrower by a twentieth: true
}

// The plan goes to the pool as a sheet and comes back filled in.
func ExamplePlan_Match() {
	plan, err := protocol.NewPlan(protocol.Request{
		Swimmer: "Robin Vale", Date: time.Date(2025, 3, 8, 0, 0, 0, 0, time.UTC),
		Pool: pace.SCY(), Repeats: 3, Best: pace.Must(pace.ParseTime("4:56")), Drop: 2500 * time.Millisecond, After: []time.Duration{},
	})
	if err != nil {
		panic(err)
	}
	var page bytes.Buffer
	if err := sheet.WritePlan(&page, plan); err != nil {
		panic(err)
	}
	filled := strings.NewReplacer(",5:16,0:00,,", ",5:16,0:00,5:15.2,", ",5:06,6:26,,", ",5:06,6:26,5:07.9,").Replace(page.String())
	records, err := sheet.Read(strings.NewReader(filled))
	if err != nil {
		panic(err)
	}
	deviations, err := plan.Match(records[0])
	if err != nil {
		panic(err)
	}
	for _, d := range deviations {
		if d.Missing {
			fmt.Println(d.Number, "not swum")
			continue
		}
		fmt.Printf("%d %+.1f s\n", d.Number, d.Late.Seconds())
	}
	// Output:
	// 1 -0.8 s
	// 2 +1.9 s
	// 3 not swum
}

func ExampleSchedule() {
	day := func(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }
	days, err := protocol.Schedule(day(2025, time.March, 8), 6, 2, day(2025, time.April, 18))
	if err != nil {
		panic(err)
	}
	for _, d := range days {
		fmt.Println(d.Format(time.DateOnly))
	}
	// Output:
	// 2025-04-26
	// 2025-06-07
}
