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

// What is read is what [zones.WriteWeek] then writes, as spreadsheets have it: semicolons
// and decimal commas, columns in another order, empty cells left out at the end or one too
// many, empty lines, times of the day.
func TestReadWeek(t *testing.T) {
	const head = "day,repeats,distance,zone,rest,send-off,swum,heart rate,reason\n"
	for _, c := range []struct{ text, want string }{
		{"\ufeffZone;Day;Repeats;Distance;Swum;Heart rate;Send-off;Reason\r\n2;Mo;2;200;2:42,6 2:41,9;142,5 -;3:00;steady\r\n;;;;;;;\r\n1;Di;3;400\r\n",
			"Mo,2,200,2,,3:00,2:42.6 2:41.9,142.5 -,steady\nDi,3,400,1,,,,,\n"},
		{"day,repeats,distance,zone\nMo,1,100,1,\n", "Mo,1,100,1,,,,,\n"},
		{head + "Mo,1,50,2,0:20.25,1:00,35.5,250,\n,2,100,3,,,8:20 33.34,30 -,\n", "Mo,1,50,2,0:20.25,1:00,0:35.5,250,\n,2,100,3,,,8:20 0:33.34,30 -,\n"},
		{head + "Mo,2,200,2,,,02:42:00 2:41,,\n", "Mo,2,200,2,,,2:42 2:41,,\n"},
	} {
		week, err := zones.ReadWeek(strings.NewReader(c.text), pace.SCM())
		var out strings.Builder
		if err := zones.WriteWeek(&out, week, pace.SCM()); err != nil {
			t.Fatal(err)
		}
		if got := strings.TrimPrefix(out.String(), head); err != nil || got != c.want {
			t.Errorf("%q:\n%s\nwant\n%s\n%v", c.text, got, c.want, err)
		}
	}
	for text, want := range map[string]string{
		head: "found no sets",
		"day,repeats,distance,zone,swim\nMo,1,100,1,\n":      `found the column "swim", want some of`,
		"day,repeats,distance,zone,zone\nMo,1,100,1,\n":      `found the column "zone" twice`,
		"day,repeats,distance\nMo,1,100\n":                   `found no column "zone"`,
		"day,repeats,distance,zone\nMo\n":                    `line 2: zone: found ""`,
		"day,repeats,distance,zone\nMo,1,100,1,5\n":          "line 2: found 5 cells, want at most 4",
		"day,repeats,distance,zone,send-off\nMo,1,100,1,x\n": `line 2: send-off: found "x", want a time such as "3:00"`,
		head + "Mo,1,100,1,,,x,,\n":                          `swum: found "x", want a time such as "2:42.6"`,
		head + "Mo,1,100,1,,,32,,\n":                         `swum: found "32", want a time of 0:33 to 8:20 for 100 m; this is 3.12 m/s`,
		head + "Mo,1,100,1,,,8:21,,\n":                       `swum: found "8:21", want a time of 0:33 to 8:20 for 100 m; this is 0.20 m/s`,
		head + "Mo,1,100,1,,,1:20 1:21,142,\n":               `heart rate: found "142", want one for each of 2 times swum`,
		head + "Mo,1,100,1,,,1:20,29.5,\n":                   `heart rate: found "29.5", want beats per minute, 30 to 250`,
		head + "Mo,1,100,1,,,1:20,250.5,\n":                  `heart rate: found "250.5"`,
	} {
		week, err := zones.ReadWeek(strings.NewReader(text), pace.SCM())
		if err == nil || !strings.Contains(err.Error(), want) || len(week) > 0 || (text == head) != strings.Contains(err.Error(), "no sets") {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
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
