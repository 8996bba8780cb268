package protocol_test

import (
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// The review names what is out of the ordinary, and nothing else.
func TestPlanReview(t *testing.T) {
	day := protocol.Request{Pool: pace.SCM(), Repeats: 6, Best: 300 * time.Second, Start: pace.Pace{Time: 87500 * time.Millisecond, Per: 100}}
	dropped := func(q *protocol.Request, drop time.Duration) { q.Start, q.Drop = pace.Pace{}, drop }
	tests := []struct {
		name  string
		q     func(*protocol.Request)
		plan  func(*protocol.Plan)
		known protocol.Known
		says  []string // in the findings besides the total
	}{
		{"common practice", nil, nil, protocol.Known{Threshold: 1.25, Best: 300 * time.Second}, nil},
		{"five", func(q *protocol.Request) { q.Repeats = 5; dropped(q, 2500*time.Millisecond) }, nil, protocol.Known{}, nil},
		{"two", func(q *protocol.Request) { q.Repeats, q.Rest = 2, 20*time.Second }, nil, protocol.Known{}, []string{"2 repeats: five or more", "0.19 m/s faster", "20 s of rest"}},
		{"no last target", nil, func(p *protocol.Plan) { p.Repeats[5].Time = 0 }, protocol.Known{Threshold: 1.25, LT1: 1.18, Fastest: 1.34}, nil},
		{"no first target", nil, func(p *protocol.Plan) { p.Repeats[0].Time = 0 }, protocol.Known{Threshold: 1.25, HalfLife: time.Hour}, nil},
		{"a short first", nil, func(p *protocol.Plan) { p.Repeats[0].Distance = 200; p.Repeats[0].Time /= 2 }, protocol.Known{HalfLife: time.Hour}, []string{"repeat 1: lasts less than 3 min",
			"repeat 2: 400 m, where the first is 200 m", "repeat 3: 400 m", "repeat 4: 400 m", "repeat 5: 400 m", "repeat 6: 400 m"}},
		{"a shorter first", nil, func(p *protocol.Plan) { p.Repeats[0].Distance = 100; p.Repeats[0].Time /= 4 }, protocol.Known{HalfLife: time.Hour}, []string{"repeat 1: lasts less than 2 min",
			"repeat 2: 400 m", "repeat 3: 400 m", "repeat 4: 400 m", "repeat 5: 400 m", "repeat 6: 400 m"}},
		{"slow", func(q *protocol.Request) {
			q.Start, q.Best = pace.Pace{Time: 120 * time.Second, Per: 100}, 419*time.Second
		}, nil, protocol.Known{Threshold: 0.85, LT1: 0.84, Fastest: 0.99},
			[]string{"low in the tested range (14 %", "1 repeat below", "repeat 6: 1:44.8 per 100 is slower than the last test was swum, up to 1:41.0: the curve"}},
		{"few", func(q *protocol.Request) { q.Repeats = 4; dropped(q, 2500*time.Millisecond) }, nil, protocol.Known{}, []string{"4 repeats: five or more"}},
		{"short", func(q *protocol.Request) {
			dropped(q, 2500*time.Millisecond)
			q.Distance, q.Best = 200, 118*time.Second
		}, nil, protocol.Known{}, []string{"repeat 6: lasts less than 2 min"}},
		{"brief", func(q *protocol.Request) {
			dropped(q, 2500*time.Millisecond)
			q.Distance, q.Best = 200, 140*time.Second
		}, nil, protocol.Known{}, []string{"repeat 6: lasts less than 3 min"}},
		{"coarse", func(q *protocol.Request) { dropped(q, 6*time.Second) }, nil, protocol.Known{}, []string{"repeat 4: 0.07 m/s faster", "repeat 5: 0.09", "repeat 6: 0.10"}},
		{"fine", func(q *protocol.Request) { dropped(q, 100*time.Millisecond); q.Round = 100 * time.Millisecond }, nil, protocol.Known{}, []string{"repeat 2: only 0.4 s faster", "repeat 3", "repeat 4", "repeat 5", "repeat 6"}},
		{"level", func(q *protocol.Request) { dropped(q, 100*time.Millisecond) }, nil, protocol.Known{}, []string{"repeat 2: not faster than repeat 1", "repeat 4: not", "repeat 6: not"}},
		{"threshold too slow", nil, nil, protocol.Known{Threshold: 1.1}, []string{"outside the tested range"}},
		{"threshold too fast", nil, nil, protocol.Known{Threshold: 1.4}, []string{"outside the tested range"}},
		{"threshold low", nil, nil, protocol.Known{Threshold: 1.2065}, []string{"the expected threshold, 1:22.9 per 100, lies low in the tested range (33 % of the way up)"}},
		{"threshold lowest", nil, nil, protocol.Known{Threshold: 1.15}, []string{"low in the tested range (4 % of the way up)"}},
		{"threshold not low", nil, nil, protocol.Known{Threshold: 1.22}, nil},
		{"threshold high", nil, nil, protocol.Known{Threshold: 1.32}, []string{"high in the tested range (93 % of the way up)"}},
		{"not maximal", nil, func(p *protocol.Plan) { p.Repeats[5].AllOut = false }, protocol.Known{Best: 59900 * time.Millisecond}, []string{"not all out", "5:00 is slower than the recent best of 0:59.9"}},
		{"no time to sample", func(q *protocol.Request) { q.Rest = 20 * time.Second }, nil, protocol.Known{}, []string{"20 s of rest"}},
		{"hardly time to sample", func(q *protocol.Request) { q.Rest = 40 * time.Second }, nil, protocol.Known{}, []string{"repeat 1: 40 s of rest"}},
		{"a send-off that is short, then long", func(q *protocol.Request) {
			q.SendOff, q.Start = 6*time.Minute+30*time.Second, pace.Pace{Time: 95 * time.Second, Per: 100}
		}, nil, protocol.Known{HalfLife: 8 * time.Minute}, []string{"repeat 1: 10 s of rest", "repeat 5: 1:14 of rest: some 10 %"}},
		{"too long", func(q *protocol.Request) { q.Distance, q.Best = 800, 630*time.Second }, nil, protocol.Known{}, []string{"takes 1:19:20: more than an hour"}},
		{"one repeat below LT1", nil, nil, protocol.Known{LT1: 1.16}, []string{"1 repeat below the expected LT1, 1:26.2 per 100"}},
		{"two repeats below LT1", nil, nil, protocol.Known{LT1: 1.18}, nil},
		{"slower than was swum", nil, nil, protocol.Known{Fastest: 1.37}, []string{"repeat 6: 1:15.0 per 100 is slower than the last test was swum, up to 1:13.0"}},
		{"as fast as was swum", nil, nil, protocol.Known{Fastest: 1.34}, nil},
		{"long rest", func(q *protocol.Request) { q.SendOff = 9 * time.Minute }, nil, protocol.Known{}, []string{"repeat 5: 3:50 of rest: some 16 %"}},
		{"fast loss", nil, nil, protocol.Known{HalfLife: 50 * time.Second}, []string{"1:10 of rest: some 62 %"}},
		{"long rest, slow loss", func(q *protocol.Request) { q.SendOff = 9 * time.Minute }, nil, protocol.Known{HalfLife: time.Hour}, nil},
		{"distance", nil, func(p *protocol.Plan) { p.Repeats[5].Distance = 200; p.Repeats[5].Time /= 2 }, protocol.Known{}, []string{"repeat 6: lasts less than 3 min", "200 m, where the first is 400 m"}},
	}
	for _, tt := range tests {
		q := day
		if tt.q != nil {
			tt.q(&q)
		}
		p, err := protocol.NewPlan(q)
		if err != nil {
			t.Fatalf("%s: %v", tt.name, err)
		}
		if tt.plan != nil {
			tt.plan(&p)
		}
		var found []string
		for _, f := range p.Review(tt.known) {
			found = append(found, f.String())
		}
		all := strings.Join(found, "\n")
		for _, s := range tt.says {
			if !strings.Contains(all, s) {
				t.Errorf("%s: findings do not say %q:\n%s", tt.name, s, all)
			}
		}
		if want := len(tt.says) + 1; len(found) != want || !strings.Contains(all, "blood samples") || tt.name == "common practice" && !strings.Contains(all, "10 blood samples, 2400 m swum without the warm-up, 45:20 from the first start") {
			t.Errorf("%s: %d findings, want %d:\n%s", tt.name, len(found), want, all)
		}
	}
	if f := (protocol.Plan{}).Review(protocol.Known{}); len(f) != 1 || f[0].Text("") != "no repeats" {
		t.Errorf("an empty plan: %v", f)
	}
}
