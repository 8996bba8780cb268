package protocol_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"github.com/google/go-cmp/cmp"
)

// fiveOf400 is a record of five repeats of 400 without a fault. It is invented.
func fiveOf400(pool pace.Pool) protocol.Record {
	r := protocol.Record{Swimmer: "Ada", Date: time.Date(2025, 3, 4, 0, 0, 0, 0, time.UTC), Pool: pool, Rest: 0.9}
	for i, swum := range []string{"5:32", "5:22.4", "5:12", "5:02", "4:52"} {
		r.Repeats = append(r.Repeats, protocol.Repeat{
			Number: i + 1, Distance: 4 * pool.Per100(), Time: pace.Must(pace.ParseTime(swum)), Lactate: []float64{1.2, 1.4, 2.2, 3.5, 8.4}[i], HeartRate: float64(120 + 12*i),
		})
	}
	return r
}

// Speed is distance over time. Evidence: D (400 yd = 365.76 m exactly).
func TestRecordTest(t *testing.T) {
	r := fiveOf400(pace.SCY())
	r.Repeats[1].Lactate, r.Repeats[4].Lactate = 0, 0 // both lost
	r.Recovery = []protocol.Sample{{After: time.Minute, Lactate: 0.9}, {After: 3 * time.Minute, Lactate: 8.9, HeartRate: 120}}
	got, err := r.Test()
	if err != nil {
		t.Fatal(err)
	}
	seconds := []float64{332, 322.4, 312, 302, 292}
	lactates := []float64{1.2, 0, 2.2, 3.5, 8.9} // the last is the highest of 0.9 and 8.9
	for i, s := range got.Stages {
		if !(math.Abs(s.Intensity-365.76/seconds[i]) <= 1e-15) || s.Lactate != lactates[i] || !(math.Abs(s.Duration.Seconds()-seconds[i]) <= 1e-9) {
			t.Errorf("stage %d: %+v", i, s)
		}
	}
	want := []lactate.RecoverySample{{After: time.Minute, Lactate: 0.9}, {After: 3 * time.Minute, Lactate: 8.9}}
	if d := cmp.Diff(want, got.Recovery); d != "" || got.Rest != 0.9 || len(got.Stages) != 5 {
		t.Errorf("rest %v, %d stages, recovery (-want +got):\n%s", got.Rest, len(got.Stages), d)
	}
}

func TestRecordTestPartly(t *testing.T) {
	day := time.Date(2025, 3, 4, 0, 0, 0, 0, time.UTC)
	rep := func(n int, s, la float64) protocol.Repeat {
		return protocol.Repeat{Number: n, Distance: 400, Time: time.Duration(s * 1e9), Lactate: la}
	}
	fault := &protocol.Fault{Line: 7, Column: "time", Found: "4:75", Want: "a time", Err: protocol.ErrValue}
	tests := []struct {
		name   string
		record protocol.Record
		stages int
		last   float64
		is     error
	}{
		{"empty", protocol.Record{}, 0, 0, protocol.ErrNoRepeats},
		{"not swum", protocol.Record{Repeats: []protocol.Repeat{{Number: 1, Distance: 400, Target: 300e9}}}, 0, 0, protocol.ErrNoRepeats},
		{"one not swum", protocol.Record{Repeats: []protocol.Repeat{rep(1, 330, 1), rep(2, 0, 0), rep(3, 320, 2)}}, 2, 2, nil},
		{"faults", protocol.Record{Repeats: []protocol.Repeat{rep(1, 330, 1)}, Faults: []*protocol.Fault{fault}}, 1, 1, nil},
		{"no distance", protocol.Record{Repeats: []protocol.Repeat{rep(1, 330, 1), {Number: 2, Time: 1e9}}}, 1, 1, pace.ErrValue},
		{"its own sample before later ones", protocol.Record{Repeats: []protocol.Repeat{rep(1, 300, 7)}, Recovery: []protocol.Sample{{After: 60e9, Lactate: 9}}}, 1, 7, nil},
		{"samples after a last repeat that was not swum", protocol.Record{Repeats: []protocol.Repeat{rep(1, 300, 0), rep(2, 0, 0)}, Recovery: []protocol.Sample{{After: 60e9, Lactate: 9}}}, 1, 0, nil},
	}
	for _, tt := range tests {
		tt.record.Date, tt.record.Pool = day, pace.SCM()
		got, err := tt.record.Partial()
		if len(got.Stages) != tt.stages || !errors.Is(err, tt.is) || (err == nil) != (tt.is == nil) {
			t.Errorf("%s: %d stages, error %v", tt.name, len(got.Stages), err)
			continue
		}
		if n := len(got.Stages); n > 0 && got.Stages[n-1].Lactate != tt.last {
			t.Errorf("%s: last lactate %v, want %v", tt.name, got.Stages[n-1].Lactate, tt.last)
		}
	}
}

// D: a test that lost a row is refused, since its last repeat may be the one that is lost;
// one that lost a cell is not.
func TestRecordTestRefusesPart(t *testing.T) {
	r := fiveOf400(pace.SCY())
	whole, err := r.Test()
	if err != nil {
		t.Fatal(err)
	}
	r.Faults = []*protocol.Fault{{Line: 3, Column: "heart rate", Found: "14o", Want: "a number", Err: protocol.ErrValue, Kept: true}, nil}
	if got, err := r.Test(); err != nil || !cmp.Equal(got, whole) {
		t.Errorf("a cell lost: %v, %v", got, err)
	}
	for _, f := range []*protocol.Fault{{Line: 7, Column: "time", Found: "4:75", Want: "a time", Err: protocol.ErrValue}, {Found: "9 more faults"}} {
		r.Faults = append(r.Faults[:2:2], f)
		got, err := r.Test()
		if !errors.Is(err, protocol.ErrPartial) || len(got.Stages) != 0 || !slices.Contains(protocol.Faults(err), f) {
			t.Errorf("%v: %v, %v", f, got, err)
		}
		if a, err := r.Analyze(lactate.Options{}); a != nil || !errors.Is(err, protocol.ErrPartial) {
			t.Errorf("%v: %v, %v", f, a, err)
		}
		if part, err := r.Partial(); err != nil || !cmp.Equal(part, whole) {
			t.Errorf("%v: part %v, %v", f, part, err)
		}
	}
	r.Faults = nil
	a, err := r.Analyze(lactate.Options{Resamples: 200})
	if err != nil {
		t.Fatal(err)
	}
	want, err := lactate.Analyze(whole, lactate.Options{Resamples: 200})
	if err != nil || a.LT2.Intensity != want.LT2.Intensity {
		t.Errorf("%v, want %v, %v", a.LT2, want.LT2, err)
	}
}

// What costs a row and what costs a cell is counted apart. A cell of a row that
// is left out is not counted again; a name is read, however it is spelt.
func TestRecordLost(t *testing.T) {
	r := protocol.Record{Faults: []*protocol.Fault{
		{Line: 1, Column: "time"}, {Line: 1, Column: "lactate", Kept: true}, {Line: 3, Column: "lactate", Kept: true},
		{Line: 4, Column: "swimmer", Kept: true}, {Line: 5}, {Found: "7 more faults"},
		{Line: 6, Column: "date", Rows: 4}, {Line: 11, Column: "heart rate", Rows: 3, Kept: true},
	}}
	if rows, cells := r.Lost(); rows != 6 || cells != 4 {
		t.Errorf("%d rows and %d cells lost, want 6 and 4", rows, cells)
	}
	for want, f := range map[string]fmt.Stringer{
		`protocol: sheet line 1 and 1 more, date: found "x", want y`:                     said{&protocol.Fault{Line: 1, Rows: 2, Column: "date", Found: "x", Want: "y"}},
		`protocol: sheet: found nothing, want y`:                                         said{&protocol.Fault{Want: "y"}},
		`protocol: sheet line 2: found "` + strings.Repeat("x", 200) + `…", want y`:      said{&protocol.Fault{Line: 2, Rows: 1, Found: strings.Repeat("x", 300), Want: "y"}},
		`protocol: sheet line 2: found nothing, want ` + strings.Repeat("y", 1000) + `…`: said{&protocol.Fault{Line: 2, Want: strings.Repeat("y", 1001)}},
		`sheet line 1, date: read`:                                                       protocol.Note{Line: 1, Column: "date", Text: "read"}, `sheet: read`: protocol.Note{Text: "read"},
	} {
		if got := f.String(); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

// said is the text of an error.
type said struct{ error }

func (s said) String() string { return s.Error() }

// Records without a fault of which the coach is told.
func TestFindingsOfRecords(t *testing.T) {
	type R = protocol.Record
	for _, tt := range []struct {
		name   string
		change func(*R)
		says   string
	}{
		{"one stage", func(r *R) { r.Repeats = r.Repeats[:1] }, "one repeat: no curve can be drawn"},
		{"the same speed", func(r *R) { r.Repeats[1].Time = r.Repeats[0].Time }, "repeat 2: the same speed as repeat 1"},
		{"slower", func(r *R) {
			r.Repeats[0].Time, r.Repeats[1].Time = pace.Must(pace.ParseTime("5:34")), pace.Must(pace.ParseTime("5:42.4"))
		}, "repeat 2: slower than repeat 1 (1:25.6 after 1:23.5 per 100)"},
		{"no second row", func(r *R) { r.Repeats = slices.Delete(r.Repeats, 1, 2) }, "repeat 2: no row: the numbers go on to 3"},
		{"samples after it only", func(r *R) { r.Repeats[4].Lactate, r.Recovery = 0, []protocol.Sample{{After: 60e9, Lactate: 0.9}} }, "repeat 5: no sample of its own: the highest of those after it, 0.9 mmol/L, stands for it"},
		{"one sample", func(r *R) {
			for i := range r.Repeats {
				r.Repeats[i].Lactate = 0
			}
			r.Repeats[4].Lactate = 0.9
		}, "repeat 4: no lactate"},
		{"HI only", func(r *R) {
			for i := range r.Repeats {
				r.Repeats[i].Lactate = 0
			}
			r.Repeats[4].Range = protocol.AboveRange
		}, "repeat 4: no lactate"},
		{"one column", func(r *R) { r.Repeats[0].Extra = map[string]string{"lane": "3"} }, `the columns "lane"`},
		{"lost sample", func(r *R) { r.Repeats[0].Lactate = 0 }, "repeat 1: no lactate"},
		{"not swum", func(r *R) { r.Repeats[0].Time = 0 }, "repeat 1: no time"},
		{"another distance", func(r *R) { r.Repeats[4].Distance, r.Repeats[4].Time = 200, pace.Must(pace.ParseTime("2:20")) }, "another distance than repeat 4 (200 m, not 400 m)"},
		{"four repeats", func(r *R) { r.Repeats = r.Repeats[:4] }, "4 repeats with a sample; five or more"},
		{"no row", func(r *R) { r.Repeats = r.Repeats[1:] }, "repeat 1: no row"},
		{"columns of other names", func(r *R) { r.Repeats[0].Extra = map[string]string{"lane": "3", "avg HR": "120"} }, `the columns "avg HR", "lane"`},
	} {
		r := fiveOf400(pace.SCM())
		tt.change(&r)
		if found := fmt.Sprint(r.Review()); !strings.Contains(found, tt.says) {
			t.Errorf("%s: findings %s do not say %q", tt.name, found, tt.says)
		}
	}
	bare := fiveOf400(pace.SCM())
	for i := range bare.Repeats {
		bare.Repeats[i].Lactate = 0
	}
	if found := fmt.Sprint(bare.Review()); !strings.Contains(found, "0 repeats with a sample") || strings.Contains(found, "no lactate") {
		t.Errorf("no sample at all: %s", found)
	}
	low := fiveOf400(pace.SCM())
	low.Repeats[0].Lactate = 0.9
	if found := low.Review(); len(found) != 0 {
		t.Errorf("findings of a low baseline: %v", found)
	}
	if found := fiveOf400(pace.SCM()).Review(); len(found) != 0 {
		t.Errorf("findings of a good record: %v", found)
	}
}

// Two spellings of a name fold to one text.
func TestFoldName(t *testing.T) {
	for _, s := range []string{"Robin Vale", "robin  vale", " ROBINVALE\t"} {
		if got := protocol.FoldName(s); got != "robinvale" {
			t.Errorf("%q folds to %q", s, got)
		}
	}
}
