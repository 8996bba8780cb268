package table_test

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

func estimate(v, low, high float64) lactate.Estimate {
	return lactate.Estimate{Value: v, Low: low, High: high}
}

// Evidence D: each number in its words, by hand.
func TestWords(t *testing.T) {
	none := math.NaN()
	digits := func(n int) func(float64) string {
		return func(v float64) string { return table.Number(v, n) }
	}
	for _, c := range []struct{ got, want string }{
		{table.Within(estimate(1.2345, 1.2, 1.3), digits(3)), "1.234 (1.200 to 1.300)"},
		{table.Within(estimate(-0.0001, none, none), digits(3)), "0.000"},
		{table.Within(estimate(-0.31, -0.6, -0.01), digits(1)), "−0.3 (−0.6 to 0.0)"},
		{table.Within(estimate(1, math.Inf(-1), 2), digits(0)), "1 (open to 2)"},
		// 100 m at 1.25, 1.2 and 1.3 m/s: 80, 83.33 and 76.92 s.
		{table.Pace(estimate(1.25, 1.2, 1.3), 100*pace.Metre), "1:20.0 (1:23.3 to 1:16.9)"},
		{table.Clock(119.97), "2:00.0"},
		{table.Method(lactate.AboveBaseline{Rise: 0.5}), "baseline + 0.5 mmol/L"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestWrap(t *testing.T) {
	text := table.Wrap("  - ", strings.Repeat("zwölf ", 60), table.Width)
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if got := strings.Join(strings.Fields(text), " "); got != "- "+strings.TrimSpace(strings.Repeat("zwölf ", 60)) {
		t.Errorf("words were lost: %q", got)
	}
	for i, l := range lines {
		if n := utf8.RuneCountInString(l); n > table.Width {
			t.Errorf("line of %d columns", n)
		}
		if i > 0 && !strings.HasPrefix(l, "    zw") {
			t.Errorf("line %q is not indented as the first", l)
		}
	}
	if len(lines) < 4 {
		t.Errorf("%d lines", len(lines))
	}
}

// Warnings are said with the noun of the options.
func TestWarnings(t *testing.T) {
	ws := []lactate.Warning{{Words: "{stage} {1} is odd", Stages: []int{3}}}
	if got := table.Warnings(ws, table.Options{Noun: "repeat"}).Notes; len(got) != 1 || got[0] != "repeat 3 is odd" {
		t.Errorf("got %q", got)
	}
}
