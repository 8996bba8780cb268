package zones_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/zones"
	"pgregory.net/rapid"
)

// Evidence D: a proposed week has the sessions that were asked for, fills each to
// within one repeat, has one hard session in four at most, none after another, no more
// of it than is said, and its file gives the same sets back.
func TestPropose(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		lt1 := rapid.Float64Range(0.8, 1.5).Draw(rt, "lt1")
		p := zones.Profile{LT1: zones.Threshold{Speed: pace.Speed(lt1)}, LT2: zones.Threshold{Speed: pace.Speed(lt1 * rapid.Float64Range(1.01, 1.1).Draw(rt, "ratio"))}}
		scheme := rapid.SampledFrom([]zones.Scheme{zones.ThreeZone(), zones.Domains()}).Draw(rt, "scheme")
		table, err := scheme.Apply(p)
		if err != nil {
			rt.Fatal(err)
		}
		pool := pace.Must(pace.ParsePool(rapid.SampledFrom([]string{"25 yd", "25 m", "50 m", "33 1/3 m", "27 m", "20 yd"}).Draw(rt, "pool")))
		v := zones.Volume{Days: rapid.IntRange(1, 7).Draw(rt, "days")}
		v.Time = time.Duration(v.Days) * time.Duration(rapid.IntRange(20, 240).Draw(rt, "minutes")) * time.Minute
		week, err := table.Propose(v, pool)
		if err != nil {
			rt.Fatal(err)
		}
		used, days, hardDays := map[string]time.Duration{}, []string{}, []int{}
		longest := time.Duration(0)
		for _, s := range week {
			plan, err := table.Workout(s.Set, pool)
			if err != nil || s.Reason == "" || plan.SendOff != s.Set.SendOff {
				rt.Fatalf("%+v: %v", s, err)
			}
			if !s.SameDay {
				days = append(days, s.Day)
			}
			used[s.Day] += plan.Time
			longest = max(longest, plan.SendOff)
			if s.Set.Zone == scheme.Zones[0].Name {
				continue
			}
			hardDays = append(hardDays, len(days)-1)
			if most := v.Time / time.Duration(v.Days) * 4 / 10; plan.Time > most || plan.Time > 40*time.Minute {
				rt.Fatalf("%v of %v is hard", plan.Time, 10*most/4)
			}
		}
		session := v.Time / time.Duration(v.Days)
		for day, d := range used {
			if d > session || d < session-longest {
				rt.Fatalf("%s: %v of %v", day, d, session)
			}
		}
		if len(days) != v.Days || len(used) != v.Days || len(hardDays) > max(1, (v.Days+2)/4) || v.Days == 1 && len(hardDays) > 0 {
			rt.Fatalf("%d days, hard ones %v, want %d days", len(days), hardDays, v.Days)
		}
		for i, n := range hardDays {
			if n == 0 && v.Days > 2 || i > 0 && n < hardDays[i-1]+2 {
				rt.Fatalf("hard sessions %v", hardDays)
			}
		}
		var file bytes.Buffer
		if err := zones.WriteWeek(&file, week, pool); err != nil {
			rt.Fatal(err)
		}
		again, err := zones.ReadWeek(&file, pool)
		if err != nil || len(again) != len(week) {
			rt.Fatalf("%d sets of %d, %v", len(again), len(week), err)
		}
		for i := range again {
			again[i].Line = 0
			if fmt.Sprint(again[i]) != fmt.Sprint(week[i]) {
				rt.Fatalf("%+v, want %+v", again[i], week[i])
			}
		}
	})
}

func TestProposeFaults(t *testing.T) {
	p := zones.Profile{LT1: zones.Threshold{Speed: 1.1}, LT2: zones.Threshold{Speed: 1.2}, Lactate: func(pace.Speed) (float64, error) { return 2, nil },
		SpeedAtLactate: func(y float64) (pace.Speed, error) { return pace.Speed(1 + 0.03*y), nil }}
	for _, c := range []struct {
		scheme zones.Scheme
		volume zones.Volume
		is     error
		says   string
	}{
		{zones.ThreeZone(), zones.Volume{}, zones.ErrValue, "found 0 days, want 1 to 7"},
		{zones.ThreeZone(), zones.Volume{Time: time.Hour, Days: 8}, zones.ErrValue, "found 8 days"},
		{zones.ThreeZone(), zones.Volume{Time: time.Hour, Days: 4}, zones.ErrValue, "found 1:00:00 on 4 days, want 20 min to 4 h a day"},
		{zones.ThreeZone(), zones.Volume{Time: 20 * time.Hour, Days: 4}, zones.ErrValue, "want 20 min to 4 h a day"},
		{zones.FiveZoneLactate(), zones.Volume{Time: 6 * time.Hour, Days: 4}, zones.ErrMissing, "no zones that meet at LT1 and LT2"},
	} {
		table, err := c.scheme.Apply(p)
		if err != nil {
			t.Fatal(err)
		}
		if week, err := table.Propose(c.volume, pace.SCM()); week != nil || !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%v of %s: %v, want %q", c.volume, c.scheme.Name, err, c.says)
		}
	}
}

// A week as it comes from spreadsheets: semicolons and decimal commas, columns in
// another order, empty cells left out at the end, empty lines.
func TestReadWeekHabits(t *testing.T) {
	week, err := zones.ReadWeek(strings.NewReader("\ufeffZone;Day;Repeats;Distance;Swum;Heart rate;Send-off;Reason\r\n2;Mo;2;200;2:42,6 2:41,9;142 -;3:00;steady\r\n;;;;;;;\r\n1;Di;3;400\r\n"), pace.SCM())
	if err != nil || len(week) != 2 {
		t.Fatalf("%+v, %v", week, err)
	}
	s := week[0]
	if s.Day != "Mo" || s.Set.Zone != "2" || s.Set.SendOff != 3*time.Minute || s.Reason != "steady" || len(s.Swum) != 2 || s.Swum[0].Time != 162600*time.Millisecond || s.Swum[0].HeartRate != 142 {
		t.Errorf("%+v", s)
	}
	if s := week[1]; s.Day != "Di" || s.Set.Repeats != 3 || s.Swum != nil {
		t.Errorf("%+v", s)
	}
	for text, want := range map[string]string{
		"day,repeats,distance,zone,swim\nMo,1,100,1,\n":      `found the column "swim", want some of`,
		"day,repeats,distance,zone,zone\nMo,1,100,1,\n":      `found the column "zone" twice`,
		"day,repeats,distance\nMo,1,100\n":                   `found no column "zone"`,
		"day,repeats,distance,zone\nMo,1,100\n":              `line 2: zone: found ""`,
		"day,repeats,distance,zone\nMo,1,100,1,5\n":          "line 2: found 5 cells, want at most 4",
		"day,repeats,distance,zone,send-off\nMo,1,100,1,x\n": `line 2: send-off: found "x", want a time such as "3:00"`,
	} {
		if _, err := zones.ReadWeek(strings.NewReader(text), pace.SCM()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
