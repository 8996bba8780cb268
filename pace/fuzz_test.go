package pace_test

import (
	"errors"
	"testing"
	"time"
	"unicode/utf8"

	"example.com/steptest/pace"
)

// checkError holds a parser's error to what all of them promise.
func checkError(t *testing.T, in string, err error) {
	var p *pace.ParseError
	if !errors.As(err, &p) {
		t.Fatalf("%q: %v is not a ParseError", in, err)
	}
	if len(err.Error()) > 400 || !utf8.ValidString(err.Error()) && utf8.ValidString(in) {
		t.Fatalf("%q: error %q", in, err)
	}
}

func FuzzParseTime(f *testing.F) {
	for _, s := range []string{"5:32", "1:21.6", "81.6", "1:02:03.4", "3.15", ":45", "4:75", "-1", "1e9", "0:05.32", "99999999999", "5,32", "5.32.4", "5:32 ", "0.0.0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := pace.ParseTime(s)
		if err != nil {
			checkError(t, s, err)
			return
		}
		again, err := pace.ParseTime(pace.FormatTime(d, -1))
		if d < 0 || err != nil || again != d {
			t.Fatalf("%q → %v → %q → %v, %v", s, d, pace.FormatTime(d, -1), again, err)
		}
	})
}

func FuzzFormatTime(f *testing.F) {
	f.Add(int64(119970*time.Millisecond), 1)
	f.Add(int64(-1<<63), -1)
	f.Fuzz(func(t *testing.T, n int64, decimals int) {
		s := pace.FormatTime(time.Duration(n), decimals)
		if s[0] == '-' {
			s = s[1:]
		}
		if _, err := pace.ParseTime(s); err != nil && n > -1<<62 && n < 1<<62 {
			t.Fatalf("%d prints as %q: %v", n, s, err)
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"400 m", "500yd", "22.86 M", "1 yards", "1e3 m", "400", "-1 m"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := pace.ParseLength(s)
		if err != nil {
			checkError(t, s, err)
			return
		}
		b, err := l.MarshalText()
		if err != nil {
			t.Fatalf("%q → %v: %v", s, float64(l), err)
		}
		if again, err := pace.ParseLength(string(b)); err != nil || again != l {
			t.Fatalf("%q → %q → %v, %v", s, b, again, err)
		}
		if _, err := pace.ParseLength(l.String()); err != nil {
			t.Fatalf("%q → String %q: %v", s, l, err)
		}
	})
}

func FuzzParseSpeed(f *testing.F) {
	for _, s := range []string{"1.418 m/s", "1m/s", "0 M/S", "1.4", "-1 m/s"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := pace.ParseSpeed(s)
		if err != nil {
			checkError(t, s, err)
			return
		}
		b, err := v.MarshalText()
		if err != nil {
			t.Fatalf("%q → %v: %v", s, float64(v), err)
		}
		if again, err := pace.ParseSpeed(string(b)); err != nil || again != v {
			t.Fatalf("%q → %q → %v, %v", s, b, again, err)
		}
	})
}

func FuzzParsePace(f *testing.F) {
	for _, s := range []string{"1:21.6/100 yd", "81.6 per 100m", "1.21/100 m", "/", "1:20/0 m"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := pace.ParsePace(s)
		if err != nil {
			checkError(t, s, err)
			return
		}
		b, err := p.MarshalText()
		if err != nil {
			t.Fatalf("%q → %v: %v", s, p, err)
		}
		if again, err := pace.ParsePace(string(b)); err != nil || again != p {
			t.Fatalf("%q → %q → %v, %v", s, b, again, err)
		}
	})
}

func FuzzParsePool(f *testing.F) {
	for _, s := range []string{"25 yd", "25m", "SCY", "lcm", "33 1/3 m", "33⅓ m", "33.33 m", "36⅔yd", "20yd", "25", "18.3 m", "5.0000001 m"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := pace.ParsePool(s)
		if err != nil {
			checkError(t, s, err)
			return
		}
		if again, err := pace.ParsePool(p.String()); err != nil || again != p {
			t.Fatalf("%q → %v → %v, %v", s, p, again, err)
		}
		if n, err := p.Lengths(p.Distance(16)); err != nil || n != 16 {
			t.Fatalf("%v: 16 lengths are %d, %v", p, n, err)
		}
	})
}
