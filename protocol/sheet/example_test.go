package sheet_test

import (
	"bytes"
	"fmt"
	"os"
	"reflect"
	"strings"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// A sheet with a slip in one row: the other rows come back, and the slip is
// told.
func ExampleRead() {
	text := `swimmer,date,pool,distance,repeat,time,lactate,heart rate
Robin Vale,2025-01-18,25 yd,400,1,5:51.7,1.5,118
Robin Vale,2025-01-18,25 yd,400,2,5:42.4,,130
Robin Vale,2025-01-18,25 yd,400,3,5:92.3,2.3,143
`
	records, err := sheet.Read(strings.NewReader(text))
	fmt.Println(err)
	for _, r := range records[0].Repeats {
		v, _ := r.Speed()
		fmt.Printf("repeat %d: %v, lactate %v\n", r.Number, v, r.Lactate)
	}
	// Output:
	// protocol: sheet line 4, time: found "5:92.3", want a time such as "5:32.4"; 92 after a colon, want 00 to 59
	// repeat 1: 1.040 m/s, lactate 1.5
	// repeat 2: 1.068 m/s, lactate 0
}

// A long file, one test at a time.
func ExampleScan() {
	file, err := os.Open("../../testdata/sheets/season.csv")
	if err != nil {
		panic(err)
	}
	defer file.Close()
	for record, err := range sheet.Scan(file) {
		if err != nil {
			fmt.Println(err) // the faults of this test; what stands is in record
		}
		fmt.Println(record.Swimmer, record.Date.Format(time.DateOnly), len(record.Repeats))
	}
	// Output:
	// Mika Torne 2024-09-14 6
	// Mika Torne 2024-11-09 6
	// Mika Torne 2025-01-11 6
	// Mika Torne 2025-03-15 6
	// Mika Torne 2025-06-07 6
}

func ExampleWrite() {
	record := protocol.Record{
		Swimmer: "Robin Vale",
		Date:    time.Date(2025, 1, 18, 0, 0, 0, 0, time.UTC),
		Pool:    pace.SCY(),
		Repeats: []protocol.Repeat{
			{Number: 1, Distance: 400 * pace.Yard, Time: pace.Must(pace.ParseTime("5:51.7")), Lactate: 1.5, HeartRate: 118},
			{Number: 2, Distance: 400 * pace.Yard, Time: pace.Must(pace.ParseTime("5:42.4")), HeartRate: 130, Remark: "sample lost"},
		},
	}
	if err := sheet.Write(os.Stdout, []protocol.Record{record}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// swimmer,date,pool,distance,repeat,time,lactate,heart rate,remark
	// Robin Vale,2025-01-18,25 yd,400,1,5:51.7,1.5,118,
	// Robin Vale,2025-01-18,25 yd,400,2,5:42.4,,130,sample lost
}

// The sheet that goes to the pool. Filled in, it is read as any other.
func ExampleWritePlan() {
	plan, err := protocol.NewPlan(protocol.Request{
		Swimmer: "Robin Vale", Date: time.Date(2025, 3, 8, 0, 0, 0, 0, time.UTC),
		Pool: pace.SCY(), Repeats: 2, Best: pace.Must(pace.ParseTime("4:56")), Drop: 2500 * time.Millisecond, After: []time.Duration{3 * time.Minute},
	})
	if err != nil {
		panic(err)
	}
	var blank bytes.Buffer
	if err := sheet.WritePlan(&blank, plan); err != nil {
		panic(err)
	}
	fmt.Print(blank.String())
	records, err := sheet.Read(&blank)
	if err != nil {
		panic(err)
	}
	fmt.Println(reflect.DeepEqual(records[0].Plan(), plan))
	// Output:
	// swimmer,date,pool,distance,repeat,target,leave,time,minutes after,lactate,heart rate,resting lactate,stroke cycles,stroke segment,segment time,remark,warm up,next test
	// Robin Vale,2025-03-08,25 yd,400,1,5:06,0:00,,,,,,,,,,800,2025-04-19
	// Robin Vale,2025-03-08,25 yd,400,2,4:56 all out,6:16,,,,,,,,,,,
	// Robin Vale,2025-03-08,25 yd,400,2,,,,3,,,,,,,,,
	// true
}
