package protocol_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
)

// D: each swimmer's tests stand together, by date, in the order of the sheet.
func TestBySwimmer(t *testing.T) {
	day := func(n int) time.Time { return time.Date(2025, 1, n, 0, 0, 0, 0, time.UTC) }
	var got []string
	for _, tests := range protocol.BySwimmer([]protocol.Record{{Swimmer: "B", Date: day(9)}, {Swimmer: "A", Date: day(5)}, {Swimmer: "B", Date: day(2)}}) {
		for _, r := range tests {
			got = append(got, r.Swimmer+r.Date.Format("2"))
		}
	}
	if want := []string{"B2", "B9", "A5"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// D: the next test is on the day of the sheet or six weeks on, has the same number of
// repeats over the same distance, and ends at the same speed.
func TestNextTest(t *testing.T) {
	records, err := sheet.Read(strings.NewReader(string(sheets.Single())))
	if err != nil {
		t.Fatal(err)
	}
	rec := records[0]
	rec.Next = time.Time{}
	a, err := rec.Analyze(lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	plan, err := rec.NextTest(a)
	if err != nil || plan.Date.Sub(rec.Date) != 42*24*time.Hour || len(plan.Repeats) != len(rec.Repeats) || plan.Repeats[0].Distance != rec.Repeats[0].Distance {
		t.Fatalf("%+v, error %v", plan, err)
	}
	last := plan.Repeats[len(plan.Repeats)-1]
	if v, err := last.Speed(); err != nil || !(math.Abs(v.MetresPerSecond()/a.Highest-1) <= 0.005) || !last.AllOut {
		t.Errorf("the last repeat at %v (%v), want %v all out", v, err, a.Highest)
	}
	rec.Next = rec.Date.AddDate(0, 2, 0)
	if got := rec.NextDay(); got != rec.Next {
		t.Errorf("next on %v, want %v", got, rec.Next)
	}
	if _, err := (protocol.Record{}).NextTest(a); err != protocol.ErrNoRepeats {
		t.Errorf("error %v", err)
	}
}

// D: tests are compared as they were swum: pool and longest repeat, the shorter one last
// or first.
func TestDifferences(t *testing.T) {
	test := func(p pace.Pool, d pace.Length) protocol.Record {
		return protocol.Record{Pool: p, Repeats: []protocol.Repeat{{Number: 1, Distance: d}, {Number: 2, Distance: d / 2}}}
	}
	for _, c := range []struct {
		before, after protocol.Record
		want          []string
	}{
		{test(pace.SCM(), 400), test(pace.SCM(), 400), nil},
		{test(pace.LCM(), 400), test(pace.SCM(), 400), []string{"the pools differ, 50 m and 25 m: a shorter pool is faster by its turns, and the shorter one of the second test makes the swimmer look faster now. All of the change, or more, may be the pool's: the odds do not count that"}},
		{test(pace.SCM(), 200), test(pace.LCM(), 400), []string{"the shorter one of the first test makes the swimmer look slower now", "the repeats differ, 200 m and 400 m: longer ones gather more lactate at the same speed, which makes the swimmer look slower now"}},
	} {
		got := protocol.Differences(c.before, c.after)
		if !slices.EqualFunc(got, c.want, func(w lactate.Warning, want string) bool { return strings.Contains(w.String(), want) }) {
			t.Errorf("%v and %v: %q, want %q", c.before.Pool, c.after.Pool, got, c.want)
		}
		if same := c.before.Comparable(c.after); same != (c.want == nil) {
			t.Errorf("%v and %v: comparable %v", c.before.Pool, c.after.Pool, same)
		}
	}
}

// D: a row of a squad says what its sheet lost and what is odd, each once.
func TestMember(t *testing.T) {
	const text = `swimmer,date,pool,distance,repeat,time,lactate,heart rate
Ann,2025-01-18,50 m,400,1,6:00,1.2,120
Ann,2025-01-18,50 m,400,2,5:50,Lo,x
Ann,2025-01-18,50 m,400,3,540,1.9,140
Ann,2025-01-18,50 m,400,4,5:30,3.1,150
Ann,2025-01-18,50 m,400,5,5:20,5.6,160
Ann,2025-01-18,50 m,400,6,5:10,9.8,170
`
	records, _ := sheet.Read(strings.NewReader(text))
	test, _ := records[0].Partial()
	a := analysed(t, test, lactate.Options{})
	m := records[0].Member(a)
	if want := []string{"left out of the sheet: 0 rows, 1 cells", "below the analyser's range (repeat 2)"}; m.Name != "Ann" || m.Analysis != a || !slices.Equal(m.Further, want) {
		t.Errorf("%s: further %q, want %q", m.Name, m.Further, want)
	}
	odd := 0
	for _, w := range m.Warnings {
		if w.Kind == protocol.WarnOddTime && slices.Equal(w.Stages, []int{3}) {
			odd++
		}
		if w.Kind == lactate.WarnLostSamples { // the one that was lost is beyond the range
			t.Errorf("says %v", w)
		}
	}
	if odd != 1 {
		t.Errorf("%d odd times in %v", odd, m.Warnings)
	}
	if m := records[0].Member(nil); m.Analysis != nil || len(m.Further) != 1 {
		t.Errorf("without an analysis: %+v", m)
	}
}

// D: half an interval of the outlook is half the difference of the paces at its ends.
func TestOutlookTable(t *testing.T) {
	e := func(v float64) forecast.Threshold {
		return forecast.Threshold{Method: lactate.Fixed{Lactate: 4}, Speed: lactate.Estimate{Value: v, Low: v - 0.025, High: v + 0.025}}
	}
	o := &forecast.Outlook{LT1: e(1.025), LT2: e(1.25), Confidence: 0.9, Shift: forecast.Shift{Detectable: 0.01}}
	rows := protocol.Plan{Pool: pace.SCM()}.OutlookTable(o).Rows
	want := [][]string{ // 100/1.025, (100 − 100/1.05)/2; 80 s, (100/1.225 − 100/1.275)/2; 80 − 100/1.26
		{"LT1 (4 mmol/L)", "1:37.6", "± 2.38 s"}, {"LT2 (4 mmol/L)", "1:20.0", "± 1.60 s"},
		{"smallest change it can show", "", "0.63 s (0.010 m/s)"}, {"the same, where days differ too", "", "none"},
	}
	for i := range want {
		if !slices.Equal(rows[i], want[i]) {
			t.Errorf("row %d: %q, want %q", i+1, rows[i], want[i])
		}
	}
}
