package pace_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
)

const (
	ms  = time.Millisecond
	sec = time.Second
	min = time.Minute
)

// Evidence D: the value is the definition of the notation.
func TestParseTime(t *testing.T) {
	for in, want := range map[string]time.Duration{
		"5:32":                    5*min + 32*sec,
		"5:32.4":                  5*min + 32*sec + 400*ms,
		" 1:21.6 ":                81600 * ms,
		"81.6":                    81600 * ms,
		"59.8":                    59800 * ms,
		"24.51":                   24510 * ms,
		"20.00":                   20 * sec,
		"1:02:03.4":               time.Hour + 2*min + 3400*ms,
		"332":                     332 * sec,
		"15":                      15 * sec,
		"0":                       0,
		"0:00":                    0,
		":45":                     45 * sec,
		":45.25":                  45250 * ms,
		"0:05.32":                 5320 * ms,
		"00:45":                   45 * sec,
		"75:10":                   75*min + 10*sec,
		"5.75":                    5750 * ms, // 5:75 is no time
		"9.6":                     9600 * ms, // 9:60 is no time
		"5.320":                   5320 * ms, // no one writes 5:320
		"0.000000001":             1,
		"1:00.123456789":          min + 123456789,
		"2562047:47:16.854775807": math.MaxInt64,
		"2562047:47:15.9":         math.MaxInt64 - 954775807,
	} {
		got, err := pace.ParseTime(in)
		if err != nil || got != want {
			t.Errorf("ParseTime(%q) = %v, %v; want %v", in, got, err, want)
		}
	}
}

func TestParseTimeAmbiguous(t *testing.T) {
	for in, readings := range map[string][2]string{
		"3.15":  {"3:15", "3.15 s"},
		"5.32":  {"5:32", "5.32 s"},
		"5.3":   {"5:30", "5.3 s"}, // a spreadsheet's 5.30
		"1.21":  {"1:21", "1.21 s"},
		"0.45":  {"0:45", "0.45 s"},
		"19.59": {"19:59", "19.59 s"},
	} {
		_, err := pace.ParseTime(in)
		if !errors.Is(err, pace.ErrAmbiguous) {
			t.Errorf("ParseTime(%q): %v, want ErrAmbiguous", in, err)
			continue
		}
		var p *pace.ParseError
		if !errors.As(err, &p) || p.Input != in || p.What != "time" {
			t.Errorf("ParseTime(%q): %#v is not a ParseError that holds it", in, err)
		}
		for _, r := range readings {
			if !strings.Contains(err.Error(), r) {
				t.Errorf("ParseTime(%q): %v does not name %q", in, err, r)
			}
		}
		// what the message tells the reader to write is read
		_, advice, _ := strings.Cut(err.Error(), "write ")
		for _, w := range strings.Split(advice, " or ") {
			if _, err := pace.ParseTime(w); err != nil {
				t.Errorf("ParseTime(%q) advises %q, which gives %v", in, w, err)
			}
		}
	}
}

func TestParseTimeRefuses(t *testing.T) {
	for in, want := range map[string]string{
		"":                            "empty",
		"   ":                         "empty",
		"4:75":                        "75 after a colon",
		"1:60.0":                      "60 after a colon",
		"1:75:10":                     "75 after a colon",
		"-5:32":                       "negative",
		"5:3":                         "two digits",
		"1:2:03":                      "two digits",
		"5:320":                       "two digits",
		"81,6":                        "comma",
		"5.32.4":                      "two points",
		"1:2:3:4":                     "more than hours",
		"5:32.":                       "no digits after the point",
		"5:32.1234567891":             "nine decimals",
		"NaN":                         "want a time",
		"Inf":                         "want a time",
		"1e3":                         "want a time",
		"0x10":                        "want a time",
		"5:32 min":                    "want a time",
		"+5:32":                       "want a time",
		"5:32.4s":                     "want a time",
		"::45":                        "want a time",
		"5:":                          "want a time",
		".5":                          "want a time",
		"٥:٣٢":                        "want a time",
		"99999999999:00":              "too long",
		"4000000000:59:59":            "too long",
		"2562047:47:16.854775808":     "too long",
		"2562047:47:17":               "too long",
		strings.Repeat("7", 40) + "x": `time "` + strings.Repeat("7", 40) + "\"…",
		strings.Repeat("9", 1<<20):    "too long",
	} {
		_, err := pace.ParseTime(in)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseTime(%.20q): %v, want an error with %q", in, err, want)
		}
		if err != nil && len(err.Error()) > 200 {
			t.Errorf("ParseTime(%.20q): error of %d bytes", in, len(err.Error()))
		}
	}
}

// Evidence D: rounding half up to the last printed decimal.
func TestFormatTime(t *testing.T) {
	for _, c := range []struct {
		t        time.Duration
		decimals int
		want     string
	}{
		{332 * sec, 0, "5:32"},
		{81600 * ms, 1, "1:21.6"},
		{3723400 * ms, 1, "1:02:03.4"},
		{119949 * ms, 1, "1:59.9"},
		{119950 * ms, 1, "2:00.0"},
		{119999 * ms, 0, "2:00"},
		{3599950 * ms, 1, "1:00:00.0"},
		{59960 * ms, 1, "1:00.0"},
		{45 * sec, 2, "0:45.00"},
		{5320 * ms, 2, "0:05.32"},
		{0, 1, "0:00.0"},
		{-2450 * ms, 1, "-0:02.5"},
		{-1 * ms, 1, "0:00.0"},
		{81600 * ms, -1, "1:21.6"},
		{332 * sec, -1, "5:32"},
		{1, -1, "0:00.000000001"},
		{min + 50*ms, -1, "1:00.05"},
		{1500 * ms, 10, "0:01.500000000"},
		{math.MaxInt64, 0, "2562047:47:17"},
		{math.MinInt64, 0, "-2562047:47:17"},
	} {
		if got := pace.FormatTime(c.t, c.decimals); got != c.want {
			t.Errorf("FormatTime(%v, %d) = %q, want %q", c.t, c.decimals, got, c.want)
		}
	}
}
