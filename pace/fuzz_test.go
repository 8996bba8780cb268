package pace_test

import (
	"encoding"
	"errors"
	"fmt"
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

// fuzzText reads any text: what is read comes back from its own text, and whatever else
// is asked of it holds.
func fuzzText[T comparable](f *testing.F, seeds []string, parse func(string) (T, error), print func(T) (string, error), holds func(v T) error) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := parse(s)
		if err != nil {
			checkError(t, s, err)
			return
		}
		text, err := print(v)
		if err != nil {
			t.Fatalf("%q → %v: %v", s, v, err)
		}
		if again, err := parse(text); err != nil || again != v {
			t.Fatalf("%q → %v → %q → %v, %v", s, v, text, again, err)
		}
		if err := holds(v); err != nil {
			t.Fatalf("%q → %v: %v", s, v, err)
		}
	})
}

// marshalled is the text that a value marshals to.
func marshalled[T encoding.TextMarshaler](v T) (string, error) {
	b, err := v.MarshalText()
	return string(b), err
}

func nothing[T any](T) error { return nil }

func FuzzParseTime(f *testing.F) {
	seeds := []string{"5:32", "1:21.6", "81.6", "1:02:03.4", "3.15", ":45", "4:75", "-1", "1e9", "0:05.32", "99999999999", "5,32", "5.32.4", "5:32 ", "0.0.0"}
	print := func(d time.Duration) (string, error) { return pace.FormatTime(d, -1), nil }
	fuzzText(f, seeds, pace.ParseTime, print, func(d time.Duration) error {
		if d < 0 {
			return errors.New("is below zero")
		}
		return nil
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
	seeds := []string{"400 m", "500yd", "22.86 M", "1 yards", "1e3 m", "400", "-1 m"}
	fuzzText(f, seeds, pace.ParseLength, marshalled, func(l pace.Length) error {
		_, err := pace.ParseLength(l.String())
		return err
	})
}

func FuzzParseSpeed(f *testing.F) {
	fuzzText(f, []string{"1.418 m/s", "1m/s", "0 M/S", "1.4", "-1 m/s"}, pace.ParseSpeed, marshalled, nothing)
}

func FuzzParsePace(f *testing.F) {
	fuzzText(f, []string{"1:21.6/100 yd", "81.6 per 100m", "1.21/100 m", "/", "1:20/0 m"}, pace.ParsePace, marshalled, nothing)
}

func FuzzParsePool(f *testing.F) {
	seeds := []string{"25 yd", "25m", "SCY", "lcm", "33 1/3 m", "33⅓ m", "33.33 m", "36⅔yd", "20yd", "25", "18.3 m", "5.0000001 m"}
	fuzzText(f, seeds, pace.ParsePool, marshalled, func(p pace.Pool) error {
		if n, err := p.Lengths(p.Distance(16)); err != nil || n != 16 {
			return fmt.Errorf("16 lengths are %d, %w", n, err)
		}
		return nil
	})
}
