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

// D: a test that starts too fast shows no baseline: that is said, and LT1 is open below; a good
// start is not, nor a wrong second sample.
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
		if open := math.IsInf(a.LT1.Intensity.Low, -1); open != c.unseen || has(a.Warnings, lactate.WarnNoBaseline) != c.unseen {
			t.Errorf("%v: LT1 %v, %v", c.ys, a.LT1, a.Warnings)
		}
	}
}

// D: a baseline below the one seen is hardly below 0.5 mmol/L: a rise above it is not reached
// before the curve reaches that much more, or its own reading.
func TestUnseenBaselineHasAFloor(t *testing.T) {
	test := stages([]float64{125, 175, 225, 250, 275}, []float64{0.82, 1.42, 2.85, 5.86, 9.87})
	level := lactate.Fixed{Lactate: 2}
	a, err := lactate.Analyze(test, lactate.Options{Resamples: 1000, Methods: []lactate.Method{level}})
	if err != nil {
		t.Fatal(err)
	}
	if !has(a.Warnings, lactate.WarnNoBaseline) || !math.IsInf(a.LT1.Intensity.Low, -1) {
		t.Errorf("LT1 %v, %v", a.LT1.Intensity, a.Warnings)
	}
	if got, want := a.LT2.Intensity.Low, a.Thresholds[0].Intensity.Low; got != want || a.LT2.Lactate.Low != 2 {
		t.Errorf("LT2 from %v, %v; the curve reaches 2 mmol/L at %v or above", a.LT2.Intensity, a.LT2.Lactate, want)
	}
	// Lower still: the bracket starts no higher than the reading.
	for i := range test.Stages {
		test.Stages[i].Lactate -= 0.5
	}
	if a, err = lactate.Analyze(test, lactate.Options{Resamples: 1000}); err != nil {
		t.Fatal(err)
	}
	if e := a.LT2.Intensity; !has(a.Warnings, lactate.WarnNoBaseline) || !(e.Low <= e.Value) || math.IsInf(e.Low, 0) {
		t.Errorf("LT2 %v, %v", e, a.Warnings)
	}
}

// D: lactate that climbs evenly from the start shows no bend, and that is said; one that bends
// after a first small rise does not.
func TestClimbsFromTheStart(t *testing.T) {
	xs := []float64{125, 175, 225, 250, 275, 300}
	for _, c := range []struct {
		ys     []float64
		climbs bool
	}{{[]float64{1.06, 1.41, 1.9, 2.04, 3.04, 4.59}, true}, {[]float64{1.06, 1.41, 2.4, 3.04, 4.5, 6.6}, false},
		{[]float64{1.06, 1.2, 1.9, 2.04, 3.04, 4.59}, false}, {[]float64{1.06, 1.41, 1.5, 2.04, 3.04, 4.59}, false}} {
		a, err := lactate.Analyze(stages(xs, c.ys), lactate.Options{Resamples: 300})
		if err != nil {
			t.Fatal(err)
		}
		if has(a.Warnings, lactate.WarnNoBaseline) != c.climbs || math.IsInf(a.LT1.Intensity.Low, -1) {
			t.Errorf("%v: LT1 %v, %v", c.ys, a.LT1.Intensity, a.Warnings)
		}
	}
}

// D: Dmax at LT1 or below it is no LT2, nor one that lies too close to tell.
func TestDmaxIsNoLT2(t *testing.T) {
	xs := []float64{125, 175, 225, 250, 275, 300, 325}
	for _, c := range []struct {
		ys  []float64
		low bool // warned of, and then not among the definitions of LT2
	}{
		{[]float64{1.17, 1.52, 1.22, 1.54, 2.04, 3.32, 4.72}, true},
		{[]float64{1.3, 1.4, 1.5, 1.9, 2.6, 3.4, 4.5}, true},
		{[]float64{1.0, 1.0, 1.1, 1.6, 2.9, 6.2, 12}, false},
	} {
		a, err := lactate.Analyze(stages(xs, c.ys), lactate.Options{Resamples: 1000})
		if err != nil {
			t.Fatal(err)
		}
		s := a.Spread(lactate.SecondThreshold)
		if in := s.Lowest.Method == (lactate.MaxDistance{}); has(a.Warnings, lactate.WarnDmaxLow) != c.low || in == c.low {
			t.Errorf("%v: LT1 %v, %v; %v", c.ys, a.LT1.Intensity, s, a.Warnings)
		}
	}
}
