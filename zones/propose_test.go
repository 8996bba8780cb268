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
		table := applied(rt, scheme, p)
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

// Evidence D: sessions spread over the week, one in four of them hard. At LT1 1.00 and
// LT2 1.25 m/s, 400 and 200 m of easy swimming down to 0.9 m/s take 444.4 and 222.2 s and
// leave after 15 s of rest on 7:40 and 4:00, 200 m at LT1 on 3:40 with 20 s, 100 m at LT2
// on 2:20 with 60 s.
func TestProposeByHand(t *testing.T) {
	table := applied(t, zones.ThreeZone(), zones.Profile{LT1: zones.Threshold{Speed: 1}, LT2: zones.Threshold{Speed: 1.25}})
	week := func(days int, session time.Duration, pool pace.Pool, all bool) string {
		sets, err := table.Propose(zones.Volume{Days: days, Time: session * time.Duration(days)}, pool)
		if err != nil {
			t.Fatal(err)
		}
		var out strings.Builder
		for _, s := range sets {
			if all && !strings.Contains("Monday Tuesday Friday", s.Day) {
				continue // as Monday
			}
			if !s.SameDay {
				fmt.Fprintf(&out, " %.3s", s.Day)
			}
			if all {
				fmt.Fprintf(&out, " %d×%v/%s@%v", s.Set.Repeats, float64(s.Set.Distance), s.Set.Zone, pace.FormatTime(s.Set.SendOff, 0))
			} else if s.Set.Zone != "1" {
				out.WriteString(" " + s.Set.Zone)
			}
		}
		return out.String()[1:]
	}
	for i, want := range []string{"Wed", "Tue Fri 3", "Mon Wed 3 Fri", "Mon Tue 3 Thu Sat", "Mon Tue 3 Wed Fri Sat", "Mon Tue 3 Wed Thu Fri 2 Sat", "Mon Tue Wed 3 Thu Fri Sat 2 Sun"} {
		if got := week(i+1, 2*time.Hour, pace.SCM(), false); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	for _, c := range []struct {
		session time.Duration
		pool    string
		want    string
	}{
		// Three quarters of 3 h are 17 × 460 s, the rest 12 × 240 s. Above LT2 25 min, between
		// the thresholds 40; the warm-up is 5 × 200 m.
		{3 * time.Hour, "25 m", "Mon 17×400/1@7:40 12×200/1@4:00 Tue 5×200/1@4:00 10×100/3@2:20 15×400/1@7:40 5×200/1@4:00 Fri 5×200/1@4:00 10×200/2@3:40 13×400/1@7:40 5×200/1@4:00"},
		// Three tenths of an hour are 7 × 140 s, four tenths 6 × 220 s.
		{time.Hour, "25 m", "Mon 5×400/1@7:40 5×200/1@4:00 Tue 5×200/1@4:00 7×100/3@2:20 5×200/1@4:00 Fri 5×200/1@4:00 6×200/2@3:40 4×200/1@4:00"},
		// The lengths that come nearest: 5 and 3 of 75 m, and 1.
		{2 * time.Hour, "75 m", "Mon 12×375/1@7:15 7×225/1@4:25 Tue 5×225/1@4:25 12×75/3@2:00 7×375/1@7:15 5×225/1@4:25 Fri 5×225/1@4:25 9×225/2@4:05 5×375/1@7:15 5×225/1@4:25"},
	} {
		got := week(6, c.session, pace.Must(pace.ParsePool(c.pool)), true)
		if got != c.want {
			t.Errorf("%v in %s:\n%s\nwant\n%s", c.session, c.pool, got, c.want)
		}
	}
}

func TestProposeFaults(t *testing.T) {
	p := zones.Profile{LT1: zones.Threshold{Speed: 1.1}, LT2: zones.Threshold{Speed: 1.2}, Lactate: func(pace.Speed) (float64, error) { return 2, nil },
		SpeedAtLactate: func(y float64) (pace.Speed, error) { return pace.Speed(1 + 0.03*y), nil }}
	lt1, middle, lt2 := zones.Bound{Of: zones.LT1}, zones.Bound{Of: zones.Between, Amount: 0.5}, zones.Bound{Of: zones.LT2}
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
		{zones.Scheme{Name: "four", Zones: []zones.Part{{Name: "a", To: lt1}, {Name: "b", From: lt1, To: middle}, {Name: "c", From: middle, To: lt2}, {Name: "d", From: lt2}}},
			zones.Volume{Time: 6 * time.Hour, Days: 4}, zones.ErrMissing, "no zones that meet at LT1 and LT2"},
		{zones.FiveZoneLactate(), zones.Volume{Time: 6 * time.Hour, Days: 4}, zones.ErrMissing, "no zones that meet at LT1 and LT2"},
	} {
		table := applied(t, c.scheme, p)
		if week, err := table.Propose(c.volume, pace.SCM()); week != nil || !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%v of %s: %v, want %q", c.volume, c.scheme.Name, err, c.says)
		}
	}
}
