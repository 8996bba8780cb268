package protocol_test

import (
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/protocol/sheet"
)

// The worst that shakes a test comes first: a time before a sample, a sample before the
// curve, each with what was likely meant. Evidence: D.
func TestGravest(t *testing.T) {
	const good = `swimmer,date,pool,distance,repeat,time,lactate
Ann,2025-01-18,50 m,400,1,6:00,1.2
Ann,2025-01-18,50 m,400,2,5:50,1.4
Ann,2025-01-18,50 m,400,3,5:40,1.9
Ann,2025-01-18,50 m,400,4,5:30,3.1
Ann,2025-01-18,50 m,400,5,5:20,5.6
Ann,2025-01-18,50 m,400,6,5:10,9.8
`
	for _, c := range []struct {
		spoil  []string
		says   string
		repeat int
	}{
		{nil, "", 0},
		{[]string{"5:40", "540"}, "the time of repeat 3 looks wrong (9:00; 5:40 meant?)", 3},
		{[]string{"5:40", "4:05"}, "the time of repeat 3 looks wrong (4:05)", 3},
		{[]string{"5:40", "540", "1.4", "14"}, "the time of repeat 3 looks wrong (9:00; 5:40 meant?)", 3},
		{[]string{"1.9", "19"}, "the sample of repeat 3 looks wrong (19.0; 1.9 meant?)", 3},
		{[]string{"3.1", "6.4"}, "the sample of repeat 4 looks wrong", 4},
		{[]string{"6:00", "3:15", "5:50", "3:12", "5:40", "3:10", "5:30", "3:08", "5:20", "3:06", "5:10", "3:04"}, "the times look wrong", -1},
	} {
		records, _ := sheet.Read(strings.NewReader(strings.NewReplacer(c.spoil...).Replace(good)))
		test, _ := records[0].Test()
		a, _ := lactate.Analyze(test, lactate.Options{})
		g := records[0].Gravest(a)
		if g.Says != c.says || g.Repeat != c.repeat || (g.Do == "") != (c.says == "") {
			t.Errorf("%v: %+v, want %q of %d", c.spoil, g, c.says, c.repeat)
		}
	}
}
