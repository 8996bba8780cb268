package chart_test

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"gonum.org/v1/plot/vg"
)

// D: a repeat outside the tested range has no point on it, and the picture
// says why; repeats inside the tested range need no such words.
func TestPlanBeyondTheCurve(t *testing.T) {
	a := analysed(t, invented(6, 0), lactate.Options{})
	picture := func(first float64) string {
		p, err := chart.Plan([]chart.Repeat{{Intensity: first}, {Intensity: 1.1}, {Intensity: 1.22, AllOut: true}}, a, chart.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return p.SVG()
	}
	inside, outside := picture(1.05), picture(0.98)
	if strings.Contains(inside, "Dotted") || !strings.Contains(outside, "Dotted") {
		t.Error("the note about dotted lines does not follow the repeats")
	}
	// The dotted line stands for a line and a point's outline and fill.
	if in, out := strings.Count(inside, "<path"), strings.Count(outside, "<path"); !(out < in) {
		t.Errorf("%d paths with a repeat beyond the curve, %d without", out, in)
	}
}

// Evidence D, a calendar: the axis of a season, which starts a twentieth of it before the
// first test and goes on for four weeks after the last, has the first of each month, or of every second, third, sixth or twelfth, six at most, with the year at
// each January and at the first; over many years only some of them.
func TestMonths(t *testing.T) {
	for to, want := range map[string]string{
		"2025-01-27": "Feb 2025",
		"2025-03-20": "Feb 2025, Mar, Apr",
		"2025-05-20": "Feb 2025, Mar, Apr, May, Jun",
		"2025-10-20": "Mar 2025, May, Jul, Sep, Nov",
		"2026-03-20": "Jan 2025, Apr, Jul, Oct, Jan 2026, Apr",
		"2027-03-20": "Jan 2025, Jul, Jan 2026, Jul, Jan 2027",
		"2029-03-20": "2025, 2026, 2027, 2028, 2029",
		"2034-03-20": "2026, 2028, 2030, 2032, 2034",
		"2050-03-20": "2028, 2033, 2038, 2043, 2048",
		"2074-03-20": "2032, 2042, 2052, 2062, 2072",
	} {
		day, err := time.Parse(time.DateOnly, to)
		if err != nil {
			t.Fatal(err)
		}
		s, err := lactate.FollowSeason([]lactate.DatedTest{{Date: time.Date(2025, 1, 20, 0, 0, 0, 0, time.UTC), Test: invented(6, 0)}, {Date: day, Test: invented(6, 0.004)}}, lactate.CompareOptions{})
		if err != nil {
			t.Fatal(err)
		}
		p, err := chart.Season(s, chart.Options{Width: 20 * vg.Centimeter})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		month := regexp.MustCompile(`^([A-Z][a-z]{2}( 20\d\d)?|20\d\d)$`)
		for _, l := range labels(p) {
			if month.MatchString(l.text) {
				got = append(got, l.text)
			}
		}
		if strings.Join(got, ", ") != want {
			t.Errorf("to %s: %q, want %q", to, got, want)
		}
	}
}
