package table_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// Evidence D: what is said of a course by hand: at 1.25 m/s a change of 0.01 m/s is 0.64 s
// per 100 m, and a reading moves the curve by what lies between the places before and after.
func TestBetween(t *testing.T) {
	day := time.Date(2025, time.March, 8, 0, 0, 0, 0, time.UTC)
	at := func(v, half float64) lactate.Estimate {
		return lactate.Estimate{Value: v, Low: v - half, High: v + half}
	}
	reading := func(news bool, unused between.Unused) between.Told {
		return between.Told{Reading: between.Reading{Date: day, Intensity: 1.25, Lactate: 3.1, Kind: "6 x 200"}, News: news, Unused: unused, Percentile: map[bool]float64{true: math.NaN(), false: 0.5}[unused != ""],
			Expected: at(2, 0.5), Before: at(0, 0.02), After: at(0.01, 0.01)}
	}
	c := &between.Course{Reference: 1.25, Confidence: 0.9, Readings: []between.Told{reading(true, ""), reading(false, ""), reading(false, between.Flat)},
		Kinds: []between.Kind{{Kind: "6 x 200", Analyser: "B", Readings: 2, Offset: at(-0.5, 0.2)}}}
	d := between.Due{Place: between.Place{Date: day, LT2: at(1.25, 0.01)}, Half: 0.01, AfterTest: 0.005, Matters: 0.02, WideOn: day.AddDate(0, 1, 0)}
	o := table.Options{Pool: pace.SCM()}
	got := strings.Join(strings.Fields(table.Between(c, d, o).String()), " ")
	for _, want := range []string{
		"6 x 200, B 2 −0.5 −0.7 to −0.3",
		"Readings that were news when they came: 1 of 2; chance alone makes 2 in 100",
		"8 March 2025, 6 x 200: 3.1 mmol/L at 1:20.0, 90 in 100 were expected from 1.5 to 2.5",
		"8 Mar 2025 6 x 200 1:20.0 3.1 1.5 to 2.5 +0.6 0.6",
		"not used: where the curve is flat",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	// Without a pool, speeds; and the level of the brackets is that of the course.
	c.Confidence = 0.8
	place, worth := table.Due(c, d, table.Options{})
	for _, want := range []string{"LT2 at 1.250 m/s (1.240 to 1.260) on an average day; 80 in 100 that", "the bracket reaches 0.010 m/s either way, and a test on that day would make that 0.005 m/s."} {
		if !strings.Contains(place+worth, want) {
			t.Errorf("no %q in %s %s", want, place, worth)
		}
	}
	plain := strings.Join(strings.Fields(table.Between(c, d, table.Options{}).String()), " ")
	for _, want := range []string{"80 % bracket", "at 1.250, 80 in 100 were expected", "8 Mar 2025 6 x 200 1.250 3.1 1.5 to 2.5 +0.010 0.010"} {
		if !strings.Contains(plain, want) {
			t.Errorf("no %q in\n%s", want, plain)
		}
	}
	c.Confidence = 0.9
	c.Readings[0].News = false
	if got := table.Between(c, d, o)[1]; got.Caption != "None of the 2 readings was news when it came." || got.Notes != nil {
		t.Errorf("news %+v", got)
	}
	nan := math.NaN()
	for _, x := range []struct {
		due          func(*between.Due)
		place, worth string
	}{
		{func(*between.Due) {}, "LT2 at 1:20.0 per 100 m (1:20.6 to 1:19.4) on an average day", "a test would tell little: the bracket reaches 0.6 s per 100 m either way, and a test on that day would make that 0.3 s. Without another test or reading it grows. From 8 April 2025 on it reaches beyond 1.3 s (2 % of the speed), which matters."},
		{func(d *between.Due) { d.Wide = true }, "LT2 at", "reaches 0.6 s per 100 m either way, more than the 1.3 s that matter (2 % of the speed). One more test would make that 0.3 s."},
		{func(d *between.Due) { d.Disagree, d.Since, d.Moved.Value, d.Chance = true, 4, -0.01, 0.002 }, "LT2 at", "the 4 readings since the last one disagree with it. They put the curve 0.6 s per 100 m slower than it did; if drift and days alone had moved it, readings would do as much 1 times in 100."},
		{func(d *between.Due) { d.Place.LT2, d.Place.Shift = at(nan, nan), at(0.01, 0.02) }, "Since the first test: +0.6 s per 100 m (−0.6 to +1.9; + is faster).", "a test would tell little"},
	} {
		due := d
		x.due(&due)
		if place, worth := table.Due(c, due, o); !strings.Contains(place, x.place) || !strings.Contains(worth, x.worth) {
			t.Errorf("%q, %q; want %q, %q", place, worth, x.place, x.worth)
		}
	}
}
