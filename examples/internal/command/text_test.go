package command_test

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

func estimate(v, low, high float64) lactate.Estimate {
	return lactate.Estimate{Value: v, Low: low, High: high}
}

var none = math.NaN()

func TestFaster(t *testing.T) {
	for _, c := range []struct {
		in   lactate.Estimate
		want string
	}{
		{estimate(1.24, 0.66, 1.81), "1.2 s faster (0.7 to 1.8)"},
		{estimate(-1.24, -1.81, -0.66), "1.2 s slower (0.7 to 1.8)"},
		{estimate(0.3, -0.4, 1), "0.3 s faster (0.4 slower to 1.0 faster)"},
		{estimate(-0.3, -1, 0.4), "0.3 s slower (0.4 faster to 1.0 slower)"},
		{estimate(0, none, none), "0.0 s faster"},
		{estimate(1, 0.5, math.Inf(1)), "1.0 s faster (0.5 to open)"},
	} {
		if got := command.Faster(c.in); got != c.want {
			t.Errorf("Faster(%v) = %q, want %q", c.in, got, c.want)
		}
	}
}

func TestInterval(t *testing.T) {
	for _, c := range []struct {
		got, want string
	}{
		{command.Interval(estimate(1.2345, 1.2, 1.3), command.Number(3)), "1.234 (1.200 to 1.300)"},
		{command.Interval(estimate(-0.0001, none, none), command.Number(3)), "0.000"},
		{command.Interval(estimate(-0.31, -0.6, -0.01), command.Number(1)), "-0.3 (-0.6 to 0.0)"},
		{command.Interval(estimate(1, math.Inf(-1), 2), command.Number(0)), "1 (open to 2)"},
		// 100 m at 1.25, 1.2 and 1.3 m/s: 80, 83.33 and 76.92 s.
		{command.PaceInterval(estimate(1.25, 1.2, 1.3), 100*pace.Metre), "1:20.0 (1:23.3 to 1:16.9)"},
		{command.Clock(119.97), "2:00.0"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// Evidence D: an interval of 90 % leaves zero out for p below 0.10, one of 95 %
// for p below 0.05.
func TestSeen(t *testing.T) {
	const seen = "Seen: chance alone would show as much fewer than 5 times in a hundred."
	if got := command.Seen(0.05, 0.90); got != seen+" A bracket of 90 % that just leaves zero out falls short of that." {
		t.Errorf("got %q", got)
	}
	if got := command.Seen(0.05, 0.95); got != seen {
		t.Errorf("got %q", got)
	}
}

// Evidence D: pace times speed is the length, and the ends change places.
func TestPaces(t *testing.T) {
	e := command.Paces(estimate(1.25, 1, 1.6), 100*pace.Metre)
	if e != estimate(80, 62.5, 100) {
		t.Errorf("got %v", e)
	}
	// From 1.25 to 1.6 m/s, 100 m take 80 and 62.5 s.
	if g := command.Gain(estimate(0.35, 0, math.Inf(1)), 1.25, 100*pace.Metre); !(math.Abs(g.Value-17.5) < 1e-9) || g.Low != 0 || !math.IsInf(g.High, 1) {
		t.Errorf("got %v", g)
	}
}

func TestParagraph(t *testing.T) {
	var b bytes.Buffer
	text := strings.Repeat("zwölf ", 60)
	command.Paragraph(&b, "  - ", text)
	lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
	if got := strings.Join(strings.Fields(b.String()), " "); got != "- "+strings.TrimSpace(text) {
		t.Errorf("words were lost: %q", got)
	}
	for i, l := range lines {
		if utf8.RuneCountInString(l) > command.Width {
			t.Errorf("line of %d columns", utf8.RuneCountInString(l))
		}
		if lead := "    "; i > 0 && !strings.HasPrefix(l, lead+"zw") {
			t.Errorf("line %q is not indented as the first", l)
		}
	}
	if len(lines) < 4 {
		t.Errorf("%d lines", len(lines))
	}
}
