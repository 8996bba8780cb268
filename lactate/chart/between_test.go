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

var courseStart = time.Date(2025, 1, 6, 0, 0, 0, 0, time.UTC)

// courseTests are three tests of a curve that moves, seven weeks apart; invented.
func courseTests() (tests []lactate.DatedTest) {
	for i := range 3 {
		tests = append(tests, lactate.DatedTest{Date: courseStart.AddDate(0, 0, 49*i), Test: invented(7, 0.008*float64(i))})
	}
	return tests
}

// course has these tests, and readings on a curve of their own; invented.
func course(t testing.TB, o between.Options) *between.Course {
	t.Helper()
	m, err := between.New(courseTests(), o)
	if err != nil {
		t.Fatal(err)
	}
	var readings []between.Reading
	for i := range 40 {
		moved := 0.008 * float64(i) / 14
		x := 1.15 + moved + 0.01*math.Sin(float64(i))
		y := 1.3 + 0.35*math.Exp(18*(x-moved-1.04)) + 0.2*math.Sin(3*float64(i))
		readings = append(readings, between.Reading{Date: courseStart.AddDate(0, 0, 3+3*i), Intensity: x, Lactate: y, Kind: "4 × 400"})
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
		want := "m/s at LT2 (90 %: "
		if !o.Pool.IsZero() {
			want = "6 May 2025: " + clock(e.Value) + " per 100 yd at LT2 (90 %: " + clock(e.Low) + " to " + clock(e.High) + ")"
		}
		if !strings.Contains(p.Alt(), want) || strings.Contains(p.Alt(), "NaN") {
			t.Errorf("description %q lacks %q", p.Alt(), want)
		}
		if len(p.SVG()) == 0 {
			t.Error("no picture")
		}
	}
	// The note names what is drawn, and nothing else.
	readings := []between.Reading{c.Readings[9].Reading}
	for _, odd := range []float64{0, 6} {
		readings[0].Lactate += odd
		m, err := between.New(courseTests(), between.Options{})
		if err != nil {
			t.Fatal(err)
		}
		followed, err := m.Follow(append(readings, c.Readings[0].Reading))
		if err != nil {
			t.Fatal(err)
		}
		p, err := chart.Between(followed, today, chart.Options{})
		if err != nil {
			t.Fatal(err)
		}
		note := ""
		for _, l := range labels(p) {
			note += l.text + " "
		}
		for _, word := range []string{"news when they came", "beyond the scale"} {
			if strings.Contains(note, word) != (odd > 0) {
				t.Errorf("a reading of %.1f mmol/L: found %q in the note: %v", readings[0].Lactate, word, odd == 0)
			}
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
