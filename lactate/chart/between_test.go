package chart_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/pace"
)

// course has three tests of a curve that moves, seven weeks apart, and readings on a curve
// of their own; invented.
func course(t testing.TB, o between.Options) *between.Course {
	t.Helper()
	start := time.Date(2025, 1, 6, 0, 0, 0, 0, time.UTC)
	var tests []lactate.DatedTest
	for i := range 3 {
		tests = append(tests, lactate.DatedTest{Date: start.AddDate(0, 0, 49*i), Test: invented(7, 0.008*float64(i))})
	}
	m, err := between.New(tests, o)
	if err != nil {
		t.Fatal(err)
	}
	var readings []between.Reading
	for i := range 40 {
		moved := 0.008 * float64(i) / 14
		x := 1.15 + moved + 0.01*math.Sin(float64(i))
		y := 1.3 + 0.35*math.Exp(18*(x-moved-1.04)) + 0.2*math.Sin(3*float64(i))
		readings = append(readings, between.Reading{Date: start.AddDate(0, 0, 3+3*i), Intensity: x, Lactate: y, Kind: "4 × 400"})
	}
	c, err := m.Follow(readings)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The picture says where the curve is, as the library does, in paces and in numbers.
func TestBetween(t *testing.T) {
	c := course(t, between.Options{})
	today := time.Date(2025, 5, 6, 0, 0, 0, 0, time.UTC)
	e := c.At(today).LT2
	clock := func(v float64) string { return pace.FormatTime(pace.Speed(v).In(pace.SCY()).Time, 1) }
	for _, o := range []chart.Options{{Pool: pace.SCY(), Title: "Robin Vale"}, {}, {Dark: true, Width: 300, Height: 230}} {
		p, err := chart.Between(c, today, o)
		if err != nil {
			t.Fatal(err)
		}
		want := "m/s at LT2 ("
		if !o.Pool.IsZero() {
			want = "today: " + clock(e.Value) + " per 100 yd at LT2 (" + clock(e.Low) + " to " + clock(e.High) + ")"
		}
		if !strings.Contains(p.Alt(), want) || strings.Contains(p.Alt(), "NaN") {
			t.Errorf("description %q lacks %q", p.Alt(), want)
		}
		if len(p.SVG()) == 0 {
			t.Error("no picture")
		}
	}
	shifts := course(t, between.Options{Lactate: lactate.Options{LT2: lactate.Fixed{Lactate: 40}}})
	if p, err := chart.Between(shifts, today, chart.Options{Pool: pace.SCY()}); err != nil || !strings.Contains(p.Alt(), "from the first test") {
		t.Errorf("without LT2: %v, error %v", p, err)
	}
	if _, err := chart.Between(c, time.Date(2025, 1, 14, 0, 0, 0, 0, time.UTC), chart.Options{}); err != nil {
		t.Errorf("after eight days: %v", err)
	}
	for _, c := range []struct {
		course *between.Course
		today  time.Time
		want   string
	}{{nil, today, "no course"}, {new(between.Course), today, "no course"}, {c, time.Date(2025, 1, 8, 0, 0, 0, 0, time.UTC), "a week or more"}} {
		if _, err := chart.Between(c.course, c.today, chart.Options{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("error %v, want %q", err, c.want)
		}
	}
}
