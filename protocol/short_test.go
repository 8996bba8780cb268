package protocol_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// fifties are three repeats of 50 m, each under a minute, and as they were swum.
func fifties() (protocol.Plan, protocol.Record) {
	p := protocol.Plan{Swimmer: "Ada", Date: time.Date(2025, 3, 8, 0, 0, 0, 0, time.UTC), Pool: pace.SCM(), WarmUp: 400, After: []time.Duration{time.Minute}, Repeats: []protocol.Target{
		{Number: 1, Distance: 50, Time: 45 * time.Second},
		{Number: 2, Distance: 50, Time: 42500 * time.Millisecond, Leave: 2 * time.Minute},
		{Number: 3, Distance: 50, Time: 40 * time.Second, Leave: 4 * time.Minute, AllOut: true},
	}}
	r := p.Record()
	for i, s := range []float64{46, 42.5, 39.94} {
		r.Repeats[i].Time, r.Repeats[i].Lactate = time.Duration(s*1e9), []float64{2, 3, 0}[i]
	}
	r.Recovery[0].Lactate = 9
	return p, r
}

// Evidence D, by hand: 45 s for 50 m are 1:30.0 per 100 m and 0:22.5 per length.
func TestShortRepeats(t *testing.T) {
	p, r := fifties()
	var text strings.Builder
	if err := p.WriteText(&text); err != nil {
		t.Fatal(err)
	}
	page, _, _ := strings.Cut(text.String(), "\nCautions")
	all, err := p.Swum(r, &lactate.Analysis{LT1: lactate.Threshold{Intensity: lactate.Estimate{Value: 1.15}}, LT2: lactate.Threshold{Intensity: lactate.Estimate{Value: 1.2}}})
	if err != nil {
		t.Fatal(err)
	}
	ben := p
	ben.Swimmer = "Ben"
	list, err := protocol.LeaveList([]protocol.Plan{p, ben}, 30*time.Second)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ got, want string }{
		{page, `Step test of Ada, Saturday 8 March 2025
Pool 25 m; warm-up 400 m easy; push start, even pace

Resting lactate ______ mmol/L

no  distance   leave   target    100 m   length      time lactate      HR
 1      50 m    0:00     0:45   1:30.0   0:22.5  ________ _______ _______
 2      50 m    2:00   0:42.5   1:25.0   0:21.3  ________ _______ _______
 3      50 m    4:00    ~0:40   1:20.0   0:20.0  ________ _______ _______

The last repeat is swum all out: ~ is what is expected, not a limit.
Samples after it, min:  1 ______
4 blood samples; 150 m swum without the warm-up; 5:40 in all, without it.
`},
		{p.Table().String(), `  repeat  distance  leave at  target  per 100 m  per length
       1      50 m      0:00    0:45     1:30.0      0:22.5
       2      50 m      2:00  0:42.5     1:25.0      0:21.3
       3      50 m      4:00   ~0:40     1:20.0      0:20.0
  ~ all out: what is expected, not a limit.
`},
		{all.String(), `Target and swum
  repeat  target    swum  late by, s  speed, %  step, s per 100 m  planned
       1    0:45    0:46        +1.0      −2.2
       2  0:42.5  0:42.5         0.0       0.0                7.0      5.0
       3    0:40  0:39.9        −0.1      +0.2                5.1      5.0
  LT1 lies between repeats 1 and 2, 7.0 s per 100 m apart, where 5.0 were planned: it is bracketed
  more coarsely.
  LT2 lies between repeats 2 and 3, 5.1 s per 100 m apart, where 5.0 were planned: it is bracketed
  more coarsely.
`},
		{list.String(), `Who leaves when
  leave at  swimmer  repeat  target  back at
      0:00  Ada           1    0:45     0:45
      0:30  Ben           1    0:45     1:15
      2:00  Ada           2  0:42.5     2:43
      2:30  Ben           2  0:42.5     3:13
      4:00  Ada           3   ~0:40     4:40
      4:30  Ben           3   ~0:40     5:10
  Back within 45 s of each other, too close for one sampler: Ada and Ben at 1:15; Ada and Ben at
  3:13; Ada and Ben at 5:10.
`},
	} {
		if c.got != c.want {
			t.Errorf("found\n%s\nwant\n%s", c.got, c.want)
		}
	}
	p.Repeats[2].Time, p.After, p.WarmUp = 0, nil, 0
	text.Reset()
	if err := p.WriteText(&text); err != nil || strings.Contains(text.String(), "warm-up 0") || strings.Contains(text.String(), "Samples after") || strings.Contains(text.String(), "not a limit") ||
		!strings.Contains(text.String(), " all out ") || !strings.Contains(text.String(), "\n4 blood samples") {
		t.Errorf("%v\n%s", err, text.String())
	}
	if got := p.Table(); got.Rows[2][3] != "all out" || got.Notes != nil {
		t.Errorf("%v, %v", got.Rows[2], got.Notes)
	}
	// Too few or too slow: no bracket, or one that was not planned.
	at := func(v float64) string {
		tab, err := p.Swum(r, &lactate.Analysis{LT1: lactate.Threshold{Intensity: lactate.Estimate{Value: v}}, LT2: lactate.Threshold{Err: lactate.ErrShape}})
		return fmt.Sprint(tab.Notes, err)
	}
	if got := at(1.0); got != "[] <nil>" {
		t.Errorf("below all: %s", got)
	}
	if got := at(1.2); got != "[LT1 lies between repeats 2 and 3, 5.1 s per 100 m apart.] <nil>" {
		t.Errorf("without a target: %s", got)
	}
	if test, err := r.Test(); err != nil || test.Stages[2].Lactate != 9 {
		t.Errorf("%+v, %v", test, err)
	}
	r.Recovery[0].Lactate = 0
	if got := at(1.2); got != "[] <nil>" {
		t.Errorf("without a sample: %s", got)
	}
	r.Repeats[1].Time = 0 // a row, and not swum
	if d, err := p.Match(r); err != nil || !d[1].Missing || d[0].Missing || d[0].Late != time.Second {
		t.Errorf("%+v, %v", d, err)
	}
	r.Repeats[1].Time, r.Repeats[1].Lactate, r.Repeats[2].Lactate = 42500*time.Millisecond, 30, 6
	if got := fmt.Sprint(r.Review()); !strings.Contains(got, "repeat 2: 30.0 mmol/L is out of line: the samples beside it lead to about 4.0; was 3.0 meant?") {
		t.Error(got)
	}
	r.Repeats = append(r.Repeats, protocol.Repeat{Number: 4, Distance: 50, Time: 39 * time.Second})
	if d, err := p.Match(r); err != nil || len(d) != 4 || !d[3].Extra {
		t.Errorf("%+v, %v", d, err)
	}
	q := protocol.Request{Pool: pace.SCM(), Distance: 50, SendOff: 55 * time.Second, Round: 1e8, Weeks: 1, Date: p.Date, Speeds: []pace.Speed{0.95, 1, 1.25}}
	if p, err := protocol.NewPlan(q); err != nil || fmt.Sprint(seconds(p)) != "[52.6 50 40]" || p.Repeats[2].Leave != 110*time.Second || p.Next.Sub(p.Date) != 7*24*time.Hour {
		t.Errorf("%+v, %v", p, err)
	}
}
