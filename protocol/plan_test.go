package protocol_test

import (
	"bytes"
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
	"example.com/steptest/protocol/sheet"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

func seconds(p protocol.Plan) []float64 {
	var out []float64
	for _, t := range p.Repeats {
		out = append(out, t.Time.Seconds())
	}
	return out
}

// Six 400s with a drop of 2.5 s per 100 fall by 10 s each; a rest of 70 s; the
// next test after six weeks. Evidence: common practice, no source.
func TestPlanCommonPractice(t *testing.T) {
	day := time.Date(2025, 3, 8, 0, 0, 0, 0, time.UTC)
	p, err := protocol.NewPlan(protocol.Request{Pool: pace.SCY(), Repeats: 6, Start: pace.Must(pace.ParsePace("1:26.5/100 yd")), Drop: 2500 * time.Millisecond, Date: day})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]float64{346, 336, 326, 316, 306, 296}, seconds(p)); d != "" {
		t.Errorf("targets (-want +got):\n%s", d)
	}
	if d := cmp.Diff(slices.Repeat([]time.Duration{70 * time.Second}, 5), p.Rest()); d != "" {
		t.Errorf("rests (-want +got):\n%s", d)
	}
	if want := time.Date(2025, 4, 19, 0, 0, 0, 0, time.UTC); !p.Next.Equal(want) {
		t.Errorf("next test %v, want %v", p.Next, want)
	}
	if last := p.Repeats[5]; !last.AllOut || last.Leave != 33*time.Minute {
		t.Errorf("last repeat %+v", last)
	}
	if got := p.Repeats[0].Split(100 * pace.Yard); got != 86500*time.Millisecond {
		t.Errorf("split per 100 %v", got)
	}
	if got := p.Repeats[0].Split(25 * pace.Yard); got != 21625*time.Millisecond {
		t.Errorf("split per length %v", got)
	}
	if !(math.Abs(p.WarmUp.Yards()-800) <= 1e-9) || !slices.Equal(p.After, []time.Duration{time.Minute, 3 * time.Minute, 5 * time.Minute, 7 * time.Minute}) {
		t.Errorf("warm-up %v, samples after %v", p.WarmUp, p.After)
	}
	if got := (protocol.Target{Distance: 300, Time: 100 * time.Second}).Split(100); got != 33333333333 {
		t.Errorf("a third of 100 s: %v", got)
	}
	if p.Samples() != 10 || p.Duration() != 44*time.Minute+56*time.Second || !(math.Abs(p.Distance().Yards()-2400) <= 1e-9) {
		t.Errorf("%d samples, %v, %v", p.Samples(), p.Duration(), p.Distance())
	}
}

// The fixed speeds of Turner, Smith & Coleman (2008), IJSPP 3:68-70, seen in a
// secondary source, over 200 m, and a last one all out. The times follow from
// them by division. Evidence: A for the speeds, D for the times.
func TestPlanTurner2008(t *testing.T) {
	p, err := protocol.NewPlan(protocol.Request{
		Pool: pace.LCM(), Distance: 200, Round: 10 * time.Millisecond,
		Speeds: []pace.Speed{1.19, 1.24, 1.28, 1.33, 1.39, 1.45, 0},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []float64{168.07, 161.29, 156.25, 150.38, 143.88, 137.93, 0}
	for i, got := range seconds(p) {
		if !(math.Abs(got-want[i]) <= 0.005) {
			t.Errorf("repeat %d: %v s, want %v", i+1, got, want[i])
		}
	}
	last := p.Repeats[6]
	if v, err := last.Speed(); !last.AllOut || v != 0 || !errors.Is(err, pace.ErrValue) {
		t.Errorf("last repeat %+v", last)
	}
}

// Martin & Whyte (2000), Int J Sports Med, doi:10.1055/s-2000-3786, abstract:
// 5 × 300 m at −10, −5, 0, +5 and +10 % of 1500 m pace. For 1.20 m/s, read as
// per cents of the speed, that is 1.08, 1.14, 1.20, 1.26 and 1.32 m/s.
// Evidence: A for the percentages, D for the times.
func TestPlanMartinWhyte2000(t *testing.T) {
	var speeds []pace.Speed
	for _, percent := range []pace.Speed{-10, -5, 0, 5, 10} {
		speeds = append(speeds, 1.20*(1+percent/100))
	}
	p, err := protocol.NewPlan(protocol.Request{Pool: pace.SCM(), Distance: 300, Round: time.Millisecond, Speeds: speeds})
	if err != nil {
		t.Fatal(err)
	}
	want := []float64{300 / 1.08, 300 / 1.14, 250, 300 / 1.26, 300 / 1.32}
	for i, got := range seconds(p) {
		if !(math.Abs(got-want[i]) <= 0.0005) {
			t.Errorf("repeat %d: %v s, want %v", i+1, got, want[i])
		}
	}
}

// What follows from what is known. Evidence: D, by hand.
func TestPlanEnds(t *testing.T) {
	pace400 := func(s float64) pace.Pace {
		return pace.Pace{Time: time.Duration(s / 4 * 1e9), Per: 100 * pace.Metre}
	}
	tests := []struct {
		name string
		q    protocol.Request
		want []float64
	}{
		// the first at 0.82 of the speed of the last
		{"best", protocol.Request{Repeats: 4, Best: 328 * time.Second}, []float64{400, 376, 352, 328}},
		{"best and drop", protocol.Request{Repeats: 3, Best: 300 * time.Second, Drop: 2500 * time.Millisecond}, []float64{320, 310, 300}},
		{"start", protocol.Request{Repeats: 4, Start: pace400(400)}, []float64{400, 376, 352, 328}},
		{"start and drop", protocol.Request{Repeats: 3, Start: pace400(340), Drop: 5 * time.Second}, []float64{340, 320, 300}},
		{"start and best", protocol.Request{Repeats: 5, Start: pace400(348), Best: 300 * time.Second}, []float64{348, 336, 324, 312, 300}},
		// seven tenths up from 400 to 328 lies 349.6, from 340 to 300 lies 312
		{"threshold", protocol.Request{Repeats: 4, Threshold: pace400(349.6)}, []float64{400, 376, 352, 328}},
		{"threshold and best", protocol.Request{Repeats: 4, Threshold: pace400(349.6), Best: 328 * time.Second}, []float64{400, 376, 352, 328}},
		{"threshold and start", protocol.Request{Repeats: 4, Threshold: pace400(349.6), Start: pace400(400)}, []float64{400, 376, 352, 328}},
		{"threshold and drop", protocol.Request{Repeats: 5, Threshold: pace400(312), Drop: 2500 * time.Millisecond}, []float64{340, 330, 320, 310, 300}},
		{"start in yards", protocol.Request{Repeats: 2, Start: pace.Must(pace.ParsePace("1:13.152/100 yd")), Drop: 5 * time.Second}, []float64{320, 300}},
		{"another distance", protocol.Request{Repeats: 3, Distance: 200, Best: 140 * time.Second}, []float64{171, 155, 140}},
		{"rounded to a tenth", protocol.Request{Repeats: 3, Start: pace400(335.5), Best: 300 * time.Second, Round: 100 * time.Millisecond}, []float64{335.5, 317.8, 300}},
	}
	for _, tt := range tests {
		tt.q.Pool = pace.SCM()
		p, err := protocol.NewPlan(tt.q)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if got := seconds(p); !slices.EqualFunc(got, tt.want, func(a, b float64) bool { return math.Abs(a-b) <= 1e-6 }) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// Requests that make no plan say which field is wrong, and all at once.
func TestPlanBadRequests(t *testing.T) {
	good := protocol.Request{Pool: pace.SCM(), Repeats: 6, Best: 300 * time.Second}
	tests := []struct {
		name  string
		spoil func(*protocol.Request)
		field string
		says  string
	}{
		{"zero repeats", func(q *protocol.Request) { q.Repeats = 0 }, "Repeats", "found 0, want 2 to 99"},
		{"no pool", func(q *protocol.Request) { q.Pool = pace.Pool{} }, "Pool", "no pool"},
		{"nothing known", func(q *protocol.Request) { q.Best = 0 }, "Start", "at least one"},
		{"no whole lengths", func(q *protocol.Request) { q.Distance = 410; q.Best = 310 * time.Second }, "Distance", "whole number of lengths"},
		{"negative distance", func(q *protocol.Request) { q.Distance = -400 }, "Distance", "positive"},
		{"120 km", func(q *protocol.Request) { q.Distance, q.Best = 120_000, 100_000*time.Second }, "Distance", "no more than 100 km"},
		{"negative rest", func(q *protocol.Request) { q.Rest = -1250 * time.Millisecond }, "Rest", "found -0:01.25, want 0:00 to 1:00:00"},
		{"rounded to nothing", func(q *protocol.Request) { q.Round = 500 * time.Microsecond }, "Round", "found 0:00.0005, want 0:00.001 to 1:00"},
		{"a send-off of 6 h", func(q *protocol.Request) { q.SendOff = 6 * time.Hour }, "SendOff", "want 0:00 to 5:00:00"},
		{"rest and send-off", func(q *protocol.Request) { q.Rest, q.SendOff = 30*time.Second, 420500*time.Millisecond }, "SendOff", "found 7:00.5, want either a rest or a send-off, not both"},
		{"send-off too short", func(q *protocol.Request) { q.Repeats, q.SendOff, q.Round = 2, 345500*time.Millisecond, 1e8 }, "SendOff", "found 5:45.5, want no less than the time of repeat 1, 6:05.9"},
		{"last slower than first", func(q *protocol.Request) { q.Start = pace.Must(pace.ParsePace("1:10/100 m")) }, "Start, Best", "faster than the first"},
		{"drop determined twice", func(q *protocol.Request) { q.Start, q.Drop = pace.Must(pace.ParsePace("1:30/100 m")), time.Second }, "Drop", "zero, since"},
		{"drop too large", func(q *protocol.Request) {
			q.Start, q.Best, q.Drop = pace.Must(pace.ParsePace("1:30/100 m")), 0, 20*time.Second
		}, "Start, Best, Drop", "0.2 to 3 m/s"},
		{"negative drop", func(q *protocol.Request) { q.Drop = -time.Second }, "Drop", "0:00 to 1:00"},
		{"swum by a motor boat", func(q *protocol.Request) { q.Best = 60500 * time.Millisecond }, "Best", "found 1:00.5, want a time for 400 m at 0.2 to 3 m/s"},
		{"start without a length", func(q *protocol.Request) { q.Start = pace.Pace{Time: 59500 * time.Millisecond} }, "Start", "found 0:59.5 per 0 m, want a pace of 0.2 to 3 m/s"},
		{"samples out of order", func(q *protocol.Request) { q.After = []time.Duration{3e11, 1005e8} }, "After", "found 1:40.5, want times above zero and up to two hours, each later than the last"},
		{"a date with an hour", func(q *protocol.Request) { q.Date = time.Date(2025, 3, 4, 5, 0, 0, 0, time.UTC) }, "Date", "midnight UTC"},
		{"weeks", func(q *protocol.Request) { q.Weeks = 105 }, "Weeks", "1 to 104"},
		{"speeds and best", func(q *protocol.Request) { q.Speeds = []pace.Speed{1, 1.1} }, "Speeds", "either"},
		{"speeds that fall", func(q *protocol.Request) { q.Best, q.Repeats, q.Speeds = 0, 0, []pace.Speed{1.2, 1.1} }, "Speeds", "found 1.1 m/s for repeat 2, want more than repeat 1, 1.2 m/s"},
		{"speed NaN", func(q *protocol.Request) {
			q.Best, q.Repeats, q.Speeds = 0, 0, []pace.Speed{1.2, pace.Speed(math.NaN())}
		}, "Speeds", "found NaN m/s for repeat 2"},
		{"number of speeds", func(q *protocol.Request) { q.Best, q.Speeds = 0, []pace.Speed{1.1, 1.2} }, "Repeats", "the number of Speeds, 2"},
		{"name", func(q *protocol.Request) { q.Swimmer = "A\x00" }, "Swimmer", "control characters"},
	}
	for _, tt := range tests {
		q := good
		tt.spoil(&q)
		_, err := protocol.NewPlan(q)
		var bad *protocol.RequestError
		if !errors.As(err, &bad) || bad.Field != tt.field || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want field %s and %q", tt.name, err, tt.field, tt.says)
		}
	}
	_, err := protocol.NewPlan(protocol.Request{Repeats: -1, Rest: -1, Weeks: -1})
	if n := len(strings.Split(err.Error(), "\n")); n != 5 { // pool, repeats, rest, weeks, nothing known
		t.Errorf("%d faults: %v", n, err)
	}
}

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
	p, err := protocol.NewPlan(q)
	if err != nil {
		t.Fatal(err)
	}
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

func TestMatch(t *testing.T) {
	p, err := protocol.NewPlan(protocol.Request{Swimmer: "Ada", Pool: pace.SCM(), Repeats: 3, Best: 300 * time.Second, Drop: 2500 * time.Millisecond})
	if err != nil {
		t.Fatal(err)
	}
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

// Evidence: D, a calendar.
func TestSchedule(t *testing.T) {
	day := func(s string) time.Time {
		d, err := time.Parse("2006-01-02", s)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	// 2025-04-19 is in the week of Monday 14 April; so is the 15th. The week
	// after is avoided too, so that the test moves by two.
	got, err := protocol.Schedule(day("2025-03-08"), 6, 3, day("2025-04-15"), day("2025-04-27"), day("2025-12-25"))
	want := []time.Time{day("2025-05-03"), day("2025-06-14"), day("2025-07-26")}
	if d := cmp.Diff(want, got); d != "" || err != nil {
		t.Errorf("%v (-want +got):\n%s", err, d)
	}
	if got, err := protocol.Schedule(day("2025-03-08"), 1, 1); err != nil || len(got) != 1 || !got[0].Equal(day("2025-03-15")) {
		t.Errorf("%v, %v", got, err)
	}
	if got, err := protocol.Schedule(day("2025-03-08"), 6, 0); err != nil || len(got) != 0 {
		t.Errorf("%v, %v", got, err)
	}
	for _, bad := range []func() ([]time.Time, error){
		func() ([]time.Time, error) { return protocol.Schedule(time.Time{}, 6, 3) },
		func() ([]time.Time, error) { return protocol.Schedule(day("2025-03-08"), 0, 3) },
		func() ([]time.Time, error) { return protocol.Schedule(day("2025-03-08"), 6, -1) },
		func() ([]time.Time, error) { return protocol.Schedule(day("2025-03-08"), 105, 3) },
		func() ([]time.Time, error) { return protocol.Schedule(day("2025-03-08"), 6, 1001) },
	} {
		if d, err := bad(); err == nil || !strings.Contains(err.Error(), "found") {
			t.Errorf("%v, error %v", d, err)
		}
	}
}

// A test between the ends of the last one. Evidence: D, 400 m at 1.1 m/s take
// 363.636 s, at 1.6 m/s 250 s.
func TestFromLast(t *testing.T) {
	var test lactate.Test
	for _, v := range []float64{1.1, 1.2, 1.3, 1.4, 1.5, 1.6} {
		test.Stages = append(test.Stages, lactate.Stage{Intensity: v, Lactate: 0.9 + 0.0004*math.Exp(6*v)})
	}
	a, err := lactate.Analyze(test, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	q := protocol.Request{Pool: pace.LCM(), Repeats: 3, Threshold: pace.Must(pace.ParsePace("2:00/100 m")), Drop: time.Second}.FromLast(a)
	p, err := protocol.NewPlan(q)
	if err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(seconds(p)); got != "[364 307 250]" {
		t.Errorf("plan %v", got)
	}
	a.Unit, a.Lowest, a.Highest = lactate.KilometresPerHour, 3.6*a.Lowest, 3.6*a.Highest
	if km := q.FromLast(a); !(math.Abs((km.Start.Time - q.Start.Time).Seconds()) <= 1e-8) || !(math.Abs((km.Best - q.Best).Seconds()) <= 1e-8) {
		t.Errorf("in km/h %+v, want %+v", km, q)
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
	a, err := lactate.Analyze(test, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
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
