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

// fataler is a test, of the standard library or of rapid.
type fataler interface {
	Helper()
	Fatal(...any)
}

func planned(t fataler, q protocol.Request) protocol.Plan {
	t.Helper()
	p, err := protocol.NewPlan(q)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func analysed(t fataler, test lactate.Test, o lactate.Options) *lactate.Analysis {
	t.Helper()
	a, err := lactate.Analyze(test, o)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

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
	p := planned(t, protocol.Request{Pool: pace.SCY(), Repeats: 6, Start: pace.Must(pace.ParsePace("1:26.5/100 yd")), Drop: 2500 * time.Millisecond, Date: day})
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
	p := planned(t, protocol.Request{
		Pool: pace.LCM(), Distance: 200, Round: 10 * time.Millisecond,
		Speeds: []pace.Speed{1.19, 1.24, 1.28, 1.33, 1.39, 1.45, 0},
	})
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
	p := planned(t, protocol.Request{Pool: pace.SCM(), Distance: 300, Round: time.Millisecond, Speeds: speeds})
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

// A test between the ends of the last one. Evidence: D, 400 m at 1.1 m/s take
// 363.636 s, at 1.6 m/s 250 s.
func TestFromLast(t *testing.T) {
	var test lactate.Test
	for _, v := range []float64{1.1, 1.2, 1.3, 1.4, 1.5, 1.6} {
		test.Stages = append(test.Stages, lactate.Stage{Intensity: v, Lactate: 0.9 + 0.0004*math.Exp(6*v)})
	}
	a := analysed(t, test, lactate.Options{})
	q := protocol.Request{Pool: pace.LCM(), Repeats: 3, Threshold: pace.Must(pace.ParsePace("2:00/100 m")), Drop: time.Second}.FromLast(a)
	p := planned(t, q)
	if got := fmt.Sprint(seconds(p)); got != "[364 307 250]" {
		t.Errorf("plan %v", got)
	}
	a.Unit, a.Lowest, a.Highest = lactate.KilometresPerHour, 3.6*a.Lowest, 3.6*a.Highest
	if km := q.FromLast(a); !(math.Abs((km.Start.Time - q.Start.Time).Seconds()) <= 1e-8) || !(math.Abs((km.Best - q.Best).Seconds()) <= 1e-8) {
		t.Errorf("in km/h %+v, want %+v", km, q)
	}
}
