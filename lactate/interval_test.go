package lactate_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

var smooth = []lactate.Method{
	lactate.Fixed{Lactate: 2}, lactate.Fixed{Lactate: 4},
	lactate.AboveBaseline{Rise: 0.5}, lactate.AboveBaseline{Rise: 1},
	lactate.MaxDistance{},
}

// D: where the noise is small, a threshold is a linear function of the samples,
// so that the percentiles of the refits and the delta method are two ways to the
// same interval.
func TestDeltaMethodAgreesWithResamples(t *testing.T) {
	small := lactate.Noise{Absolute: 0.01, Relative: 0.001, Weight: math.Inf(1)}
	for id, test := range referenceTests(t) {
		a := analysed(t, test, lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Methods: smooth, Noise: small, Resamples: 20000, Seed: 5})
		for _, th := range a.Thresholds {
			if th.Err != nil {
				continue
			}
			d, err := a.DeltaInterval(th.Method)
			if err != nil {
				t.Errorf("%s %v: %v", id, th.Method, err)
				continue
			}
			got, want := d.High-d.Low, th.Intensity.High-th.Intensity.Low
			if !(math.Abs(got-want) <= 0.03*want) {
				t.Errorf("%s %v: delta width %.3g, resampled %.3g", id, th.Method, got, want)
			}
			if !(math.Abs((d.High+d.Low)/2-th.Intensity.Value) <= 1e-9) {
				t.Errorf("%s %v: delta interval %v not about %v", id, th.Method, d, th.Intensity.Value)
			}
		}
	}
}

// D: the same stages swum four times over halve every smooth interval.
func TestIntervalsShrinkWithRepeats(t *testing.T) {
	widths := func(times int) []float64 {
		var test lactate.Test
		for i := range 7 {
			x := 1.1 + 0.05*float64(i)
			for range times {
				test.Stages = append(test.Stages, lactate.Stage{Intensity: x, Lactate: 1 + 6*math.Exp(14*(x-1.4))})
			}
		}
		a := analysed(t, test, lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Methods: smooth, Resamples: 10000, Noise: lactate.Noise{Absolute: 0.05, Weight: math.Inf(1)}})
		var w []float64
		for _, th := range a.Thresholds {
			w = append(w, th.Intensity.High-th.Intensity.Low)
		}
		return w
	}
	once, four := widths(1), widths(4)
	for k, m := range smooth {
		if got := once[k] / four[k]; !(math.Abs(got-2) <= 0.1) {
			t.Errorf("%v: intervals %.3f times as wide, want 2", m, got)
		}
	}
}

// exact prints every digit; a NaN is not equal to itself.
func exact(v any) string { return fmt.Sprintf("%#v", v) }

// D: same seed, same bits, on any number of cores; another seed, other bits; the points
// are those of an analysis without intervals.
func TestIntervalsAreDeterministic(t *testing.T) {
	analyze := func(cores int, seed uint64) []lactate.Threshold {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		a := analysed(t, sixStages, lactate.Options{Resamples: 3000, Seed: seed})
		return a.Thresholds
	}
	one, four := analyze(1, 9), analyze(4, 9)
	if exact(one) != exact(four) {
		t.Errorf("one core:\n%v\nfour cores:\n%v", one, four)
	}
	if other := analyze(1, 10); exact(one) == exact(other) {
		t.Error("another seed gave the same intervals")
	}
	plain := analysed(t, sixStages, lactate.Options{})
	for i, th := range plain.Thresholds {
		if got := one[i].Intensity.Value; got != th.Intensity.Value {
			t.Errorf("%v: %v, with intervals %v", th.Method, th.Intensity.Value, got)
		}
	}
}

// D: the order of the stages does not matter, to the last bit.
func TestIntervalsIgnoreOrder(t *testing.T) {
	want := analysed(t, sixStages, lactate.Options{Resamples: 500})
	shuffled := lactate.Test{}
	for _, i := range rand.New(rand.NewPCG(1, 1)).Perm(6) {
		shuffled.Stages = append(shuffled.Stages, sixStages.Stages[i])
	}
	got := analysed(t, shuffled, lactate.Options{Resamples: 500})
	if exact(got.Thresholds) != exact(want.Thresholds) {
		t.Errorf("got %v, want %v", got.Thresholds, want.Thresholds)
	}
}

// D: a level near the end of the tested range is beyond it in many resamples;
// they are counted and open the interval upward.
func TestIntervalOpensAtTheEnd(t *testing.T) {
	a := analysed(t, sixStages, lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Methods: []lactate.Method{lactate.Fixed{Lactate: 6.75}}, Resamples: 1000})
	th := a.Thresholds[0]
	if th.Err != nil || th.Beyond < 100 || !math.IsInf(th.Intensity.High, 1) || !(th.Intensity.Low < th.Intensity.Value) {
		t.Errorf("%+v", th)
	}
	// So is that of the heart rate, whose lower end is known.
	if h := th.HeartRate; !math.IsInf(h.High, 1) || !(h.Low < h.Value) {
		t.Errorf("heart rate %+v", h)
	}
}

// D: without resamples there is no interval, and JSON never meets a NaN.
func TestNoIntervalsUnasked(t *testing.T) {
	a := analysed(t, sixStages, lactate.Options{})
	for _, th := range append(a.Thresholds, a.LT1, a.LT2) {
		if th.Intensity.HasInterval() {
			t.Errorf("%v has an interval", th.Method)
		}
		if _, err := json.Marshal(th); err != nil {
			t.Error(err)
		}
	}
	if _, err := a.Band(10); err == nil {
		t.Error("a band without resamples")
	}
}

// D: the band holds the curve, its ends are the curve's ends, and its places lie evenly.
func TestBand(t *testing.T) {
	a := analysed(t, sixStages, lactate.Options{Resamples: 1000})
	band, err := a.Band(21)
	if err != nil {
		t.Fatal(err)
	}
	if len(band) != 21 || band[0].Intensity != a.Lowest || band[20].Intensity != a.Highest {
		t.Fatalf("band from %v to %v of %d points", band[0].Intensity, band[len(band)-1].Intensity, len(band))
	}
	for _, p := range band {
		if !(p.Lactate.Low < p.Lactate.Value && p.Lactate.Value < p.Lactate.High) {
			t.Errorf("at %v: %v", p.Intensity, p.Lactate)
		}
	}
	for n, middle := range map[int]int{2: 1, 3: 1} {
		band, err := a.Band(n)
		if want := a.Lowest + (a.Highest-a.Lowest)/float64(n-1); err != nil || len(band) != n || band[0].Intensity != a.Lowest || !(math.Abs(band[middle].Intensity-want) <= 1e-12) {
			t.Errorf("%d points: %v, %v", n, band, err)
		}
	}
	if _, err := a.Band(1); err == nil {
		t.Error("a band of one point")
	}
}

// D: tests drawn with twice the stated noise teach a factor of two.
func TestPooledNoise(t *testing.T) {
	stated := lactate.Noise{Absolute: 0.2, Relative: 0.03}
	rng := rand.New(rand.NewPCG(3, 4))
	var tests []lactate.Test
	for range 200 {
		tests = append(tests, sample(rng, truths[0].curve, even(8), stated, 2))
	}
	got, err := lactate.PooledNoise(stated, tests...)
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(got.Absolute-0.4) <= 0.02) || !(math.Abs(got.Relative-0.06) <= 0.003) || got.Weight != 4+200*5 {
		t.Errorf("%+v", got)
	}
	if none, err := lactate.PooledNoise(stated); err != nil || none.Absolute != 0.2 || none.Weight != 4 {
		t.Errorf("without tests: %+v, %v", none, err)
	}
	if _, err := lactate.PooledNoise(stated, lactate.Test{}, tests[0], lactate.Test{}); !errors.Is(err, lactate.ErrTooFewStages) {
		t.Errorf("empty tests: %v", err)
	}
}

// D: with three stages an exponential leaves no residuals; where the stated
// noise has no weight either, nothing says how wide an interval is to be.
func TestNoIntervalWithoutAScale(t *testing.T) {
	three := stages([]float64{1.1, 1.25, 1.4}, []float64{1.2, 2.1, 6})
	o := lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Resamples: 300, Noise: lactate.Noise{Weight: -1}}
	a := analysed(t, three, o)
	for _, th := range append([]lactate.Threshold{a.LT1, a.LT2}, a.Thresholds...) {
		if th.Intensity.HasInterval() || th.Failed != 0 {
			t.Errorf("%v: found %v, %d failed, expected no interval", th.Method, th.Intensity, th.Failed)
		}
	}
	if !has(a.Warnings, lactate.WarnNoScale) {
		t.Errorf("not warned: %v", a.Warnings)
	}
	if e, err := a.DeltaInterval(lactate.MaxDistance{}); err == nil {
		t.Errorf("delta interval: found %v, expected an error", e)
	}
	band, err := a.Band(3)
	if err != nil || band[1].Lactate.HasInterval() {
		t.Errorf("band: %v %v", band, err)
	}
	c, err := lactate.Compare(three, three, lactate.CompareOptions{Options: o})
	if err != nil || c.Thresholds[1].Change.HasInterval() || c.Levels[0].LactateChange.HasInterval() {
		t.Errorf("comparison: %+v %v", c, err)
	}
	// One of two tests has a scale.
	for _, pair := range [][2]lactate.Test{{sixStages, three}, {three, sixStages}} {
		c, err := lactate.Compare(pair[0], pair[1], lactate.CompareOptions{Options: o})
		if err != nil || c.Thresholds[1].Change.HasInterval() || c.Levels[0].LactateChange.HasInterval() {
			t.Errorf("comparison with one scale: %+v %v", c, err)
		}
	}

	o.Noise.Weight = 0
	if a, err = lactate.Analyze(three, o); err != nil || !a.LT2.Intensity.HasInterval() {
		t.Errorf("with the weight of the stated noise: %v %v", a.LT2, err)
	}
}

// D: La = 1 + 7·exp(14·(v − 1.45)) has its lowest lactate/v at 1.1192 m/s, a
// hair above a first stage of 1.10: where a simulated test has it below, the
// interval is open there, and that test is not left out.
func TestLowestEquivalentBelowTheRange(t *testing.T) {
	truth := curve.Exponential{A: 1, B: 7 * math.Exp(-14*1.45), C: 14}
	xs := []float64{1.10, 1.17, 1.24, 1.31, 1.38, 1.45}
	ys := make([]float64, len(xs))
	for i, x := range xs {
		ys[i] = truth.Predict(x)
	}
	a := analysed(t, stages(xs, ys), lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Methods: []lactate.Method{lactate.LowestLactateEquivalent{}}, Resamples: 1000})
	th := a.Thresholds[0]
	near(t, "lowest equivalent", th.Intensity.Value, 1.1192, 5e-5)
	if !(th.Beyond >= 100) || th.Beyond != th.Failed || !math.IsInf(th.Intensity.Low, -1) || !(th.Intensity.High > th.Intensity.Value) {
		t.Errorf("found %v, %d failed, %d beyond, expected an interval open below", th.Intensity, th.Failed, th.Beyond)
	}
}
