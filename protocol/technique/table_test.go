package technique_test

import (
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/protocol/technique"
)

// Evidence D, by hand: 8 cycles over 20 m in 16 s are 30 /min and 2.5 m; 10 in 14 s
// are 42.86 /min, 43 % more, and 2 m, 20 % less; 400 m at 1.3 m/s are 1:16.9 per 100 m.
// Without resamples there are no intervals.
func TestTable(t *testing.T) {
	tech := techniqueOf(t, stroked([]float64{1.3, 1.4, 1.5}, []float64{8, 9, 10}, []float64{16, 15, 14}), technique.Options{})
	inside := lactate.Threshold{Intensity: lactate.Estimate{Value: 1.4}}
	outside := lactate.Threshold{Intensity: lactate.Estimate{Value: 1.6}}
	tab := tech.Table(&lactate.Analysis{LT1: inside, LT2: outside})
	words := strings.Join(strings.Fields(tab.String()), " ")
	for _, want := range []string{"the stroke, cycles over 20 m in mid-pool", "repeat 1 1:16.9 30.0", "2.50", "at LT1 1:11.4", "rate changes by +43 %", "length changes by −20 %", "is not known: found 3 different speeds", "to 0.96 of the mean of the repeat"} {
		if !strings.Contains(words, want) {
			t.Errorf("lacks %q:\n%s", want, tab)
		}
	}
	if strings.Contains(words, "LT2") || len(tech.Table(nil).Rows) != 3 {
		t.Errorf("LT2 lies outside the test:\n%s", tab)
	}
}
