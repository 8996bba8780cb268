package zones_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
	"example.com/steptest/zones"
)

// swimmer is invented.
func swimmer() zones.Profile {
	return zones.Profile{
		LT1: zones.Threshold{Speed: 1.10, Low: 1.08, High: 1.12},
		LT2: zones.Threshold{Speed: 1.20, Low: 1.185, High: 1.215},
		HeartRate: func(v pace.Speed) (float64, error) {
			if v < 1 || v > 1.35 {
				return 0, errors.New("outside the tested range")
			}
			return 140 + 200*float64(v-1.10), nil
		},
	}
}

// The three zones of an invented swimmer, in a 25 yd pool.
func ExampleThreeZone() {
	t, err := zones.ThreeZone().Apply(swimmer())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, z := range t.Zones {
		fmt.Println(z.Name, z.AnchorRange(), z.PaceRange(pace.SCY()), z.HeartRateRange())
	}
	fmt.Print(t.Table(pace.LCM()))
	// Output:
	// 1 below LT1 slower than 1:23.1/100 yd below 140 /min
	// 2 LT1–LT2 1:23.1–1:16.2/100 yd 140–160 /min
	// 3 above LT2 faster than 1:16.2/100 yd above 160 /min
	//   zone  where      pace                      heart rate      speed
	//   1     below LT1  slower than 1:30.9/100 m  below 140 /min  below 1.100 m/s
	//   2     LT1–LT2    1:30.9–1:23.3/100 m       140–160 /min    1.100–1.200 m/s
	//   3     above LT2  faster than 1:23.3/100 m  above 160 /min  above 1.200 m/s
	//   LT1 at 1:30.9/100 m (1:32.6–1:29.3)
	//   LT2 at 1:23.3/100 m (1:24.4–1:22.3)
}

// Zones from a step test, which is invented.
func Example_fromStepTest() {
	records, err := sheet.Read(bytes.NewReader(sheets.Single()))
	if err != nil {
		fmt.Println(err)
		return
	}
	a, err := records[0].Analyze(lactate.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	profile, err := zones.ProfileOf(a)
	if err != nil {
		fmt.Println(err)
		return
	}
	table, err := zones.ThreeZone().Apply(profile)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, z := range table.Zones {
		fmt.Println(z.Name, z.AnchorRange(), z.PaceRange(records[0].Pool), z.HeartRateRange(), z.LactateRange())
	}
	// Output:
	// 1 below LT1 slower than 1:23.4/100 yd below 141 /min below 2.1 mmol/L
	// 2 LT1–LT2 1:23.4–1:20.6/100 yd 141–155 /min 2.1–3.1 mmol/L
	// 3 above LT2 faster than 1:20.6/100 yd above 155 /min above 3.1 mmol/L
}

// A week of training on a screen, for an invented swimmer.
func Example() {
	table, err := zones.ThreeZone().Apply(swimmer())
	swims := []zones.Repeat{}
	for _, set := range []zones.Set{
		{Zone: "1", Repeats: 8, Distance: 400 * pace.Yard},
		{Zone: "2", Repeats: 12, Distance: 200 * pace.Yard, Rest: 15 * time.Second},
		{Zone: "3", Repeats: 8, Distance: 100 * pace.Yard, Rest: 60 * time.Second},
	} {
		plan, e := table.Workout(set, pace.SCY())
		err = errors.Join(err, e)
		swims = append(swims, plan.Swims()...)
		fmt.Println(plan)
	}
	week, e := table.Distribute(swims)
	fmt.Println(week, errors.Join(err, e))
	// Output:
	// 8 × 400 yd on 6:20, zone 1 (below LT1): 5:32.5 or slower, rest 10–47 s down to 6:09.5; 3200 yd in 50:40
	// 12 × 200 yd on 3:05, zone 2 (LT1–LT2): 2:46.3–2:32.4, rest 18–32 s; 2400 yd in 37:00
	// 8 × 100 yd on 2:20, zone 3 (above LT2): 1:16.2 or faster, rest 63 s or more; 800 yd in 18:40
	// 6400 yd in 1:28:38: below LT1 53 %, LT1–LT2 36 %, above LT2 11 % of the time <nil>
}

// What a set was, after the event. The times are invented.
func ExampleTable_Review() {
	table, err := zones.ThreeZone().Apply(swimmer())
	if err != nil {
		fmt.Println(err)
		return
	}
	review, err := table.Review([]zones.Repeat{
		{Distance: 200 * pace.Yard, Time: pace.Must(pace.ParseTime("2:35")), HeartRate: 156},
		{Distance: 200 * pace.Yard, Time: pace.Must(pace.ParseTime("2:37")), HeartRate: 160},
		{Distance: 200 * pace.Yard, Time: pace.Must(pace.ParseTime("2:47")), HeartRate: 164},
	}, pace.SCY())
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, r := range review.Repeats {
		fmt.Printf("%d: %v, zone %s\n", i+1, r.Speed.In(pace.SCY()), r.Zone)
	}
	fmt.Printf("pace %+.1f s/100 yd, heart rate %+.0f /min over the set\n", review.Pace.OverSet, review.HeartRate.OverSet)
	fmt.Print(review.Distribution.Table())
	// Output:
	// 1: 1:17.5/100 yd, zone 2
	// 2: 1:18.5/100 yd, zone 2
	// 3: 1:23.5/100 yd, zone 1
	// pace +6.0 s/100 yd, heart rate +8 /min over the set
	//   zone  time  share  distance  share
	//   1     2:47   35 %    200 yd   33 %
	//   2     5:12   65 %    400 yd   67 %
	//   3     0:00    0 %         0    0 %
	//   600 yd in 7:59: below LT1 35 %, LT1–LT2 65 %, above LT2 0 % of the time
}

// A scheme of one's own, from JSON. A gap is found before a swimmer is.
func ExampleReadScheme() {
	s, err := zones.ReadScheme(strings.NewReader(`{"name": "ours", "source": "invented", "zones": [
		{"name": "easy", "from": "open", "to": "LT1"},
		{"name": "steady", "from": "LT1", "to": "0.97 LT2"},
		{"name": "hard", "from": "0.97 LT2", "to": "open"}]}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := s.Apply(swimmer())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(t.Table(pace.SCM()))

	s.Zones[2].From = zones.Bound{Of: zones.LT2, Amount: 1.02}
	fmt.Println(s.Check())
	// Output:
	//   zone    where           pace                      heart rate      speed
	//   easy    below LT1       slower than 1:30.9/100 m  below 140 /min  below 1.100 m/s
	//   steady  LT1–0.97 LT2    1:30.9–1:25.9/100 m       140–153 /min    1.100–1.164 m/s
	//   hard    above 0.97 LT2  faster than 1:25.9/100 m  above 153 /min  above 1.164 m/s
	//   LT1 at 1:30.9/100 m (1:32.6–1:29.3)
	//   0.97 LT2 at 1:25.9/100 m (1:27.0–1:24.9)
	// zones: gap: found the end of zone "steady" at 0.97 LT2 and the start of zone "hard" at 1.02 LT2, want one bound
}
