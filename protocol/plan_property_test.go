package protocol_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// drawPlan draws a plan that can be made.
func drawPlan(t *rapid.T) protocol.Plan {
	pool := rapid.SampledFrom([]pace.Pool{pace.SCY(), pace.SCM(), pace.LCM(), pace.Must(pace.ParsePool("33 1/3 m"))}).Draw(t, "pool")
	q := protocol.Request{
		Swimmer: "Ada", Date: time.Date(2025, 1, rapid.IntRange(1, 300).Draw(t, "day"), 0, 0, 0, 0, time.UTC),
		Pool: pool, Repeats: rapid.IntRange(2, 9).Draw(t, "repeats"),
		Distance: pool.Distance(rapid.IntRange(4, 24).Draw(t, "lengths")),
		Drop:     time.Duration(rapid.IntRange(100, 4000).Draw(t, "drop")) * time.Millisecond,
		Round:    rapid.SampledFrom([]time.Duration{0, time.Second, 100 * time.Millisecond, time.Millisecond, 5 * time.Second}).Draw(t, "round"),
	}
	q.Best = pace.Speed(rapid.Float64Range(0.9, 1.9).Draw(t, "best")).Time(q.Distance)
	if rapid.Bool().Draw(t, "send-off") {
		q.SendOff = 2*q.Best + 10*time.Minute
	} else {
		q.Rest = time.Duration(rapid.IntRange(0, 300).Draw(t, "rest")) * time.Second
	}
	if rapid.Bool().Draw(t, "no samples after") {
		q.After = []time.Duration{}
	}
	p := planned(t, q)
	return p
}

// comparePools lets cmp compare pools, whose fields are not exported, and takes
// nil slices for empty ones.
func comparePools() cmp.Options {
	return cmp.Options{cmpopts.EquateComparable(pace.Pool{}), cmpopts.EquateEmpty()}
}

// Leave times add up; no repeat is slower than the one before; the plan comes
// back from its sheet, and from its record; as planned is on time. Evidence: D.
func TestPropPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		leave := time.Duration(0)
		for i, r := range p.Rest() {
			leave += p.Repeats[i].Time + r
			if p.Repeats[i+1].Leave != leave {
				t.Fatalf("repeat %d leaves at %v, want %v", i+2, p.Repeats[i+1].Leave, leave)
			}
			if p.Repeats[i+1].Time > p.Repeats[i].Time || r < 0 {
				t.Fatalf("repeat %d in %v after %v, rest %v", i+2, p.Repeats[i+1].Time, p.Repeats[i].Time, r)
			}
		}
		if d := cmp.Diff(p, p.Record().Plan(), comparePools()); d != "" {
			t.Fatalf("plan of the record (-want +got):\n%s", d)
		}
		var b bytes.Buffer
		if err := sheet.WritePlan(&b, p); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		recs, err := sheet.Read(&b)
		if err != nil || len(recs) != 1 {
			t.Fatalf("%v from\n%s", err, text)
		}
		if d := cmp.Diff(p, recs[0].Plan(), comparePools()); d != "" {
			t.Fatalf("plan of the sheet (-want +got):\n%s", d)
		}
		for i := range recs[0].Repeats {
			recs[0].Repeats[i].Time = recs[0].Repeats[i].Target
		}
		devs, err := p.Match(recs[0])
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range devs {
			if d.Late != 0 || d.Percent != 0 || d.Missing || d.Extra {
				t.Fatalf("swum as planned: %+v", d)
			}
		}
		p.Review(protocol.Known{Threshold: 1.2, Best: 5 * time.Minute})
		if err := p.WriteText(&b); err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(b.String(), "\n") {
			if len([]rune(line)) > 90 {
				t.Fatalf("line of %d characters: %s", len([]rune(line)), line)
			}
		}
	})
}
