package pace_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/steptest/pace"
)

func TestParsePool(t *testing.T) {
	third := pace.Must(pace.ParsePool("33 1/3 m"))
	for in, want := range map[string]pace.Pool{
		"25 yd": pace.SCY(), "25yd": pace.SCY(), "SCY": pace.SCY(), "scy": pace.SCY(), "25 yards": pace.SCY(), "25.0 yd": pace.SCY(),
		"25 m": pace.SCM(), "25m": pace.SCM(), "25M": pace.SCM(), "SCM": pace.SCM(),
		"50 m": pace.LCM(), " LCM ": pace.LCM(),
		"33⅓ m": third, "33⅓m": third, "33 1/3m": third, "33 ⅓ m": third, "33.33 m": third, "33.330 m": third, "33.333 m": third,
	} {
		got, err := pace.ParsePool(in)
		if err != nil || got != want {
			t.Errorf("ParsePool(%q) = %v, %v; want %v", in, got, err, want)
		}
	}
	for in, want := range map[string]string{
		"":          "want a length and a unit",
		"olympic":   "want a length and a unit",
		"yd":        "want a length and a unit",
		"25":        "yards (yd) or metres (m)?",
		"33 1/3":    "yards (yd) or metres (m)?",
		"25 ft":     "unknown unit",
		"25 1/7 m":  "unknown unit",
		"25m x 50m": "unknown unit",
		"2 m":       "5 to 200",
		"200.5 m":   "5 to 200",
	} {
		if _, err := pace.ParsePool(in); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("ParsePool(%q): %v, want an error with %q", in, err, want)
		}
	}
}

func TestPool(t *testing.T) {
	for _, c := range []struct {
		pool   string
		metres float64 // evidence B: 1 yd = 0.9144 m
		text   string
		per100 string
	}{
		{"25 yd", 22.86, "25 yd", "100 yd"},
		{"20yd", 18.288, "20 yd", "100 yd"},
		{"25m", 25, "25 m", "100 m"},
		{"50 m", 50, "50 m", "100 m"},
		{"33⅓ m", 100.0 / 3, "33 1/3 m", "100 m"},
		{"33⅓ yd", 30.48, "33 1/3 yd", "100 yd"},
		{"36⅔ yd", 33.528, "36 2/3 yd", "100 yd"},
		{"18.3 m", 18.3, "18.3 m", "100 m"},
	} {
		p, err := pace.ParsePool(c.pool)
		if err != nil {
			t.Error(err)
			continue
		}
		if !(math.Abs(p.Length().Metres()-c.metres) <= 1e-12*c.metres) || p.String() != c.text || p.Per100().String() != c.per100 {
			t.Errorf("%q: %v m, %q, paces per %v; want %v m, %q, %v", c.pool, p.Length().Metres(), p, p.Per100(), c.metres, c.text, c.per100)
		}
	}
	if p, err := pace.NewPool(36.67, pace.Metre); err != nil || p != pace.Must(pace.ParsePool("36⅔ m")) {
		t.Errorf("a pool of 36.67 m is %v, %v", p, err)
	}
	var none pace.Pool
	if !none.IsZero() || none.Length() != 0 || none.Per100() != 100 || none.String() != "no pool" || none.Distance(4) != 0 {
		t.Errorf("the zero Pool: %v, %v, %v", none, none.Length(), none.Per100())
	}
	if _, err := none.Lengths(100); !errors.Is(err, pace.ErrValue) || !strings.Contains(err.Error(), "found no pool") {
		t.Errorf("lengths of no pool: %v", err)
	}
	if pace.SCY().UnitSymbol() != "yd" || pace.SCM().UnitSymbol() != "m" || pace.SCY().Unit() != pace.Yard {
		t.Error("units of SCY and SCM")
	}
	for _, c := range []struct {
		n    float64
		unit pace.Length
	}{{25, 1.5}, {25, 0}, {math.NaN(), 1}, {4, 1}, {math.Inf(1), pace.Yard}} {
		if _, err := pace.NewPool(c.n, c.unit); !errors.Is(err, pace.ErrValue) {
			t.Errorf("NewPool(%v, %v): %v, want ErrValue", c.n, c.unit, err)
		}
	}
}

func TestPoolLengths(t *testing.T) {
	for _, c := range []struct {
		pool, distance string
		want           int
	}{
		{"25 yd", "500 yd", 20},
		{"25 yd", "1650 yd", 66},
		{"25 m", "400 m", 16},
		{"50 m", "1500 m", 30},
		{"33⅓ m", "100 m", 3},
		{"33⅓ m", "400 m", 12},
		{"36⅔ yd", "440 yd", 12},
		{"20 yd", "100 yd", 5},
	} {
		got, err := pace.Must(pace.ParsePool(c.pool)).Lengths(pace.Must(pace.ParseLength(c.distance)))
		if err != nil || got != c.want {
			t.Errorf("%s in %s: %d, %v; want %d lengths", c.distance, c.pool, got, err, c.want)
		}
		if d := pace.Must(pace.ParsePool(c.pool)).Distance(c.want); d != pace.Must(pace.ParseLength(c.distance)) {
			t.Errorf("%d lengths of %s: %v, want %s", c.want, c.pool, d, c.distance)
		}
	}
	for distance, want := range map[string]string{
		"400 m": "17 are 425 yd and 18 are 450 yd",
		"15 yd": "at least one length",
		"0.5 m": "at least one length",
		"0 m":   "want a positive one",
	} {
		if _, err := pace.SCY().Lengths(pace.Must(pace.ParseLength(distance))); !errors.Is(err, pace.ErrValue) || !strings.Contains(err.Error(), want) {
			t.Errorf("%s in 25 yd: %v, want an error with %q", distance, err, want)
		}
	}
	if _, err := pace.Must(pace.ParsePool("33⅓ m")).Lengths(50); err == nil || !strings.Contains(err.Error(), "1.50 lengths of a 33 1/3 m pool, want whole lengths: 1 are 33.33 m and 2 are 66.67 m") {
		t.Errorf("50 m in 33⅓ m: %v", err)
	}
	if n, err := pace.Must(pace.ParsePool("33.34 m")).Lengths(100); err == nil {
		t.Errorf("100 m is %d lengths of 33.34 m, 2 cm out", n)
	}
	for _, d := range []float64{math.NaN(), math.Inf(1), -25} {
		if n, err := pace.SCM().Lengths(pace.Length(d)); err == nil {
			t.Errorf("%v m is %d lengths", d, n)
		}
	}
}

func TestEvenSplits(t *testing.T) {
	p := pace.SCM()
	got, err := p.EvenSplits(250, pace.Must(pace.ParseTime("3:20")), p.Per100())
	if err != nil {
		t.Fatal(err)
	}
	want := []pace.Split{ // evidence D: 80 s per 100 m
		{Distance: 100, Time: 80 * sec, Lap: 80 * sec},
		{Distance: 200, Time: 160 * sec, Lap: 80 * sec},
		{Distance: 250, Time: 200 * sec, Lap: 40 * sec},
	}
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("split %d: %v, want %v", i+1, got[i], want[i])
		}
	}
	if s, err := p.EvenSplits(400, pace.Must(pace.ParseTime("5:32.4")), p.Length()); err != nil || len(s) != 16 {
		t.Errorf("400 m by lengths of 25 m: %d splits, %v; want 16", len(s), err)
	}
	if s, err := p.EvenSplits(25, math.MaxInt64, 25); err != nil || s[0].Time != math.MaxInt64 {
		t.Errorf("one length in the longest time: %v, %v", s, err)
	}
	for _, c := range []struct{ d, every pace.Length }{{410, 100}, {400, 30}, {0, 100}, {400, 0}, {400, pace.Length(math.NaN())}} {
		if s, err := p.EvenSplits(c.d, sec, c.every); !errors.Is(err, pace.ErrValue) || s != nil {
			t.Errorf("EvenSplits(%v, 1 s, %v) = %v, %v; want ErrValue", c.d, c.every, s, err)
		}
	}
	// to the nearest nanosecond: 5/3 and 10/3
	if s, err := p.EvenSplits(75, 5, 25); err != nil || s[0].Time != 2 || s[1].Time != 3 || s[2].Time != 5 {
		t.Errorf("75 m in 5 ns: %v, %v; want 2, 3, 5", s, err)
	}
	if s, err := p.EvenSplits(100, 6, 25); err != nil || s[0].Time != 2 || s[1].Time != 3 || s[2].Time != 5 {
		t.Errorf("100 m in 6 ns: %v, %v; want 2, 3, 5, 6", s, err)
	}
	if _, err := p.EvenSplits(400, 0, 100); !errors.Is(err, pace.ErrValue) {
		t.Errorf("no time: %v", err)
	}
}
