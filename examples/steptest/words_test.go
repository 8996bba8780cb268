package main

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/pace"
)

// Evidence D: lactates on a cubic, rising late: an exponential reads LT1 where
// the cubic does not, outside its interval, and the report says so. On an
// exponential it has nothing to say.
func TestOtherCurve(t *testing.T) {
	const said = "by the cubic, LT1 is "
	sheet := func(lactate func(v float64) float64) string {
		s := head
		for i, time := range []string{"6:00", "5:50", "5:40", "5:30", "5:20", "5:10"} {
			s += fmt.Sprintf("Ann,2025-01-18,50 m,400,%d,%s,%.4f,\n", i+1, time, lactate(400/pace.Must(pace.ParseTime(time)).Seconds()))
		}
		return s
	}
	cubic := func(v float64) float64 { return 1 + 3000*(v-1.1)*(v-1.1)*(v-1.1) }
	if got := strings.Join(worked(t, sheet(cubic)).Doubts.Doubts, "\n"); !strings.Contains(got, said) || !strings.Contains(got, "outside its bracket") {
		t.Errorf("doubts %q lack %q", got, said)
	}
	r := worked(t, sheet(func(v float64) float64 { return 1 + math.Exp(16*(v-1.16)) }))
	if got := strings.Join(r.Doubts.Doubts, "\n"); strings.Contains(got, "by the cubic, LT2") {
		t.Errorf("on an exponential: %s", got)
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
	r := worked(t, sheet)
	a := r.Analysis
	if a.LT1.Beyond == 0 || a.LT1.Failed == a.LT1.Beyond || a.LT2.Beyond != 0 || !math.IsInf(a.LT1.Intensity.High, 1) {
		t.Fatalf("the case is none: %+v and %+v", a.LT1, a.LT2)
	}
	doubts := strings.Join(r.Doubts.Doubts, "\n")
	for i, n := range []int{a.LT1.Failed - a.LT1.Beyond, a.LT2.Failed} {
		if want := fmt.Sprintf("\n%d of %d simulated tests gave no LT%d; its interval is of the others", n, command.Options().Resamples, i+1); !strings.Contains(doubts, want) {
			t.Errorf("doubts %q lack %q", doubts, want)
		}
	}
	// Its LT2 is known to 2.3 s per 100 m: that bracket is not narrow.
	if strings.Contains(doubts, "narrow") || !strings.Contains(doubts, "LT2's bracket rests on how the curve bends") {
		t.Errorf("doubts %q", doubts)
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
