package protocol_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"github.com/google/go-cmp/cmp"
)

// Any bytes: no panic; whole tests can be written and read back; reading test
// by test finds the same rows.
func FuzzReadSheet(f *testing.F) {
	f.Add([]byte(good()))
	f.Add([]byte(small))
	f.Add([]byte("\ufeff" + strings.ReplaceAll(good(), ",", ";")))
	f.Add([]byte(strings.Replace(good(), "Ada", `"A`+"\n"+`da"`, 1)))
	f.Add([]byte(strings.Replace(good(), "heart rate", "stroke cycles", 1)))
	f.Add([]byte("swimmer,date,pool,distance,repeat,time,lactate,RPE,next test,warm up,leave,target\nA,2025-01-01,scy,100,1,,,5,2025-02-02,200,0:00,1:30 all out\n"))
	sheets, _ := filepath.Glob("../testdata/sheets/*.csv")
	for _, name := range sheets {
		if b, err := os.ReadFile(name); err == nil {
			f.Add(b)
		}
	}
	f.Fuzz(func(t *testing.T, sheet []byte) {
		recs, err := protocol.ReadSheet(bytes.NewReader(sheet))
		if len(recs) == 0 && err == nil {
			t.Fatal("no test and no error")
		}
		var whole []protocol.Record
		for _, rec := range recs {
			if rec.Faults == nil {
				whole = append(whole, rec)
			}
			rec.Review()
			if test, err := rec.Test(); err == nil && test.Check() != nil {
				t.Fatalf("test %v: %v", test, test.Check())
			}
		}
		var out bytes.Buffer
		if err := protocol.WriteSheet(&out, whole); err != nil {
			t.Fatalf("what was read cannot be written: %v", err)
		}
		if len(whole) > 0 {
			back, err := protocol.ReadSheet(&out)
			if d := cmp.Diff(whole, back, comparePools()); d != "" || err != nil {
				t.Fatalf("read back: %v (-want +got):\n%s", err, d)
			}
		}
		rows := func(recs []protocol.Record) (n int) {
			for _, r := range recs {
				n += len(r.Repeats)
			}
			return n
		}
		var scanned []protocol.Record
		for rec := range protocol.ScanSheet(bytes.NewReader(sheet)) {
			scanned = append(scanned, rec)
		}
		// A test that is read in parts contradicts itself no more than as a whole,
		// but where two spellings of a name are in two pools, which only the whole
		// sheet puts together: every row that it has more is a fault in parts.
		lost := 0
		for _, rec := range scanned {
			n, _ := rec.Lost()
			lost += n
			if len(rec.Faults) > 100 {
				return // counted no further
			}
		}
		if a, b := rows(recs), rows(scanned); a > b && (lost < a-b || !respelt(recs)) {
			t.Fatalf("%d repeats in all, %d test by test, %d rows lost there", a, b, lost)
		}
	})
}

// respelt reports whether a name has two spellings, with rows of one in the test of
// the other.
func respelt(recs []protocol.Record) bool {
	for _, rec := range recs {
		for _, f := range rec.Faults {
			if f.Column == "swimmer" && strings.Contains(f.Want, "one spelling of a name") {
				return true
			}
		}
	}
	return false
}

// Any numbers: a plan or an error that names a field; what can be told of it, or
// an error; never NaN.
func FuzzPlan(f *testing.F) {
	f.Add(6, 400.0, 350.0, 300.0, 0.0, 70.0, 0.0, 0.2, 0.03)
	f.Add(4, 200.0, 0.0, 140.0, 2.5, 0.0, 300.0, 1e-300, 0.0)
	f.Add(12, 33.3, math.NaN(), math.Inf(1), -1.0, 1e300, math.Copysign(0, -1), 5e-324, 1e300)
	f.Add(3, 1e9, 1e-9, 1e9, 60.0, 3600.0, 18000.0, math.Inf(1), -1.0)
	f.Fuzz(func(t *testing.T, repeats int, distance, first, last, drop, rest, sendOff, noise, relative float64) {
		span := func(s float64) time.Duration { return time.Duration(s * 1e9) }
		q := protocol.Request{
			Pool: pace.SCM(), Repeats: repeats, Distance: pace.Length(distance), Best: span(last), Drop: span(drop),
			Rest: span(rest), SendOff: span(sendOff),
		}
		if first != 0 {
			q.Start = pace.Pace{Time: span(first), Per: pace.Length(distance)}
		}
		p, err := protocol.NewPlan(q)
		if err != nil {
			return
		}
		for i, r := range p.Repeats {
			if r.Time <= 0 || r.Leave < 0 || i > 0 && r.Time > p.Repeats[i-1].Time {
				t.Fatalf("repeats %+v", p.Repeats)
			}
		}
		p.Review(protocol.Known{Best: span(last), Threshold: pace.Speed(first)})
		o := lactate.Options{Noise: lactate.Noise{Absolute: noise, Relative: relative}}
		out, err := p.Outlook(forecast.Expected{}, o)
		shift := err == nil && (out.Shift.Detectable > 0 && out.Shift.BetweenDays > 0 || out.Shift == (forecast.Shift{}))
		if err == nil && !(out.LT1.Width() > 0 && out.LT2.Width() > 0 && shift) {
			t.Fatalf("%+v of %+v", out, p)
		}
		b, err := p.Better(forecast.NarrowLT2, forecast.Expected{}, o, forecast.Rules{})
		if err == nil && !(b.LT2 <= 1 && b.LT1 <= 1+1e-9 && b.Shift <= 1+1e-9) {
			t.Fatalf("%+v of %+v", b, p)
		}
	})
}
