package zones_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/steptest/pace"
	"example.com/steptest/zones"
)

// Evidence D: the parts of a week are those that each set gives by itself, heart rates are
// set beside what was expected, and a set with a fault is left out with its line.
func TestWeek(t *testing.T) {
	table := three(t)
	sets, err := zones.ReadWeek(strings.NewReader(`day,repeats,distance,zone,rest,swum,heart rate,reason
Tuesday,8,300,1,0:20,,,
,2,200,2,0:20,2:42.0 2:42.0 2:42.0,142 - 150,
Friday,4,200,9,0:20,,,
Friday,2,100,3,0:30,,,speed
`), pace.SCY())
	if err != nil {
		t.Fatal(err)
	}
	expected := func(v pace.Speed) (float64, error) {
		if want := 200 * 0.9144 / 162; !(math.Abs(float64(v)-want) <= 1e-9) {
			t.Errorf("asked for %v m/s, want %v", float64(v), want)
		}
		return 140, nil
	}
	w, err := table.Week(sets, pace.SCY(), expected)
	if !errors.Is(err, zones.ErrMissing) || !strings.HasPrefix(err.Error(), "zones: week: line 4: ") || strings.Count(err.Error(), "zones: ") != 1 {
		t.Errorf("error %v", err)
	}
	if len(w.Sets) != 3 || w.Sets[0].Review != nil || w.Sets[0].AgainstTest != nil || w.Sets[1].Review == nil || !w.Hard {
		t.Fatalf("week %+v", w)
	}
	if got := *w.Sets[1].AgainstTest; !(math.Abs(got-6) <= 1e-9) { // 142 and 150 beside 140
		t.Errorf("heart rates against the test: %v, want 6", got)
	}
	if got, want := w.Planned.Distance, (8*300+2*200+2*100)*pace.Yard; !(math.Abs(float64(got-want)) <= 1e-6) {
		t.Errorf("planned %v, want %v", got, want)
	}
	if got, want := w.Swum.Distance, 600*pace.Yard; !(math.Abs(float64(got-want)) <= 1e-6) {
		t.Errorf("swum %v, want %v", got, want)
	}
	easy, err := table.Week(sets[:1], pace.SCY(), nil)
	if err != nil || easy.Hard || easy.Swum != nil {
		t.Errorf("an easy week: %+v, error %v", easy, err)
	}
	planned, swum := w.PlannedTable(), w.SwumTable()
	for i, c := range []struct{ day, set, why, swum, against string }{
		{"Tuesday", "8 × 300 yd in zone 1", "rest ", "not swum", ""},
		{"", "2 × 200 yd in zone 2", "rest ", " (3 of 2)", "+6"},
		{"Friday", "2 × 100 yd in zone 3", "speed", "not swum", ""},
	} {
		p, s := planned.Rows[i], swum.Rows[i]
		if p[0] != c.day || p[1] != c.set || !strings.HasPrefix(p[4], c.why) || s[0] != c.day || !strings.HasSuffix(s[1], c.swum) || s[len(s)-1] != c.against && c.against != "" {
			t.Errorf("row %d: %q and %q, want %+v", i+1, p, s, c)
		}
	}
	if got := swum.Rows[1][2]; got != "1:21.0" { // per 100 yd
		t.Errorf("pace %s, want 1:21.0", got)
	}
}
