package sheet_test

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"github.com/google/go-cmp/cmp"
)

const small = `swimmer,date,pool,distance,repeat,time,minutes after,lactate,heart rate,resting lactate,remark
Ada,2025-03-04,25 yd,400,1,5:32,,1.2,121,0.9,
Ada,2025-03-04,25 yd,400,2,5:22.4,,,130,,"lost, ""dropped"""
Ada,2025-03-04,25 yd,400,3,5:12,,2.2,141,,
Ada,2025-03-04,25 yd,400,4,5:02,,3.5,152,,
Ada,2025-03-04,25 yd,400,5,4:52,,,171,,
Ada,2025-03-04,25 yd,400,5,,1,8.1,,,
Ada,2025-03-04,25 yd,400,5,,3,8.9,120,,
`

// A sheet field by field. Evidence: D.
func TestRead(t *testing.T) {
	day := time.Date(2025, 3, 4, 0, 0, 0, 0, time.UTC)
	const d = 400 * pace.Yard
	min := time.Minute
	want := []protocol.Record{{
		Swimmer: "Ada", Date: day, Pool: pace.SCY(), Rest: 0.9,
		Repeats: []protocol.Repeat{
			{Number: 1, Distance: d, Time: 5*min + 32*time.Second, Lactate: 1.2, HeartRate: 121},
			{Number: 2, Distance: d, Time: 5*min + 22400*time.Millisecond, HeartRate: 130, Remark: `lost, "dropped"`},
			{Number: 3, Distance: d, Time: 5*min + 12*time.Second, Lactate: 2.2, HeartRate: 141},
			{Number: 4, Distance: d, Time: 5*min + 2*time.Second, Lactate: 3.5, HeartRate: 152},
			{Number: 5, Distance: d, Time: 4*min + 52*time.Second, HeartRate: 171},
		},
		Recovery: []protocol.Sample{{After: min, Lactate: 8.1}, {After: 3 * min, Lactate: 8.9, HeartRate: 120}},
	}}
	got, err := sheet.Read(strings.NewReader(small))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got, comparePools()); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	for _, text := range []string{small, good()} {
		got, err := sheet.Read(strings.NewReader(text))
		var b bytes.Buffer
		if writeErr := sheet.Write(&b, got); err != nil || writeErr != nil || b.String() != text {
			t.Errorf("written: %v, %v\n%s", err, writeErr, &b)
		}
	}
	// Times of the day that would be read as minutes.
	for _, leave := range []time.Duration{4 * time.Hour, 3*time.Hour + 30*time.Second, 2 * time.Hour} {
		got[0].Repeats[4].Leave = leave
		var b bytes.Buffer
		err := sheet.Write(&b, got)
		if back, readErr := sheet.Read(&b); err != nil || readErr != nil || back[0].Repeats[4].Leave != leave {
			t.Errorf("leave at %v: %v, %v, %v", leave, back, err, readErr)
		}
	}
}

// Samples after the last repeat stand in rows of their own.
func TestSampleRows(t *testing.T) {
	tests := []struct{ name, row, says string }{
		{"of another repeat", "Ada,2025-03-04,25 yd,400,4,,5,8.2,,,", "the last repeat, 5"},
		{"of a repeat that is not there", "Ada,2025-03-04,25 yd,400,6,,5,8.2,,,", "the last repeat, 5"},
		{"at the same time", "Ada,2025-03-04,25 yd,400,5,,3,8.2,,,", "one sample at a time; line 8"},
		{"at the first time", "Ada,2025-03-04,25 yd,400,5,,1,8.2,,,", "one sample at a time; line 7"},
		{"of another distance", "Ada,2025-03-04,25 yd,200,5,,5,8.2,,,", "nothing, or the distance of repeat 5, 400 yd"},
		{"days after", "Ada,2025-03-04,25 yd,400,5,,500,8.2,,,", "minutes such as"},
		{"before the end", "Ada,2025-03-04,25 yd,400,5,,-1,8.2,,,", "minutes such as"},
		{"with a resting sample", "Ada,2025-03-04,25 yd,400,5,,5,8.2,,0.9,", "nothing in the row of a sample"},
	}
	for _, tt := range tests {
		recs, err := sheet.Read(strings.NewReader(small + tt.row + "\n"))
		if err == nil || !strings.Contains(err.Error(), "line 9") || !strings.Contains(err.Error(), tt.says) || len(recs[0].Repeats)+len(recs[0].Recovery) != 7 {
			t.Errorf("%s: error %v", tt.name, err)
		}
	}
	// Another resting sample costs itself, not the swim.
	recs, err := sheet.Read(strings.NewReader(strings.Replace(small, "5:12,,2.2,141,,", "5:12,,2.2,141,1.1,", 1)))
	if err == nil || !strings.Contains(err.Error(), "line 4") || !strings.Contains(err.Error(), "one value for the whole test; line 2 has 0.9") || len(recs[0].Repeats)+len(recs[0].Recovery) != 7 || recs[0].Rest != 0.9 {
		t.Errorf("another resting sample: error %v", err)
	}
	for _, after := range []string{"5", "5.0", "5:00"} {
		_, err := sheet.Read(strings.NewReader(small + "Ada,2025-03-04,,,5,," + after + ",8.2,,,\n"))
		if err == nil || !strings.Contains(err.Error(), "pool") {
			t.Errorf("a sample without a pool: %v", err)
		}
		recs, err := sheet.Read(strings.NewReader(small + "Ada,2025-03-04,SCY,,5,," + after + ",8.2,,,\n"))
		if err != nil || recs[0].Recovery[2].After != 5*time.Minute {
			t.Errorf("%s minutes: %+v, error %v", after, recs, err)
		}
	}
}

// Columns that we do not know are kept under their own name.
func TestExtraColumns(t *testing.T) {
	text := strings.Replace(good(), "heart rate", "Felt (1-10)", 1)
	recs, err := sheet.Read(strings.NewReader(text))
	if err != nil || recs[1].Repeats[1].Extra["Felt (1-10)"] != "132" {
		t.Fatalf("%+v, error %v", recs, err)
	}
	var b bytes.Buffer
	if err := sheet.Write(&b, recs); err != nil || !strings.HasPrefix(b.String(), "swimmer,date,pool,distance,repeat,time,lactate,heart rate,Felt (1-10)\n") {
		t.Errorf("written: %v\n%s", err, &b)
	}
}

// Write refuses what Read would not give back, and writes nothing.
func TestWriteRefuses(t *testing.T) {
	type R = protocol.Record
	tests := []struct {
		name  string
		spoil func(*R)
		says  string
	}{
		{"no name", func(r *R) { r.Swimmer = "" }, "swimmer"},
		{"name with blanks", func(r *R) { r.Swimmer = " Ada" }, "outer blanks"},
		{"name with a carriage return", func(r *R) { r.Swimmer = "A\rda" }, "control characters"},
		{"no date", func(r *R) { r.Date = time.Time{} }, "date"},
		{"an hour", func(r *R) { r.Date = r.Date.Add(time.Hour) }, "date"},
		{"another zone", func(r *R) { r.Date = r.Date.In(time.FixedZone("", 3600)) }, "date"},
		{"no pool", func(r *R) { r.Pool = pace.Pool{} }, "pool"},
		{"no repeats", func(r *R) { r.Repeats = nil }, "no repeat"},
		{"rest of 40", func(r *R) { r.Rest = 40 }, "resting lactate"},
		{"order", func(r *R) { r.Repeats[0], r.Repeats[1] = r.Repeats[1], r.Repeats[0] }, "repeat 2"},
		{"number twice", func(r *R) { r.Repeats[1].Number = 1 }, "only once"},
		{"lactate NaN", func(r *R) { r.Repeats[1].Lactate = math.NaN() }, "lactate"},
		{"lactate Inf", func(r *R) { r.Repeats[1].Lactate = math.Inf(1) }, "lactate"},
		{"negative time", func(r *R) { r.Repeats[1].Time = -1 }, "time"},
		{"distance NaN", func(r *R) { r.Repeats[1].Distance = pace.Length(math.NaN()) }, "distance"},
		{"samples out of order", func(r *R) { r.Recovery[0], r.Recovery[1] = r.Recovery[1], r.Recovery[0] }, "sample 1"},
		{"remark without end", func(r *R) { r.Repeats[0].Remark = strings.Repeat("x", 1<<16) }, "row 1: found texts that are too long"},
		{"remark with blanks", func(r *R) { r.Repeats[0].Remark = " x" }, "row 1: found \"x\", want a text without outer blanks"},
		{"extra that means the first column", func(r *R) { r.Repeats[0].Extra = map[string]string{"Athlete": "x"} }, `"swimmer"`},
		{"extra that means a known column", func(r *R) { r.Repeats[0].Extra = map[string]string{"HR": "x"} }, "heart rate"},
		{"extra that means an unused column", func(r *R) { r.Repeats[0].Extra = map[string]string{"Leave": "x"} }, `"leave"`},
		{"extra that is nearly a column", func(r *R) { r.Repeats[0].Extra = map[string]string{"warmup": "x"} }, `"warm up"`},
		{"extra without a name", func(r *R) { r.Repeats[0].Extra = map[string]string{"": "x"} }, "a name without"},
		{"blank extra", func(r *R) { r.Repeats[0].Extra = map[string]string{"RPE": " "} }, "outer blanks"},
		{"faults", func(r *R) { r.Faults = []*protocol.Fault{{Line: 2, Want: "sense"}} }, "found faults"},
	}
	for _, tt := range tests {
		recs, err := sheet.Read(strings.NewReader(small))
		if err != nil {
			t.Fatal(err)
		}
		tt.spoil(&recs[0])
		var b bytes.Buffer
		err = sheet.Write(&b, recs)
		if err == nil || !strings.Contains(err.Error(), tt.says) || b.Len() > 0 {
			t.Errorf("%s: error %v, written %q", tt.name, err, &b)
		}
	}
	recs, _ := sheet.Read(strings.NewReader(small))
	if err := sheet.Write(&bytes.Buffer{}, append(recs, recs...)); err == nil || !strings.Contains(err.Error(), "second test of this swimmer") {
		t.Errorf("the same test twice: %v", err)
	}
	if err := sheet.Write(&failing{errors.New("disk full")}, recs); err == nil || !strings.Contains(err.Error(), "disk full") {
		t.Errorf("a writer that fails: %v", err)
	}
	for _, r := range []pace.Pool{pace.Must(pace.ParsePool("33 1/3 m")), pace.Must(pace.ParsePool("36 2/3 yd"))} {
		recs[0].Pool = r
		for i := range recs[0].Repeats {
			recs[0].Repeats[i].Distance = r.Distance(7)
			recs[0].Repeats[i].Time = 4 * time.Minute
		}
		var b bytes.Buffer
		if err := sheet.Write(&b, recs); err != nil {
			t.Errorf("%s: %v", r, err)
		}
	}
}

// The demonstration sheets are without a fault.
func TestDemonstrationSheets(t *testing.T) {
	names, err := filepath.Glob("../../testdata/sheets/*.csv")
	names = slices.DeleteFunc(names, func(n string) bool { return filepath.Base(n) == "readings.csv" }) // of another form
	if err != nil || len(names) != 4 {
		t.Fatalf("sheets %v, error %v", names, err)
	}
	tests := map[string]int{"single.csv": 1, "retest.csv": 2, "squad.csv": 5, "season.csv": 5}
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		recs, err := sheet.Read(bytes.NewReader(b))
		if err != nil || len(recs) != tests[filepath.Base(name)] {
			t.Errorf("%s: %d tests, error %v", name, len(recs), err)
		}
		for _, r := range recs {
			if test, err := r.Test(); err != nil || test.Check() != nil || len(test.Stages) != 6 || len(test.Sampled()) < 5 {
				t.Errorf("%s, %s: %v, error %v", name, r.Swimmer, test, err)
			}
		}
	}
}
