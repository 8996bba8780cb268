package protocol_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// six is a test of six repeats of 400 in a 25 m pool without a finding.
func six() protocol.Record {
	r := protocol.Record{Swimmer: "Ada", Date: time.Date(2025, 3, 4, 0, 0, 0, 0, time.UTC), Pool: pace.SCM()}
	for i, t := range []string{"6:01.5", "5:51.7", "5:42.4", "5:32.0", "5:22.3", "5:08.9"} {
		r.Repeats = append(r.Repeats, protocol.Repeat{
			Number: i + 1, Distance: 400, Time: pace.Must(pace.ParseTime(t)),
			Lactate: []float64{1.2, 1.3, 1.6, 2.4, 4.1, 8.8}[i], HeartRate: []float64{118, 130, 141, 151, 164, 178}[i],
		})
	}
	return r
}

// A slip in all values of a test, and one that a swap of digits explains. Evidence: D, each
// is one known slip; 90.08 g/mol is the molar mass of lactic acid.
func TestGravestSlips(t *testing.T) {
	const head = "swimmer,date,pool,distance,repeat,time,lactate\n"
	times, samples := []string{"6:10.2", "6:00.1", "5:50.4", "5:40.0", "5:30.3", "5:18.7"}, []float64{1.4, 1.5, 1.9, 2.2, 2.6, 3.1}
	test := func(distance string, factor float64, third string) string {
		var b strings.Builder
		b.WriteString(head)
		for i, at := range times {
			if i == 2 {
				at = third
			}
			fmt.Fprintf(&b, "Ann,2026-01-10,25 m,%s,%d,%s,%.1f\n", distance, i+1, at, factor*samples[i])
		}
		return b.String()
	}
	for name, c := range map[string]struct {
		sheet, says string
		repeat      int
	}{
		"none":     {test("400", 1, "5:50.4"), "", 0},
		"mg/dL":    {test("400", 9.01, "5:50.4"), "the samples look wrong (12.6 mmol/L; mg/dL meant?)", -1},
		"distance": {test("100", 1, "5:50.4"), "the times look wrong (5:18.7/100 m; another distance meant?)", -1},
		"swapped":  {test("400", 1, "5:05.4"), "the time of repeat 3 looks wrong (5:05.4; 5:50.4 meant?)", 3},
	} {
		records, err := sheet.Read(strings.NewReader(c.sheet))
		if err != nil {
			t.Fatal(err)
		}
		if g := records[0].Gravest(nil); g.Says != c.says || g.Repeat != c.repeat {
			t.Errorf("%s: %+v", name, g)
		}
	}
	// Rows that are lost are mended before blood is drawn again.
	lost := strings.ReplaceAll(strings.ReplaceAll(test("400", 1, "5:50.4"), "2.2", "2,2"), "1.9", "1,9")
	records, err := sheet.Read(strings.NewReader(lost))
	if err == nil || len(records) != 1 {
		t.Fatal(records, err)
	}
	partial, err := records[0].Partial()
	if err != nil {
		t.Fatal(err)
	}
	a := analysed(t, partial, lactate.Options{})
	if g := records[0].Gravest(a); !strings.Contains(g.Do, "mend the rows") {
		t.Errorf("%+v", g)
	}
}

// A slip of the pen is named with what was likely meant. Evidence: D, each is
// one known slip in a test without one.
func TestSlips(t *testing.T) {
	blood := func(i int, v float64) func(*protocol.Record) {
		return func(r *protocol.Record) { r.Repeats[i].Lactate = v }
	}
	clock := func(i int, s string) func(*protocol.Record) {
		return func(r *protocol.Record) { r.Repeats[i].Time = pace.Must(pace.ParseTime(s)) }
	}
	beats := func(i int, b float64) func(*protocol.Record) {
		return func(r *protocol.Record) { r.Repeats[i].HeartRate = b }
	}
	for _, tt := range []struct {
		name  string
		spoil func(*protocol.Record)
		says  string
	}{
		{"none", func(*protocol.Record) {}, ""},
		{"551.7 for 5:51.7", clock(1, "551.7"), "repeat 2: 9:11.7 is out of line: the other repeats lead to about 5:5"},
		{"551.7 for 5:51.7, likely", clock(1, "551.7"), "was 5:51.7 meant?"},
		{"first", clock(0, "601.5"), "repeat 1: 10:01.5 is out of line"},
		{"last", clock(5, "508.9"), "was 5:08.9 meant?"},
		{"a minute too much", clock(2, "6:42.4"), "was 5:42.4 meant?"},
		{"a minute too little", clock(2, "4:42.4"), "was 5:42.4 meant?"},
		{"4:05 for 5:32", clock(3, "4:05"), "is the time right?"},
		{"a pace", clock(3, "1:23.0"), "repeat 4: 1:23 for 400 m is faster than people swim: is it a pace per 100? The time would be 5:32"},
		{"115 for 151", beats(3, 115), "repeat 4: a heart rate of 115 /min is out of line"},
		{"115 for 151, likely", beats(3, 115), "was 151 meant?"},
		{"240", beats(4, 240), "repeat 5: a heart rate of 240 /min is hardly one: the other repeats lead to about 16"},
		{"64 for 164", beats(4, 64), "was 164 meant?"},
		{"15 beats off", beats(2, 157), ""},
		{"16 beats off", beats(2, 158), "lead to about 142; is it right?"},
		{"3:42.4 for 5:42.4", clock(2, "3:42.4"), "was 5:42.4 meant?"},
		{"7:42.4 for 5:42.4", clock(2, "7:42.4"), "was 5:42.4 meant?"},
		{"a pace with decimals", clock(3, "1:23.1"), "repeat 4: 1:23.1 for 400 m is faster than people swim"},
		{"220.5", beats(4, 220.5), "a heart rate of 220 /min is hardly one"},
		{"13 for 1.3", blood(1, 13), "repeat 2: 13.0 mmol/L is out of line: the samples beside it lead to about 1.4; was 1.3 meant?"},
		{"41 for 4.1", blood(4, 41), "was 4.1 meant?"},
		{"20 for 2.0", blood(4, 20), "was 2.0 meant?"},
		{"0.9 for 9.0", blood(4, 0.9), "was 9.0 meant?"},
		{"0.2468 for 2.468", blood(3, 0.2468), "repeat 4: 0.247 mmol/L is out of line: the samples beside it lead to about 2.8; was 2.47 meant?"},
		{"26 for 2.6", blood(3, 26), "repeat 4: 26.0 mmol/L is out of line: the samples beside it lead to about 2.8; was 2.6 meant?"},
		{"12 for 1.2", blood(0, 12), "was 1.2 meant?"},
		{"0.24 for 2.4", blood(3, 0.24), "repeat 4: 0.24 mmol/L is out of line: the samples beside it lead to about 2.8; was 2.4 meant?"},
		{"22 at the end", blood(5, 22), ""},
		{"in another order", func(r *protocol.Record) {
			for i := range 3 {
				a, b := &r.Repeats[i].HeartRate, &r.Repeats[5-i].HeartRate
				*a, *b = *b, *a
			}
		}, "the heart rates of 4 repeats are out of line with the others: are they of these repeats, in this order?"},
		{"180", beats(0, 180), "repeat 1: a heart rate of 180 /min is out of line: the other repeats lead to about 118; is it right?"},
	} {
		r := six()
		tt.spoil(&r)
		got := fmt.Sprint(r.Review())
		if tt.says == "" && got != "[]" || !strings.Contains(got, tt.says) {
			t.Errorf("%s: %s; want %q", tt.name, got, tt.says)
		}
		if n := strings.Count(got, "?"); n > 1 {
			t.Errorf("%s: asks %d times: %s", tt.name, n, got)
		}
	}
	// Faster than people swim, and not quite. In 100s a second may have its digits exchanged.
	for distance, times := range map[pace.Length][2]string{50: {"0:18.4", "0:18.6"}, 100: {"0:41.5", "0:41.8"}, 200: {"1:32.9", "1:33.1"}, 400: {"3:19.9", "3:20.1"}} {
		for i, s := range times {
			r := protocol.Record{Pool: pace.SCM(), Repeats: []protocol.Repeat{{Number: 1, Distance: distance, Time: pace.Must(pace.ParseTime(s)), Lactate: 2}}}
			if got := fmt.Sprint(r.Review()); strings.Contains(got, "repeat 1: "+s+" for ") != (i == 0) {
				t.Errorf("%v in %s: %s", distance, s, got)
			}
			r.Repeats = append(r.Repeats, r.Repeats[0])
			if got := fmt.Sprint(r.Review()); strings.Contains(got, "every time is faster than people swim") != (i == 0) {
				t.Errorf("twice %v in %s: %s", distance, s, got)
			}
		}
	}
	few, many := six(), six()
	few.Repeats = few.Repeats[2:]
	few.Repeats[1].HeartRate = 115
	many.Repeats = nil
	for i := range 10 {
		rep := six().Repeats[0]
		rep.Number, rep.Time, rep.HeartRate = i+1, time.Duration(360-5*i)*time.Second, float64(100+8*i)
		if i%4 == 1 { // 2, 6 and 10
			rep.HeartRate += 30
		}
		many.Repeats = append(many.Repeats, rep)
	}
	for r, says := range map[*protocol.Record]string{&few: "was 151 meant?", &many: "the heart rates of 3 repeats are out of line"} {
		if got := fmt.Sprint(r.Review()); !strings.Contains(got, says) {
			t.Errorf("%s; want %q", got, says)
		}
	}
	hundreds := six()
	for i := range hundreds.Repeats {
		hundreds.Repeats[i].Distance, hundreds.Repeats[i].Time = 100, time.Duration(83-3*i)*time.Second
	}
	hundreds.Repeats[3].Time = 101 * time.Second // 1:41 for 1:14
	if got := fmt.Sprint(hundreds.Review()); !strings.Contains(got, "repeat 4: 1:41 is out of line: the other repeats lead to about 1:14; was 1:14 meant?") {
		t.Error(got)
	}
	// All of them: once.
	r := six()
	for i := range r.Repeats {
		r.Repeats[i].Time /= 4
	}
	if got := fmt.Sprint(r.Review()); strings.Count(got, "pace per 100") != 1 || !strings.Contains(got, "every time is faster than people swim: is it a pace per 100? The time would be 6:01.") {
		t.Errorf("%s", got)
	}
}

// A sample beyond the range of the analyser is no point, and nothing stands for
// it. Evidence: D.
func TestBeyondTheRange(t *testing.T) {
	last := func(r *protocol.Record) *protocol.Repeat { return &r.Repeats[5] }
	for _, tt := range []struct {
		name    string
		spoil   func(*protocol.Record)
		sampled int
		says    string
	}{
		{"HI at the end", func(r *protocol.Record) { last(r).Lactate, last(r).Range = 0, protocol.AboveRange }, 5, "repeat 6: the analyser showed HI"},
		{"HI, and numbers after it", func(r *protocol.Record) {
			last(r).Lactate, last(r).Range = 0, protocol.AboveRange
			r.Recovery = []protocol.Sample{{After: 60e9, Lactate: 9}}
		}, 5, "repeat 6: the analyser showed HI"},
		{"HI after it", func(r *protocol.Record) {
			last(r).Lactate = 0
			r.Recovery = []protocol.Sample{{After: 60e9, Lactate: 9}, {After: 180e9, Range: protocol.AboveRange}}
		}, 5, "the highest is not known"},
		{"HI in the middle", func(r *protocol.Record) { r.Repeats[3].Lactate, r.Repeats[3].Range = 0, protocol.AboveRange }, 5, "repeat 5 shows a number, though"},
		{"Lo", func(r *protocol.Record) { r.Repeats[0].Lactate, r.Repeats[0].Range = 0, protocol.BelowRange }, 5, "the baseline may lie below"},
		{"samples of a lost repeat", func(r *protocol.Record) {
			r.Repeats = r.Repeats[:5]
			r.Repeats[4].Lactate = 0
			r.Recovery, r.RecoveryAfter = []protocol.Sample{{After: 60e9, Lactate: 9}}, 6
		}, 4, "repeat 6: its row is lost, and the samples after it are kept"},
	} {
		r := six()
		tt.spoil(&r)
		test, err := r.Test()
		if err != nil || len(test.Sampled()) != tt.sampled || !strings.Contains(fmt.Sprint(r.Review()), tt.says) {
			t.Errorf("%s: %d sampled, %v, %v", tt.name, len(test.Sampled()), err, r.Review())
		}
		if !strings.HasPrefix(tt.name, "HI") || tt.name == "HI in the middle" {
			continue
		}
		// A level that may lie beyond is not claimed.
		a, err := lactate.Analyze(test, lactate.Options{LT2: lactate.Fixed{Lactate: 6}})
		if err != nil || !errors.Is(a.LT2.Err, lactate.ErrNotReached) {
			t.Errorf("%s: 6 mmol/L at %v, %v", tt.name, a.LT2.Intensity.Value, err)
		}
	}
}

// Names that look alike are one name; the clean name is its own clean name.
// Evidence: D.
func TestCleanName(t *testing.T) {
	for _, s := range []string{
		"Ren\u00e9e O'Brien-Lee", "Rene\u0301e O'Brien-Lee", "Renée O’Brien-Lee", "Ren\u00ade\u0301e\u200b O'Brien-Lee", "\ufeffRenée\u00a0O'Brien-Lee\u200e",
		"Renée  Oʼ\u2060Brien‐Lee", "Re\u200dnée\tO`Brien–Lee",
	} {
		if got := protocol.CleanName(s); got != "Renée O'Brien-Lee" {
			t.Errorf("%q: %q", s, got)
		}
	}
	for _, s := range []string{"Robin O`Vale", " Robin O'Vale", "Robin O'Vale ", "Robin  O'Vale", "Robin\tO'Vale", "Robin O'Va\u034fle"} {
		if got := protocol.CleanName(s); got != "Robin O'Vale" {
			t.Errorf("%q: %q", s, got)
		}
	}
	if got := protocol.CleanName("O`Dell"); got != "O'Dell" {
		t.Error(got)
	}
	if protocol.FoldName("RENÉE O’BRIEN - LEE") != protocol.FoldName("Rene\u0301e O'Brien-Lee") {
		t.Error("case and spaces count")
	}
}
