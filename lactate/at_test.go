package lactate_test

import (
	"errors"
	"math"
	"testing"

	"example.com/steptest/lactate"
)

// D: what is read at a threshold is what stands beside it, and nothing is read
// outside the tested range.
func TestReadAt(t *testing.T) {
	a := analysed(t, sixStages, lactate.Options{})
	for _, th := range a.Thresholds {
		y, err := a.LactateAt(th.Intensity.Value)
		if err != nil || y != th.Lactate.Value {
			t.Errorf("%v: lactate %v (%v), want %v", th.Method, y, err, th.Lactate.Value)
		}
		h, err := a.HeartRateAt(th.Intensity.Value)
		if err != nil || h != th.HeartRate.Value {
			t.Errorf("%v: heart rate %v (%v), want %v", th.Method, h, err, th.HeartRate.Value)
		}
		x, err := a.IntensityAt(th.Lactate.Value)
		if err != nil || !(math.Abs(x-th.Intensity.Value) <= 1e-9) {
			t.Errorf("%v: intensity %v (%v), want %v", th.Method, x, err, th.Intensity.Value)
		}
	}
	// Halfway between two stages stands the mean of their heart rates.
	if h, err := a.HeartRateAt((1.149 + 1.183) / 2); err != nil || !(math.Abs(h-(121+132)/2.) <= 1e-9) {
		t.Errorf("heart rate %v, %v", h, err)
	}
	// At the ends stands what was measured there.
	for _, s := range []lactate.Stage{sixStages.Stages[0], sixStages.Stages[5]} {
		h, err := a.HeartRateAt(s.Intensity)
		y, err2 := a.LactateAt(s.Intensity)
		if err != nil || h != s.HeartRate || err2 != nil || y != a.Curve.Predict(s.Intensity) {
			t.Errorf("at %v: heart rate %v, %v, lactate %v, %v", s.Intensity, h, err, y, err2)
		}
	}
	for _, x := range []float64{0, 1.148, 1.339, math.NaN(), math.Inf(1)} {
		if _, err := a.LactateAt(x); !errors.Is(err, lactate.ErrOutsideRange) {
			t.Errorf("lactate at %v: %v", x, err)
		}
		if _, err := a.HeartRateAt(x); !errors.Is(err, lactate.ErrOutsideRange) {
			t.Errorf("heart rate at %v: %v", x, err)
		}
	}
	for _, y := range []float64{0, -1, math.NaN()} { // zero is not the default of a method
		if x, err := a.IntensityAt(y); err == nil {
			t.Errorf("%v mmol/L at %v", y, x)
		}
	}
	if _, err := a.IntensityAt(20); !errors.Is(err, lactate.ErrNotReached) {
		t.Errorf("20 mmol/L: %v", err)
	}
	bare := lactate.Test{}
	for _, s := range sixStages.Stages {
		s.HeartRate = 0
		bare.Stages = append(bare.Stages, s)
	}
	a = analysed(t, bare, lactate.Options{})
	if _, err := a.HeartRateAt(1.2); !errors.Is(err, lactate.ErrMissing) {
		t.Errorf("no heart rates: %v", err)
	}
}
