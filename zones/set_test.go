package zones_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/zones"
)

const sec = time.Second

// applied is a scheme for a swimmer, without an error.
func applied(t interface{ Fatal(...any) }, s zones.Scheme, p zones.Profile) *zones.Table {
	table, err := s.Apply(p)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

func three(t *testing.T) *zones.Table { return applied(t, zones.ThreeZone(), swimmer()) }

// Evidence D. 200 m at 1.10 and 1.20 m/s take 181.8 and 166.7 s; with 15 s of
// rest 196.8, up to five seconds 3:20.
func TestPlan(t *testing.T) {
	p, err := three(t).Workout(zones.Set{Zone: "2", Repeats: 6, Distance: 200, Rest: 15 * sec}, pace.SCM())
	if err != nil {
		t.Fatal(err)
	}
	if !within(p.Slow.Seconds(), 200/1.10, 1e-8) || !within(p.Fast.Seconds(), 200/1.20, 1e-8) || p.Slowest != p.Slow {
		t.Errorf("targets %v to %v", p.Slow, p.Fast)
	}
	if p.SendOff != 200*sec || !within(p.Rest.Seconds(), 200-200/1.10, 1e-8) || !within(p.RestFast.Seconds(), 200-200/1.20, 1e-8) {
		t.Errorf("send-off %v, rest %v to %v", p.SendOff, p.Rest, p.RestFast)
	}
	if p.Distance != 1200 || p.Time != 1200*sec {
		t.Errorf("%v in %v, want 1200 m in 20:00", p.Distance, p.Time)
	}
	if got, want := p.String(), "6 × 200 m on 3:20, zone 2 (LT1–LT2): 3:01.8–2:46.7, rest 18–33 s; 1200 m in 20:00"; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}

	// a send-off of the coach's own: 100 m at 1.10 m/s leaves 90 − 90.9 s
	if _, err := three(t).Workout(zones.Set{Zone: "2", Repeats: 6, Distance: 100, SendOff: 90 * sec}, pace.SCM()); !errors.Is(err, zones.ErrValue) || !strings.Contains(err.Error(), "takes up to 1:30.9") {
		t.Errorf("send-off of 1:30: %v, want ErrValue", err)
	}
	p, err = three(t).Workout(zones.Set{Zone: "2", Repeats: 6, Distance: 100, SendOff: 92 * sec}, pace.SCM())
	if err != nil || p.SendOff != 92*sec || !within(p.Rest.Seconds(), 92-100/1.10, 1e-8) {
		t.Errorf("send-off of 1:32: %+v, %v", p, err)
	}
	// and rest of the coach's own: 92.25 − 90.9 s is less than 5.25 s
	if _, err := three(t).Workout(zones.Set{Zone: "2", Repeats: 6, Distance: 100, SendOff: 92.25e9, Rest: 5.25e9}, pace.SCM()); !errors.Is(err, zones.ErrValue) || !strings.Contains(err.Error(), "found 1:32.25, want 1:36.2 or more: 100 m takes up to 1:30.9 in zone 2, and 0:05.25 of rest follow") {
		t.Errorf("send-off of 1:32.25 with a rest of 5.25 s: %v, want ErrValue", err)
	}
	// open ends: 0.9 of LT1 for easy swims; no fast target above LT2
	p, err = three(t).Workout(zones.Set{Zone: "1", Repeats: 1, Distance: 400}, pace.SCM())
	if err != nil || p.Slow != 0 || !within(p.Slowest.Seconds(), 400/0.99, 1e-8) || !strings.HasSuffix(p.Target(), " or slower") || p.SendOff != 415*sec {
		t.Errorf("zone 1: %+v, %v", p, err)
	}
	p, err = three(t).Workout(zones.Set{Zone: "1", Repeats: 1, Distance: 400, Slowest: 0.8}, pace.SCM())
	if err != nil || p.Slowest != 500*sec || p.SendOff != 510*sec {
		t.Errorf("zone 1 down to 0.8 m/s: %+v, %v", p, err)
	}
	p, err = three(t).Workout(zones.Set{Zone: "3", Repeats: 4, Distance: 100, Rest: 120 * sec}, pace.SCM())
	if err != nil || p.Fast != 0 || p.RestFast != 0 || p.Target() != "1:23.3 or faster" || p.SendOff != 205*sec {
		t.Errorf("zone 3: %+v, %v", p, err)
	}
}

func TestPlanRefuses(t *testing.T) {
	good := zones.Set{Zone: "2", Repeats: 6, Distance: 200}
	for name, c := range map[string]struct {
		change func(*zones.Set)
		want   error
	}{
		"no such zone":     {func(s *zones.Set) { s.Zone = "7" }, zones.ErrMissing},
		"no repeats":       {func(s *zones.Set) { s.Repeats = 0 }, zones.ErrValue},
		"many repeats":     {func(s *zones.Set) { s.Repeats = 1001 }, zones.ErrValue},
		"odd distance":     {func(s *zones.Set) { s.Distance = 210 }, pace.ErrValue},
		"no distance":      {func(s *zones.Set) { s.Distance = 0 }, pace.ErrValue},
		"NaN":              {func(s *zones.Set) { s.Distance = pace.Length(math.NaN()) }, pace.ErrValue},
		"negative rest":    {func(s *zones.Set) { s.Rest = -1 }, zones.ErrValue},
		"negative off":     {func(s *zones.Set) { s.SendOff = -1 }, zones.ErrValue},
		"slowest NaN":      {func(s *zones.Set) { s.Slowest = pace.Speed(math.NaN()) }, zones.ErrValue},
		"slowest too fast": {func(s *zones.Set) { s.Slowest = 1.3 }, zones.ErrValue},
		"send-off of 25 h": {func(s *zones.Set) { s.SendOff = 25 * time.Hour }, zones.ErrValue},
		"slowest 13 h":     {func(s *zones.Set) { s.Slowest = 200.0 / 13 / 3600 }, zones.ErrValue},
	} {
		s := good
		c.change(&s)
		if p, err := three(t).Workout(s, pace.SCM()); !errors.Is(err, c.want) || p.SendOff != 0 {
			t.Errorf("%s: %+v, %v; want %v", name, p, err, c.want)
		}
	}
	if _, err := three(t).Workout(good, pace.Pool{}); !errors.Is(err, pace.ErrValue) {
		t.Errorf("no pool: %v", err)
	}
	// all at once
	_, err := three(t).Workout(zones.Set{Zone: "7", Rest: -1}, pace.SCM())
	for _, want := range []string{"zone \"7\"", "0 repeats", "distance", "rest"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v does not name %s", err, want)
		}
	}
	all := applied(t, (zones.Scheme{Zones: []zones.Part{{Name: "all"}}}), swimmer())
	if _, err := all.Workout(zones.Set{Zone: "all", Repeats: 1, Distance: 100}, pace.SCM()); !errors.Is(err, zones.ErrMissing) {
		t.Errorf("a zone open at both ends: %v, want ErrMissing", err)
	}
	if p, err := all.Workout(zones.Set{Zone: "all", Repeats: 1, Distance: 100, Slowest: 1}, pace.SCM()); err != nil || p.Target() != "any time" {
		t.Errorf("a zone open at both ends, with a slowest speed: %+v, %v", p, err)
	}
	if s := (zones.Workout{}).Swims(); s != nil {
		t.Errorf("the zero Plan swims %v", s)
	}
}

// Evidence D: paces on a straight line drift by its slope.
func TestReview(t *testing.T) {
	reps := []zones.Repeat{
		{100, 80 * sec, 150},
		{100, 82 * sec, 0}, // not taken
		{100, 84 * sec, 158},
		{100, 95 * sec, 0},
	}
	r, err := three(t).Review(reps[:3], pace.SCM())
	if err != nil {
		t.Fatal(err)
	}
	if !within(r.Pace.PerRepeat, 2, 1e-9) || !within(r.Pace.OverSet, 4, 1e-9) || r.Pace.Repeats != 3 {
		t.Errorf("pace drifts by %+v, want 2 s a repeat, 4 s over the set", r.Pace)
	}
	if !within(r.HeartRate.PerRepeat, 4, 1e-12) || !within(r.HeartRate.OverSet, 8, 1e-12) || r.HeartRate.Repeats != 2 || !r.HeartRate.Known() {
		t.Errorf("heart rate drifts by %+v, want 4 a repeat, 8 over the set", r.HeartRate)
	}
	// in a yard pool the same drift is per 100 yd
	y := []zones.Repeat{{100 * pace.Yard, 76 * sec, 0}, {200 * pace.Yard, 156 * sec, 0}}
	ry, err := three(t).Review(y, pace.SCY())
	if err != nil || !within(ry.Pace.OverSet, 2, 1e-9) || ry.HeartRate.Known() || ry.HeartRate.OverSet != 0 {
		t.Errorf("%+v, %v", ry, err)
	}
	r, err = three(t).Review(reps, pace.SCM())
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"3", "3", "2", "1"} { // LT1 90.9, LT2 83.3 s/100 m
		if r.Repeats[i].Zone != want || !within(float64(r.Repeats[i].Speed), 100/reps[i].Time.Seconds(), 1e-12) {
			t.Errorf("repeat %d: %+v, want zone %s", i+1, r.Repeats[i], want)
		}
	}
	if r.Distribution.Time != 341*sec || r.Distribution.Distance != 400 || r.Distribution.Zones[2].Time != 162*sec || !within(r.Distribution.Three[2].TimeShare, 162.0/341, 1e-15) || r.Distribution.Zones[2].Distance != 200 {
		t.Errorf("%+v", r.Distribution)
	}
	one, err := three(t).Review(reps[:1], pace.SCM())
	if err != nil || one.Pace.Known() || one.Pace.PerRepeat != 0 {
		t.Errorf("one repeat: %+v, %v", one, err)
	}
}

func TestReviewRefuses(t *testing.T) {
	_, err := three(t).Review([]zones.Repeat{{100, 80 * sec, 150}, {100, 0, 150}, {-1, 80 * sec, 250.5}, {100, 80 * sec, math.NaN()}}, pace.SCM())
	var re *zones.RepeatError
	if !errors.As(err, &re) || re.Number != 2 || re.Field != "time" || !errors.Is(err, zones.ErrValue) || !errors.Is(err, pace.ErrValue) {
		t.Errorf("%v, want a RepeatError for repeat 2 first", err)
	}
	for _, want := range []string{"repeat 2, time", "repeat 3, distance", "repeat 3, heart rate", "repeat 4, heart rate"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v does not name %s", err, want)
		}
	}
	if _, err := three(t).Review(nil, pace.SCM()); !errors.Is(err, zones.ErrMissing) {
		t.Errorf("no repeats: %v, want ErrMissing", err)
	}
	if _, err := three(t).Review([]zones.Repeat{{110, 80 * sec, 30}}, pace.SCM()); !errors.Is(err, pace.ErrValue) || !strings.Contains(err.Error(), "repeat 1, distance") || strings.Contains(err.Error(), "heart rate") {
		t.Errorf("110 m in 25 m: %v, want pace.ErrValue", err)
	}
	if _, err := three(t).Distribute([]zones.Repeat{{100, math.MaxInt64, 0}, {100, math.MaxInt64, 0}}); !errors.Is(err, zones.ErrValue) {
		t.Errorf("584 years: %v, want ErrValue", err)
	}
	if _, err := (&zones.Table{}).Distribute([]zones.Repeat{{100, 80 * sec, 0}}); err == nil {
		t.Error("the zero Table distributes")
	}
}

// The three-zone distribution stands beside any scheme.
func TestDistributeOtherScheme(t *testing.T) {
	table := applied(t, zones.FiveZoneLactate(), curve())
	d, err := table.Distribute([]zones.Repeat{{1000, 1000 * sec, 0}, {100, 75 * sec, 0}, {100, 62.5e9, 0}})
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Zones) != 5 || d.Zones[0].Distance != 1000 || d.Zones[2].Distance != 0 || d.Zones[4].Distance != 100 {
		t.Errorf("%+v", d.Zones)
	}
	if d.Three[0].Distance != 1000 || d.Three[1].Distance != 100 || d.Three[2].Distance != 100 || !within(d.Three[0].DistanceShare, 10.0/12, 1e-15) {
		t.Errorf("%+v", d.Three)
	}
	if tab := d.Table(); len(tab.Rows) != 5 || tab.Rows[2][3] != "0" || tab.Rows[4][3] != "100 m" {
		t.Errorf("%v", tab.Rows)
	}
}

// Sums of whole yards stay whole: ten times 100 yd is 1000 yd to the last bit.
func TestDistributeWholeYards(t *testing.T) {
	for n := 1; n <= 100; n++ {
		reps := make([]zones.Repeat, n)
		for i := range reps {
			reps[i] = zones.Repeat{Distance: 100 * pace.Yard, Time: 80 * sec}
		}
		d, err := three(t).Distribute(reps)
		if want := pace.Length(100*n) * pace.Yard; err != nil || d.Distance != want || d.Zones[1].Distance != want {
			t.Errorf("%d times 100 yd: %v m, %v; want %v m", n, float64(d.Distance), err, float64(want))
		}
	}
}
