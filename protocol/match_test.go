package protocol_test

import (
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

func TestMatch(t *testing.T) {
	p := planned(t, protocol.Request{Swimmer: "Ada", Pool: pace.SCM(), Repeats: 3, Best: 300 * time.Second, Drop: 2500 * time.Millisecond})
	rec := protocol.Record{Swimmer: "Ada", Pool: pace.SCM(), Repeats: []protocol.Repeat{
		{Number: 1, Distance: 400, Time: 322 * time.Second},
		{Number: 3, Distance: 400, Time: 299 * time.Second},
		{Number: 4, Distance: 400, Time: 298 * time.Second},
	}}
	devs, err := p.Match(rec)
	if err != nil {
		t.Fatal(err)
	}
	want := []protocol.Deviation{
		{Number: 1, Target: 320 * time.Second, Time: 322 * time.Second, Late: 2 * time.Second, Percent: 100 * (320./322 - 1)},
		{Number: 2, Target: 310 * time.Second, Missing: true},
		{Number: 3, Target: 300 * time.Second, Time: 299 * time.Second, Late: -time.Second, Percent: 100 * (300./299 - 1)},
		{Number: 4, Time: 298 * time.Second, Extra: true},
	}
	if d := cmp.Diff(want, devs, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-12 })); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	for _, tt := range []struct {
		name  string
		spoil func(*protocol.Record)
		says  string
	}{
		{"another swimmer", func(r *protocol.Record) { r.Swimmer = "Ben" }, `"Ben"`},
		{"another pool", func(r *protocol.Record) { r.Pool = pace.LCM() }, "50 m pool"},
		{"another distance", func(r *protocol.Record) { r.Repeats[0].Distance = 200 }, "repeat 1 over 200 m"},
	} {
		r := rec
		r.Repeats = slices.Clone(rec.Repeats)
		tt.spoil(&r)
		if _, err := p.Match(r); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

// How late each repeat was, and what that did to the brackets. Evidence: D, by hand.
func TestSwum(t *testing.T) {
	p := sixOf400(t)
	rec := p.Record()
	for i, s := range []float64{350, 341.2, 326.8, 319.5, 310, 301} {
		rec.Repeats[i].Time = time.Duration(s * 1e9)
		rec.Repeats[i].Lactate = []float64{1.1, 1.3, 1.8, 2.9, 4.9, 9.0}[i]
	}
	test, err := rec.Test()
	if err != nil {
		t.Fatal(err)
	}
	a := analysed(t, test, lactate.Options{})
	got, err := p.Swum(rec, a)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(got.String()), " ")
	for _, want := range []string{"5:41.2", "+1.2", "−0.4", "3.6", "LT1 lies between repeats 2 and 3, 3.6 s per 100 m apart, where 2.5 were planned: it is bracketed more coarsely.", "LT2 lies between repeats 3 and 4, 1.8 s per 100 m apart, where 2.5 were planned: it is bracketed more finely."} {
		if !strings.Contains(text, want) {
			t.Errorf("found\n%s\nwant %q", text, want)
		}
	}
	lost := rec
	lost.Repeats = slices.Clone(rec.Repeats)
	lost.Repeats[2].Lactate = 0
	if got, err = p.Swum(lost, a); err != nil || !strings.Contains(strings.Join(strings.Fields(got.String()), " "), "LT1 lies between repeats 2 and 4, 5.4 s per 100 m apart, where 2.5 were planned") {
		t.Errorf("%v, %v", got, err)
	}
	rec.Repeats[2].Time = 0 // lost: the bracket is that of its neighbours
	if got, err = p.Swum(rec, a); err != nil || !strings.Contains(got.String(), "not swum") || !strings.Contains(strings.Join(strings.Fields(got.String()), " "), "between repeats 2 and 4, 5.4 s per 100 m apart") {
		t.Errorf("%v, %v", got, err)
	}
	if got, err = p.Swum(rec, nil); err != nil || got.Notes != nil {
		t.Errorf("%v, %v", got, err)
	}
	rec.Pool = pace.SCY()
	if _, err = p.Swum(rec, a); err == nil {
		t.Error("another pool")
	}
}
