package main

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
)

// Evidence D: lactates on a cubic, rising late: an exponential reads LT1 where
// the cubic does not, outside its interval, and the report says so. On an
// exponential it has nothing to say.
func TestOtherCurve(t *testing.T) {
	const said = "on a cubic is"
	sheet := func(lactate func(v float64) float64) string {
		s := head
		for i, time := range []string{"6:00", "5:50", "5:40", "5:30", "5:20", "5:10"} {
			s += fmt.Sprintf("Ann,2025-01-18,50 m,400,%d,%s,%.4f,\n", i+1, time, lactate(400/pace.Must(pace.ParseTime(time)).Seconds()))
		}
		return s
	}
	cubic := func(v float64) float64 { return 1 + 3000*(v-1.1)*(v-1.1)*(v-1.1) }
	r := decoded(t, sheet(cubic), "-").Tests[0]
	other := r.Methods[0].Cubic // fitted lowest + 0.5, which is LT1's
	if e := r.LT1.Speed; r.Methods[0].Method != r.LT1.Method || e.Low <= other.Speed.Value && other.Speed.Value <= e.High {
		t.Fatalf("the case is none: %v on the cubic lies inside %v", other.Speed.Value, e)
	}
	want := "LT1 " + said + " " + pace.FormatTime(time.Duration(100/other.Speed.Value*1e9), 1) + " per 100 m"
	if got := strings.Join(r.Cautions, "\n"); !strings.Contains(got, want) {
		t.Errorf("cautions %q lack %q", got, want)
	}
	r = decoded(t, sheet(func(v float64) float64 { return 1 + math.Exp(16*(v-1.16)) }), "-").Tests[0]
	for _, c := range r.Cautions {
		if strings.Contains(c, "LT2 "+said) {
			t.Errorf("on an exponential: %s", c)
		}
	}
}

// sheetOf is a test of 400 m from 5:20 to 4:40 with these lactates; invented.
func sheetOf(swimmer string, lactates ...string) string {
	s := ""
	for i, y := range lactates {
		s += fmt.Sprintf("%s,2025-02-01,50 m,400,%d,%s,%s,\n", swimmer, i+1, []string{"5:20", "5:10", "5:00", "4:50", "4:40"}[i], y)
	}
	return s
}

// Simulated tests whose level lies beyond the tested range open the interval:
// they are not said to be left out of it.
func TestFailed(t *testing.T) {
	sheet := head + sheetOf("Ann", "1.2", "1.2", "1.3", "1.5", "1.9")
	_, a := analyzed(t, strings.NewReader(sheet))
	if a.LT1.Beyond == 0 || a.LT1.Failed == a.LT1.Beyond || a.LT2.Beyond != 0 || !math.IsInf(a.LT1.Intensity.High, 1) {
		t.Fatalf("the case is none: %+v and %+v", a.LT1, a.LT2)
	}
	cautions := strings.Join(decoded(t, sheet, "-").Tests[0].Cautions, "\n")
	for i, n := range []int{a.LT1.Failed - a.LT1.Beyond, a.LT2.Failed} {
		if want := fmt.Sprintf("\n%d of %d simulated tests gave no LT%d; its interval is of the others", n, resamples, i+1); !strings.Contains(cautions, want) {
			t.Errorf("cautions %q lack %q", cautions, want)
		}
	}
	// Its LT2 is known to 2.3 s per 100 m: that bracket is not narrow.
	if strings.Contains(cautions, "narrow") || !strings.Contains(cautions, "LT2's bracket rests on how the curve bends") {
		t.Errorf("cautions %q", cautions)
	}
}

// A page for a coach has no hints for programmers: what is wrong is said of the
// samples.
func TestCoachsWords(t *testing.T) {
	for _, c := range []struct {
		name, sheet, want string
		status            int
	}{
		{"order", sheetOf("Lu", "1.2", "1.3", "1.5", "1.7", "2.1"), "no zones: LT1 does not lie below LT2", 0},
		{"flat", sheetOf("Mo", "2", "2", "2", "2"), "no thresholds: the samples do not settle a curve", 1},
		{"falls", sheetOf("Ny", "3", "2.5", "2.2", "2"), "no thresholds: lactate falls as speed rises", 1},
		{"bends down", sheetOf("Pi", "1", "4", "6", "7", "7.5"), "no LT2: the curve has no point farthest below", 0},
		{"alone", sheetOf("Qi", "1", "1", "1", "1", "12"), "no thresholds: the samples do not settle a curve", 1},
		{"stroke", strings.Replace(head, "\n", ",stroke cycles,stroke segment,segment time\n", 1) + strings.NewReplacer(",\n", ",,7,20,\n").Replace(good), "repeat 1: segment time: found nothing", 0},
	} {
		sheet := c.sheet
		if c.name != "stroke" {
			sheet = head + sheet
		}
		text, stderr, status := execute(t, sheet, "-")
		if status != c.status || !strings.Contains(strings.Join(strings.Fields(text), " "), c.want) {
			t.Errorf("%s: exit status %d, text lacks %q:\n%s%s", c.name, status, c.want, text, stderr)
		}
		for _, hint := range []string{"was pace", "not paces", " ys ", " x ", ": lactate: ", ": zones: ", "protocol: ", ": curve: "} {
			if strings.Contains(text, hint) || strings.Contains(stderr, hint) {
				t.Errorf("%s: %q in\n%s%s", c.name, hint, text, stderr)
			}
		}
	}
}
