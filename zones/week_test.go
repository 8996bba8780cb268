package zones_test

import (
	"fmt"
	"strings"
	"testing"

	"example.com/steptest/pace"
	"example.com/steptest/zones"
)

// Two sets of a Tuesday, the second as swum. The third line has a fault: the others
// are read.
func ExampleReadWeek() {
	week, err := zones.ReadWeek(strings.NewReader(`day,repeats,distance,zone,rest,swum,heart rate
Tuesday,8,300,1,0:20,,
,2,200,2,0:20,2:42.6 2:41.9,142 -
Friday,4,210,2,0:20,,
`), pace.SCY())
	for _, s := range week {
		fmt.Println(s.Day, s.Set.Repeats, "×", s.Set.Distance, "in zone", s.Set.Zone, len(s.Swum), "swum")
	}
	fmt.Println(err)
	// Output:
	// Tuesday 8 × 300 yd in zone 1 0 swum
	// Tuesday 2 × 200 yd in zone 2 2 swum
	// zones: week: line 4: distance: found "210", want a whole number of lengths of a 25 yd pool, as a number of yd
}

// No input panics, and what is read without an error has repeats.
func FuzzReadWeek(f *testing.F) {
	f.Add("day,repeats,distance,zone,rest,swum,heart rate\nTuesday,2,200,2,0:20,2:42.6 2:41.9,142 -\n")
	f.Add("day,repeats\n")
	f.Add("day,repeats,distance,zone,rest,swum,heart rate\n\"")
	f.Fuzz(func(t *testing.T, text string) {
		week, err := zones.ReadWeek(strings.NewReader(text), pace.SCM())
		if err == nil && len(week) == 0 {
			t.Error("nothing was read, and nothing is wrong")
		}
		for _, s := range week {
			if s.Set.Repeats < 1 {
				t.Errorf("%+v", s)
			}
		}
	})
}
