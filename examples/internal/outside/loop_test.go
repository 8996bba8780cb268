package outside_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/zones"
)

// The whole loop: plan, sheet, what was swum, thresholds, zones, a set, the next plan, and
// whether the curve has moved. The swimmer is invented, and lies 0.02 m/s farther to the
// right the second time.
func TestWholeLoop(t *testing.T) {
	date := time.Date(2026, 3, 7, 0, 0, 0, 0, time.UTC)
	plan, err := protocol.NewPlan(protocol.Request{Swimmer: "Robin Vale", Date: date, Pool: pace.SCY(), Repeats: 6,
		Start: pace.Pace{Time: 88 * time.Second, Per: 100 * pace.Yard}, Best: 302 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	swim := func(p protocol.Plan, shift float64) protocol.Record {
		rec := p.Record()
		for i := range rec.Repeats {
			r := &rec.Repeats[i]
			r.Time = r.Target.Round(100 * time.Millisecond)
			v, err := r.Speed()
			if err != nil {
				t.Fatal(err)
			}
			x := (float64(v) - shift - 1.03) / 0.2 // 0 to about 1
			r.Lactate = float64(int(10*(1.1+0.05*x+8*x*x*x*x))) / 10
			r.HeartRate = float64(int(125 + 50*x))
		}
		rec.Recovery = nil
		var b bytes.Buffer
		if err := sheet.Write(&b, []protocol.Record{rec}); err != nil {
			t.Fatal(err)
		}
		records, err := sheet.Read(&b)
		if err != nil || len(records) != 1 {
			t.Fatal(records, err)
		}
		if d, err := p.Match(records[0]); err != nil || len(d) != len(p.Repeats) {
			t.Fatal(d, err)
		}
		return records[0]
	}
	first := swim(plan, 0)
	a, err := first.Analyze(lactate.Options{Resamples: 200})
	if err != nil {
		t.Fatal(err)
	}
	if line := table.Threshold(a.LT2, table.Options{Pool: first.Pool}); !strings.Contains(line, "/100 yd (1:") {
		t.Error(line)
	}
	profile, err := zones.ProfileOf(a)
	if err != nil {
		t.Fatal(err)
	}
	zoned, err := zones.ThreeZone().Apply(profile)
	if err != nil {
		t.Fatal(err)
	}
	set, err := zoned.Workout(zones.Set{Zone: "2", Repeats: 8, Distance: 200 * pace.Yard}, first.Pool)
	if err != nil || !strings.Contains(fmt.Sprint(set), "8 × 200 yd") {
		t.Fatal(set, err)
	}
	next, err := protocol.NewPlan(protocol.Request{Swimmer: first.Swimmer, Date: plan.Next, Pool: first.Pool, Repeats: 6}.FromLast(a))
	if err != nil {
		t.Fatal(err)
	}
	second := swim(next, 0.02)
	before, err := first.Test()
	if err != nil {
		t.Fatal(err)
	}
	after, err := second.Test()
	if err != nil {
		t.Fatal(err)
	}
	change, err := lactate.Compare(before, after, lactate.CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if e := change.Shift; !(e.Low <= 0.02 && 0.02 <= e.High) || change.Measured.Grade != lactate.Faster {
		t.Errorf("%v, %v", e, change.Measured.Grade)
	}
}
