package technique_test

import (
	"fmt"
	"strings"

	"example.com/steptest/protocol/sheet"
	"example.com/steptest/protocol/technique"
)

// What the stroke does over a test. The sheet is invented.
func ExampleOf() {
	records, err := sheet.Read(strings.NewReader(
		`swimmer,date,pool,distance,repeat,time,lactate,stroke cycles,stroke segment,segment time
Ann,2025-01-18,50 m,400,1,5:33.3,1.2,8,20 m,0:18
Ann,2025-01-18,50 m,400,2,5:07.7,2.1,8.5,20 m,0:16.7
Ann,2025-01-18,50 m,400,3,4:45.7,6.8,10,20 m,0:15.6
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	profile, err := technique.Of(records[0], technique.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range profile.Repeats {
		fmt.Printf("%v: %.1f /min × %.2f m, index %.2f m²/s, %.2f of the mean speed\n",
			r.Speed, r.Rate.Value, r.Length.Value, r.Index.Value, r.Share.Value)
	}
	at, err := profile.At(1.25) // say, LT2
	fmt.Printf("%v: %.2f m, %v\n", at.Speed, at.Length.Value, err)
	// Output:
	// 1.200 m/s: 26.7 /min × 2.50 m, index 2.78 m²/s, 0.93 of the mean speed
	// 1.300 m/s: 30.5 /min × 2.35 m, index 2.82 m²/s, 0.92 of the mean speed
	// 1.400 m/s: 38.5 /min × 2.00 m, index 2.56 m²/s, 0.92 of the mean speed
	// 1.250 m/s: 2.42 m, <nil>
}
