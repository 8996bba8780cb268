package pace_test

import (
	"strings"
	"testing"

	"example.com/steptest/pace"
)

// Evidence D: a day has 86400 s, so 5:46 h are 20760/86400 of it and 5:46 min
// 346/86400; noon and midnight are the twelves of a clock of two halves.
func TestTimeReadings(t *testing.T) {
	for in, want := range map[string]string{
		"5:46":         "5:46",
		"0:05:46":      "5:46",
		"05:46:00":     "5:46:00 5:46",
		"5:46:00 AM":   "5:46:00 5:46",
		"5:46 am":      "5:46:00 5:46",
		"12:05:46 AM":  "5:46",
		"5:46:00 PM":   "17:46:00 17:46",
		"5:46:00 p.m.": "17:46:00 17:46",
		"05:46:30":     "5:46:30",
		"0.240277778":  "0:00.240277778 5:46:00 5:46",
		"0.00400463":   "0:00.00400463 5:46 0:05.77",
		"0.240278":     "0:00.240278 5:46:00.02 5:46",
		"0.24":         "0:00.24",
		"12:59:59 AM":  "59:59",
		"12:30 PM":     "12:30:00 12:30",
		"11:46 PM":     "23:46:00 23:46",
		"13:30 AM":     "",
		"5.46.7":       "5:46.7",
		"5'46.7":       "5:46.7",
		`5'46"7`:       "5:46.7",
		"5′46″":        "5:46",
		"5:46,7":       "5:46.7",
		"18.0 s":       "0:18",
		"18.0":         "0:18",
		"81.6sec":      "1:21.6",
		"5.32":         "0:05.32",
		"14:00 PM":     "",
		"5 AM":         "",
		"4:75":         "",
		"soon":         "",
		"'":            "",
		"":             "",
	} {
		var got []string
		for _, r := range pace.TimeReadings(in) {
			got = append(got, pace.FormatTime(r, -1))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q: %v, want %q", in, got, want)
		}
	}
}

// What ParseTime reads is the first reading. Evidence: D.
func FuzzTimeReadings(f *testing.F) {
	for _, s := range []string{"5:46", "05:46:00", "5:46:00 AM", "0.240277778", "5.46.7", `5'46"7`, "18.0 s"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got := pace.TimeReadings(s)
		for _, r := range got {
			if r < 0 {
				t.Fatalf("%q: %v", s, got)
			}
		}
		if want, err := pace.ParseTime(s); err == nil && (len(got) == 0 || got[0] != want) {
			t.Fatalf("%q: %v, want %v first", s, got, want)
		}
	})
}

// Thirds can be typed as they are said. Evidence: D.
func TestParseLengthThirds(t *testing.T) {
	pool := pace.Must(pace.ParsePool("33 1/3 m"))
	for _, in := range []string{"533 1/3 m", "533⅓ m", "533⅓m", "533 1/3m"} {
		d, err := pace.ParseLength(in)
		if n, lengthsErr := pool.Lengths(d); err != nil || lengthsErr != nil || n != 16 {
			t.Errorf("%q: %v, %d lengths, %v %v", in, d, n, err, lengthsErr)
		}
	}
	for _, in := range []string{"533.5 1/3 m", "533 1/4 m", "1/3 m"} {
		if _, err := pace.ParseLength(in); err == nil {
			t.Errorf("%q is read", in)
		}
	}
}
