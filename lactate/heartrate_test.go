package lactate_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate"
)

// D: 115 written for 151 is left out and named; the heart rate at a threshold is read between
// those beside it, and lies inside its interval.
func TestOddHeartRate(t *testing.T) {
	test := stages([]float64{1.10, 1.17, 1.24, 1.31, 1.38, 1.45}, []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9})
	for i, h := range []float64{120, 131, 142, 151, 163, 175} {
		test.Stages[i].HeartRate = h
	}
	good := analysed(t, test, lactate.Options{Resamples: 500})
	test.Stages[3].HeartRate = 115
	slipped := analysed(t, test, lactate.Options{Resamples: 500})
	if has(good.Warnings, lactate.WarnOddHeartRate) || !has(slipped.Warnings, lactate.WarnOddHeartRate) {
		t.Errorf("warnings %v, and with a slip %v", good.Warnings, slipped.Warnings)
	}
	for i, pair := range [][2]lactate.Threshold{{good.LT1, slipped.LT1}, {good.LT2, slipped.LT2}} {
		a, b := pair[0].HeartRate, pair[1].HeartRate
		if !(math.Abs(a.Value-b.Value) <= 3) || !(b.Low <= b.Value && b.Value <= b.High) {
			t.Errorf("LT%d: %v, and with a slip %v", i+1, a, b)
		}
	}
}
