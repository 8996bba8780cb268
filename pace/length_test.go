package pace_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
)

func TestParseLength(t *testing.T) {
	for in, want := range map[string]float64{ // [m]; evidence B: 1 yd = 0.9144 m
		"400 m":      400,
		"400m":       400,
		"400M":       400,
		"400 metres": 400,
		"500 yd":     457.2,
		"500 yards":  457.2,
		"100y":       91.44,
		"22.86 m":    22.86,
		"0 m":        0,
		"1650 yd":    1508.76,
	} {
		got, err := pace.ParseLength(in)
		if err != nil || !(math.Abs(got.Metres()-want) <= 1e-12*want) {
			t.Errorf("ParseLength(%q) = %v, %v; want %v m", in, got.Metres(), err, want)
		}
	}
	for in, want := range map[string]string{
		"":                              "want a number and a unit",
		"m":                             "want a number and a unit",
		"-400 m":                        "want a number and a unit",
		"NaN m":                         "want a number and a unit",
		"400.":                          "want a number and a unit",
		"400":                           "metres (m) or yards (yd)?",
		"400 feet":                      "unknown unit",
		"40: m":                         "unknown unit",
		"1e3 m":                         "unknown unit",
		"4,000 m":                       "unknown unit",
		strings.Repeat("9", 400) + " m": "want a number",
	} {
		_, err := pace.ParseLength(in)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseLength(%.20q): %v, want an error with %q", in, err, want)
		}
	}
}

func TestLengthText(t *testing.T) {
	for _, c := range []struct {
		l    pace.Length
		text string // MarshalText
		s    string // String
	}{
		{400, "400 m", "400 m"},
		{500 * pace.Yard, "500 yd", "500 yd"},
		{5 * pace.Yard, "5 yd", "5 yd"},
		{4 * pace.Yard, "3.6576 m", "3.658 m"},
		{1250 * pace.Yard, "1250 yd", "1250 yd"}, // also 1143 m
		{28575, "28575 m", "28575 m"},            // also 31250 yd
		{2.286, "2.286 m", "2.286 m"},            // also 2.5 yd
		{1.0 / 3, "0.3333333333333333 m", "0.333 m"},
		{0, "0 m", "0 m"},
	} {
		if got := c.l.String(); got != c.s {
			t.Errorf("%v m: String %q, want %q", float64(c.l), got, c.s)
		}
		b, err := c.l.MarshalText()
		if err != nil || string(b) != c.text {
			t.Errorf("%v m: MarshalText %q, %v; want %q", float64(c.l), b, err, c.text)
		}
	}
	if got, want := (3 * (pace.Length(0.1) + 0.2) / 0.9 * 100 * pace.Yard).String(), "100 yd"; got != want {
		t.Errorf("100 yd but for rounding prints %q", got)
	}
	for _, l := range []float64{-1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if _, err := pace.Length(l).MarshalText(); !errors.Is(err, pace.ErrValue) {
			t.Errorf("MarshalText of %v m: %v, want ErrValue", l, err)
		}
		if _, err := pace.Speed(l).MarshalText(); !errors.Is(err, pace.ErrValue) {
			t.Errorf("MarshalText of %v m/s: %v, want ErrValue", l, err)
		}
		_ = pace.Length(l).String() // does not panic
		_ = pace.Speed(l).String()
	}
}

func TestSpeed(t *testing.T) {
	for _, c := range []struct {
		d pace.Length
		t time.Duration
	}{
		{0, sec}, {-1, sec}, {400, 0}, {400, -sec},
		{pace.Length(math.NaN()), sec}, {pace.Length(math.Inf(1)), sec},
	} {
		if v, err := pace.MeanSpeed(c.d, c.t); !errors.Is(err, pace.ErrValue) || v != 0 {
			t.Errorf("MeanSpeed(%v, %v) = %v, %v; want ErrValue", float64(c.d), c.t, v, err)
		}
	}
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(-1), 1e-300} {
		if got := pace.Speed(v).Time(400); got != math.MaxInt64 {
			t.Errorf("speed %v takes %v, want the longest Duration", v, got)
		}
	}
	if got := pace.Speed(1).Time(-400); got != 0 {
		t.Errorf("time over -400 m is %v, want 0", got)
	}
	if got := pace.Speed(1.25).Distance(80 * sec); !(math.Abs(got.Metres()-100) <= 1e-12) {
		t.Errorf("1.25 m/s for 80 s is %v m, want 100", got.Metres())
	}
	for in, want := range map[string]string{"1.4": "m/s", "1.4 km/h": "m/s", "": "m/s", "-1 m/s": "m/s"} {
		if _, err := pace.ParseSpeed(in); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseSpeed(%q): %v, want an error with %q", in, err, want)
		}
	}
	if got := pace.Speed(-0.0001).String(); got != "0.000 m/s" {
		t.Errorf("a speed of almost nothing prints %q", got)
	}
}
