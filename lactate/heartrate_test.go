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
	good, err := lactate.Analyze(test, lactate.Options{Resamples: 500})
	if err != nil {
		t.Fatal(err)
	}
	test.Stages[3].HeartRate = 115
	slipped, err := lactate.Analyze(test, lactate.Options{Resamples: 500})
	if err != nil {
		t.Fatal(err)
	}
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

// D: a test that starts too fast shows no baseline: that is said, and LT1 and LT2 are open
// below; a good start is not, nor a wrong second sample.
func TestNoBaseline(t *testing.T) {
	xs := []float64{125, 175, 225, 250, 275}
	for _, c := range []struct {
		ys     []float64
		unseen bool
	}{{[]float64{1.2, 2.5, 4.6, 6.5, 9}, true}, {[]float64{1.2, 1.5, 2.4, 3.6, 6.2}, false},
		{[]float64{2.6, 3.1, 3.8, 5.1, 7}, true},      // slow to rise, but from above 2
		{[]float64{2.6, 2.6, 2.8, 3.9, 6}, false},     // high, and level
		{[]float64{1.7, 7.9, 2.4, 3.6, 6.2}, false}} { // a wrong sample, not a fast start
		a, err := lactate.Analyze(stages(xs, c.ys), lactate.Options{Resamples: 300})
		if err != nil {
			t.Fatal(err)
		}
		for _, th := range []lactate.Threshold{a.LT1, a.LT2} {
			if open := math.IsInf(th.Intensity.Low, -1); th.Err == nil && (open != c.unseen || has(a.Warnings, lactate.WarnNoBaseline) != c.unseen) {
				t.Errorf("%v: %v at %v, %v", c.ys, th.Method, th.Intensity, a.Warnings)
			}
		}
	}
}
