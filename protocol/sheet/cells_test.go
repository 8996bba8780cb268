package sheet_test

import (
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"github.com/google/go-cmp/cmp"
)

// Every column by its names, in any case and with a unit where there is one.
// Evidence: D.
func TestColumns(t *testing.T) {
	names := map[string][]string{
		"swimmer":            {"Swimmer", "name", "ATHLETE"},
		"date":               {"Date", "test date", "date (yyyy-mm-dd)"},
		"pool":               {"Pool", "course"},
		"distance":           {"Distance", "dist", "distance (m)", "Distance [m]", "distance m"},
		"repeat":             {"Repeat", "rep", "step", "Stage", "No.", "#", "Nr", "Repeat no."},
		"target":             {"Target", "target_time"},
		"leave":              {"leave"},
		"time":               {"TIME"},
		"minutes after":      {"minutes after", "Minutes-After"},
		"lactate":            {"lactate", "La", "blood lactate", "lactate [mmol/L]", "lactate (mM)", "La [mmol]", "Lac", "lactate mmol/L", "Lactate (mmol·L-1)"},
		"heart rate":         {"heart rate", "HR", "heart_rate (bpm)", "heart  rate [/min]", "heart rate [1/min]", "bpm", "HR bpm", "Pulse (beats/min)"},
		"resting lactate":    {"resting lactate", "rest lactate [mmol/L]"},
		"stroke cycles":      {"stroke cycles", "cycles"},
		"stroke segment":     {"Stroke segment", "stroke segment (m)"},
		"stroke rate":        {"SR", "stroke rate (cycles/min)"},
		"strokes per length": {"SPL", "strokes/length"},
		"segment time":       {"segment time"},
		"remark":             {"remark", "Note", "notes", "remarks", "comment"},
		"warm up":            {"warm-up", "Warm up"},
		"next test":          {"next test", "next test (yyyy-mm-dd)"},
	}
	order := []string{"swimmer", "date", "pool", "distance", "repeat", "target", "leave", "time", "minutes after", "lactate", "heart rate", "resting lactate", "stroke cycles", "stroke segment", "segment time", "stroke rate", "strokes per length", "remark", "warm up", "next test"}
	row := "Ada,2025-03-04,25 m,400,1,5:30 all out,0:05,5:32,1,1.2,121,0.9,6.5,15 m,0:14.1,27.5,17,windy,800,2025-04-15\n"
	day := time.Date(2025, 3, 4, 0, 0, 0, 0, time.UTC)
	want := []protocol.Record{{
		Swimmer: "Ada", Date: day, Pool: pace.SCM(), Rest: 0.9, WarmUp: 800, Next: day.AddDate(0, 0, 42),
		Repeats: []protocol.Repeat{{
			Number: 1, Distance: 400, Target: 330 * time.Second, AllOut: true, Leave: 5 * time.Second, Time: 332 * time.Second,
			After: time.Minute, Lactate: 1.2, HeartRate: 121, Cycles: 6.5, Segment: 15, SegmentTime: 14100 * time.Millisecond, StrokeRate: 27.5, StrokesPerLength: 17, Remark: "windy",
		}},
	}}
	for i, name := range order {
		for _, other := range names[name] {
			header := append([]string{}, order...)
			header[i] = other
			got, err := sheet.Read(strings.NewReader(strings.Join(header, ",") + "\n" + row))
			if d := cmp.Diff(want, got, comparePools()); d != "" || err != nil {
				t.Errorf("%s as %q: %v (-want +got):\n%s", name, other, err, d)
			}
		}
	}
	for name, says := range map[[2]string]string{
		{"heart rate", "heart rate [Hz]"}: "values in 1/min", {"time", "time [h]"}: "no unit in the header", {"date", "date (UTC)"}: "no unit in the header",
	} {
		text := strings.Replace(strings.Join(order, ",")+"\n"+row, name[0], name[1], 1)
		if _, err := sheet.Read(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", name[1], err)
		}
	}
}

// Cells that cannot be read, one by one: those that a repeat needs cost it, any
// other costs itself and leaves the rest of the row as it is.
func TestBadCells(t *testing.T) {
	header := "swimmer,date,pool,distance,repeat,time,lactate,target,leave,stroke cycles,stroke segment,segment time,warm up,next test,minutes after,RPE,stroke rate,strokes per length\n"
	cells := []string{"Ada", "2025-03-04", "25 m", "400", "1", "5:32", "1.2", "5:30", "0:00", "6", "15", "0:14", "800", "2025-04-15", "1", "7", "27.5", "17"}
	for _, tt := range []struct {
		column int
		text   string
		says   string
	}{
		{3, "400 ft", "distance"}, {3, "0", "distance"}, {3, "1e3", "distance"}, {3, "-400", "distance"}, {3, "9999999", "distance"},
		{4, "+1", "repeat"}, {4, "100", "repeat"}, {4, "one", "repeat"},
		{5, "0:55", "this is 7.27 m/s; as a pace per 100 m it would be 3:40.0"}, {5, "0:00", "time"}, {5, "5:32:1", "time"}, {5, "1.2.3", "time"},
		{6, "LOST", "lactate"}, {6, "1.2.3", "lactate"}, {6, ".", "lactate"}, {6, "5:32", "two columns swapped"},
		{7, "0:14", "a time in which 400 m can be swum"}, {7, "quick", "target"}, {7, "0:00", "target"}, {7, "all", "target"},
		{8, "noon", "leave"},
		{9, "1001", "stroke cycles"}, {9, "0", "stroke cycles"}, {9, "many", "stroke cycles"},
		{10, "500", "no longer than its distance"}, {10, "x", "stroke segment"},
		{11, "0", "segment time"},
		{12, "far", "warm up"},
		{13, "soon", "next test"}, {13, "31.04.2025", "next test"},
		{14, "0", "minutes after"}, {14, "1:75", "minutes after"}, {14, "3 s", "the unit is min"}, {14, "soon", "minutes after"}, {14, "121", "minutes after"},
		{15, "7\x01", "control characters"}, {16, "150.5", "stroke rate"}, {17, "500.5", "strokes over one length"},
	} {
		bad := append([]string{}, cells...)
		bad[tt.column] = tt.text
		recs, err := sheet.Read(strings.NewReader(header + strings.Join(bad, ",") + "\n"))
		if err == nil || !strings.Contains(err.Error(), "line 2") || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%q: %v", tt.text, err)
		}
		if tt.column < 6 {
			if rows, cells := recs[0].Lost(); len(recs[0].Repeats) != 0 || rows != 1 || cells != 0 {
				t.Errorf("%q: %d repeats, %d rows and %d cells lost", tt.text, len(recs[0].Repeats), rows, cells)
			}
			continue
		}
		blank := append([]string{}, cells...)
		blank[tt.column] = ""
		want, err := sheet.Read(strings.NewReader(header + strings.Join(blank, ",") + "\n"))
		if err != nil {
			t.Fatal(err)
		}
		if rows, cells := recs[0].Lost(); rows != 0 || cells != 1 {
			t.Errorf("%q: %d rows and %d cells lost: %v", tt.text, rows, cells, recs[0].Faults)
		}
		recs[0].Faults = nil
		if d := cmp.Diff(want, recs, comparePools()); d != "" {
			t.Errorf("%q is not as a blank (-want +got):\n%s", tt.text, d)
		}
	}
	// All faults of a row at once.
	bad := append([]string{}, cells...)
	bad[2], bad[5], bad[6] = "25", "4:75", "n/a"
	_, err := sheet.Read(strings.NewReader(header + strings.Join(bad, ",") + "\n"))
	if n := strings.Count(err.Error(), "line 2"); n != 3 {
		t.Errorf("%d faults, want 3: %v", n, err)
	}
}
