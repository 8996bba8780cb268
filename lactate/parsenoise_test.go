package lactate_test

import (
	"strings"
	"testing"

	"example.com/steptest/lactate"
)

// Evidence D: each number is the one that stands there.
func TestParseNoise(t *testing.T) {
	for s, want := range map[string][2]float64{
		"0.2 mmol/L, 3 %": {0.2, 0.03}, "0,2mmol/l;3%": {0.2, 0.03}, "5 %": {0, 0.05}, "0.4 mmol/L": {0.4, 0}, "3 % + 0.1 mmol/L": {0.1, 0.03},
	} {
		n, err := lactate.ParseNoise(s)
		d := lactate.DefaultNoise()
		d.Absolute, d.Relative = want[0], want[1]
		if err != nil || n != d {
			t.Errorf("%q: %+v, %v, want %v", s, n, err, want)
		}
	}
	for _, s := range []string{"", "0.2", "much", "20 mmol/L", "60 %", "0 mmol/L", "-0.2 mmol/L", "1 % 2 %", "0.2 mmol/L, 3 % or so", strings.Repeat("9", 400) + " %"} {
		if n, err := lactate.ParseNoise(s); err == nil || !strings.Contains(err.Error(), `want an error such as "0.2 mmol/L, 3 %"`) {
			t.Errorf("%q: %+v, %v", s, n, err)
		}
	}
}
