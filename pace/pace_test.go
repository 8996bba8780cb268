package pace_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/steptest/pace"
)

func TestParsePace(t *testing.T) {
	want := pace.Pace{Time: 81600 * ms, Per: 100 * pace.Yard}
	for _, in := range []string{"1:21.6/100 yd", "1:21.6 / 100yd", "81.6/100 YD", " 1:21.60 per 100 yards"} {
		got, err := pace.ParsePace(in)
		if err != nil || got != want {
			t.Errorf("ParsePace(%q) = %v, %v; want %v", in, got, err, want)
		}
	}
	for in, want := range map[string]string{
		"":              "want a time and a length",
		"1:21.6":        "want a time and a length",
		"1:21.6/100":    "metres (m) or yards (yd)?",
		"1:21.6/yd":     "want a number and a unit",
		"0:00/100 m":    "zero",
		"1:20/0 m":      "zero",
		"1.21/100 m":    "could mean 1:21",
		"1:21/100 m/50": "unknown unit",
	} {
		if _, err := pace.ParsePace(in); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("ParsePace(%q): %v, want an error with %q", in, err, want)
		}
	}
}

func TestPaceRefuses(t *testing.T) {
	for _, p := range []pace.Pace{{}, {Time: sec}, {Per: 100}, {Time: -sec, Per: 100}, {Time: sec, Per: pace.Length(math.NaN())}} {
		if _, err := p.Speed(); !errors.Is(err, pace.ErrValue) {
			t.Errorf("%#v.Speed: %v, want ErrValue", p, err)
		}
		if _, err := p.In(50); !errors.Is(err, pace.ErrValue) {
			t.Errorf("%#v.In: %v, want ErrValue", p, err)
		}
		if _, err := p.MarshalText(); !errors.Is(err, pace.ErrValue) && p != (pace.Pace{}) {
			t.Errorf("%#v.MarshalText: %v, want ErrValue", p, err)
		}
		_ = p.String() // does not panic
	}
	ok := pace.Must(pace.ParsePace("1:20/100 m"))
	if p, err := ok.In(0.5); err != nil || p.Time != 400*ms {
		t.Errorf("per half a metre: %v, %v; want 0.4 s", p, err)
	}
	for _, per := range []float64{0, -1, math.NaN(), math.Inf(1), 1e300} {
		if got, err := ok.In(pace.Length(per)); !errors.Is(err, pace.ErrValue) {
			t.Errorf("In(%v) = %v, %v; want ErrValue", per, got, err)
		}
	}
}

// D: a literal with a fault panics with the error of its parser; a good one is
// what was parsed.
func TestMust(t *testing.T) {
	if got := pace.Must(pace.ParseTime("5:32")); got != 332*sec {
		t.Errorf("got %v, want 5m32s", got)
	}
	defer func() {
		err, _ := recover().(error)
		if !errors.Is(err, pace.ErrAmbiguous) {
			t.Errorf("got panic %v, want the error of ParseTime", err)
		}
	}()
	pace.Must(pace.ParseTime("5.32"))
	t.Error("got no panic")
}

// D: what is no speed has no pace, rather than one of 292 years.
func TestNoPace(t *testing.T) {
	for _, v := range []pace.Speed{0, -1, pace.Speed(math.NaN()), pace.Speed(math.Inf(1))} {
		if got := v.In(pace.SCY()); got != (pace.Pace{}) || got.String() != "no pace" {
			t.Errorf("pace of %v: %v", float64(v), got)
		}
	}
	if _, err := pace.ParsePace("no pace"); err == nil {
		t.Error(`"no pace" was read as a pace`)
	}
	if _, err := (pace.Pace{}).Speed(); err == nil {
		t.Error("the zero pace has a speed")
	}
}
