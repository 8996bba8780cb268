package lactate_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.com/steptest/lactate"
)

// many is a test of n stages from 1.00 to 1.50 m/s, invented, with noise.
func many(n int) (t lactate.Test) {
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range n {
		x := 1 + 0.5*float64(i)/float64(n-1)
		y := max(0.1, 1+0.0002*math.Exp(7*x)+0.1*rng.NormFloat64())
		t.Stages = append(t.Stages, lactate.Stage{Intensity: x, Lactate: y, HeartRate: 100 * x, Duration: time.Minute})
	}
	return t
}

// Ten thousand stages by every definition on both curves, with intervals: the
// work is bounded by a few passes a fit. Influence, which fits once for each
// stage, gets a thousand, and a comparison, which tries every shape at every shift, 700.
func TestTenThousandStages(t *testing.T) {
	n, left := 10_000, 150
	if testing.Short() {
		n, left = 500, 30
	}
	test := many(n)
	p := beside(t, test, lactate.SideBySideOptions{Unit: "m/s", Options: lactate.Options{Resamples: 100}})
	for _, row := range p.Rows {
		for _, th := range row.Cells {
			checkThreshold(t, th, 1, 1.5)
		}
	}
	// D: the true level of 4 mmol/L is at log(3/0.0002)/7 = 1.3737 m/s, and
	// the mean of so many samples finds it.
	a := analysed(t, test, lactate.Options{})
	x, err := (lactate.Fixed{Lactate: 4}).Locate(test, a.Curve)
	if want := math.Log(3/0.0002) / 7; err != nil || !(math.Abs(x-want) <= 0.001) {
		t.Errorf("4 mmol/L at %v (%v), want %v", x, err, want)
	}
	c, err := lactate.Compare(many(120), many(80), lactate.CompareOptions{})
	if err != nil || !(math.Abs(c.Shift.Value) <= 0.002) {
		t.Errorf("shift %v (%v), want 0", c, err)
	}
	if _, err := lactate.Influence(many(left), lactate.Options{}); err != nil {
		t.Error(err)
	}
}

// Stages whose intensities agree to the last bit, or all but, are as many
// samples of one intensity; and those that agree altogether are no test.
func TestEqualIntensities(t *testing.T) {
	near := lactate.Test{Stages: []lactate.Stage{
		{Intensity: 1.1, Lactate: 1.2}, {Intensity: math.Nextafter(1.1, 2), Lactate: 1.3}, {Intensity: 1.2, Lactate: 1.6}, {Intensity: 1.2, Lactate: 1.7},
		{Intensity: 1.3, Lactate: 3}, {Intensity: math.Nextafter(1.3, 0), Lactate: 3.1}, {Intensity: 1.4, Lactate: 8.9}, {Intensity: 1.4, Lactate: 9.1},
	}}
	exact := lactate.Test{Stages: append([]lactate.Stage(nil), near.Stages...)}
	exact.Stages[1].Intensity, exact.Stages[5].Intensity = 1.1, 1.3
	a := analysed(t, near, lactate.Options{})
	b := analysed(t, exact, lactate.Options{})
	for i, th := range a.Thresholds {
		// D: moving two stages by one bit moves nothing that can be seen.
		if o := b.Thresholds[i]; (th.Err == nil) != (o.Err == nil) || th.Err == nil && !(math.Abs(th.Intensity.Value-o.Intensity.Value) <= 1e-12) {
			t.Errorf("%v: %v (%v) and %v (%v)", th.Method, th.Intensity.Value, th.Err, o.Intensity.Value, o.Err)
		}
	}
	for i := range exact.Stages {
		exact.Stages[i].Intensity = 1.2
	}
	if a, err := lactate.Analyze(exact, lactate.Options{}); err == nil {
		t.Errorf("one intensity: %v", a.LT2)
	}
}
