package lactate_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"pgregory.net/rapid"
)

// What the default curve makes of tests that are none.
func TestDegenerateConvex(t *testing.T) {
	xs := []float64{1.1, 1.15, 1.2, 1.25, 1.3, 1.35}
	for name, c := range map[string]struct {
		ys   []float64
		want lactate.WarningKind // raised, if not empty
		err  error
	}{
		// No exponential either. A convex curve is bent to it as little as the prior
		// lets it.
		"a straight line":         {[]float64{1, 2.2, 3.4, 4.6, 5.8, 7}, "", nil},
		"bends down":              {[]float64{1, 3.5, 5, 6, 6.6, 7}, lactate.WarnCurveMisses, nil},
		"one spike at the end":    {[]float64{1, 1, 1, 1, 1, 8}, lactate.WarnInLastGap, nil},
		"one spike in the middle": {[]float64{1, 1, 1, 8, 1, 1.4}, lactate.WarnCurveMisses, nil},
		"all equal":               {[]float64{1.5, 1.5, 1.5, 1.5, 1.5, 1.5}, "", curve.ErrUndetermined},
		"a dip":                   {[]float64{3, 1.8, 1.2, 1.3, 2.2, 5}, lactate.WarnCurveDips, nil},
	} {
		a, err := lactate.Analyze(stages(xs, c.ys), lactate.Options{Resamples: 500})
		if !errors.Is(err, c.err) || (err == nil) != (c.err == nil) {
			t.Errorf("%s: %v, want %v", name, err, c.err)
			continue
		}
		if err != nil {
			continue
		}
		if c.want != "" && !has(a.Warnings, c.want) {
			t.Errorf("%s: warnings %v, want %q", name, a.Warnings, c.want)
		}
		for _, th := range append([]lactate.Threshold{a.LT1, a.LT2}, a.Thresholds...) {
			if iv := th.Intensity; th.Err == nil && iv.HasInterval() && !(iv.Low <= iv.Value && iv.Value <= iv.High) {
				t.Errorf("%s: %v at %v", name, th.Method, iv)
			}
		}
	}
}

// D: the default pair is in order on whatever test has an answer, and each threshold lies
// on the drawn curve and inside its interval.
func TestPropPairInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 9).Draw(t, "n")
		var test lactate.Test
		for i := range n {
			test.Stages = append(test.Stages, lactate.Stage{
				Intensity: 1 + 0.05*float64(i) + rapid.Float64Range(0, 0.04).Draw(t, "x"),
				Lactate:   rapid.Float64Range(0.5, 4).Draw(t, "y") + float64(i*i)*rapid.Float64Range(0, 0.2).Draw(t, "rise"),
			})
		}
		a, err := lactate.Analyze(test, lactate.Options{Resamples: 200})
		if err != nil {
			return
		}
		if a.LT1.Err == nil && a.LT2.Err == nil && !(a.LT1.Intensity.Value < a.LT2.Intensity.Value) || has(a.Warnings, lactate.WarnOutOfOrder) {
			t.Fatalf("LT1 %v, LT2 %v, %v", a.LT1, a.LT2, a.Warnings)
		}
		for _, th := range a.Thresholds {
			if th.Err != nil {
				continue
			}
			iv := th.Intensity
			if !(iv.Low <= iv.Value && iv.Value <= iv.High) {
				t.Fatalf("%v at %v", th.Method, iv)
			}
			if y := a.Curve.Predict(iv.Value); !(math.Abs(y-th.Lactate.Value) <= 1e-9) {
				t.Fatalf("%v: %v on the curve, lactate %v", th.Method, y, th.Lactate)
			}
		}
	})
}

// D: a pair that a caller chose comes out crossed, or too close to tell, and says so.
func TestOutOfOrder(t *testing.T) {
	// A swimmer of low lactates: Dmax of a test that ends at 3.4 lies below + 1.5.
	test := stages([]float64{1.1, 1.15, 1.2, 1.25, 1.3, 1.35}, []float64{1.2, 1.2, 1.4, 1.8, 2.5, 3.4})
	for _, o := range []lactate.Options{
		{LT1: lactate.AboveBaseline{Rise: 1.5}, LT2: lactate.MaxDistance{}},
		{LT1: lactate.AboveBaseline{Rise: 0.5}, LT2: lactate.MaxDistance{}, Resamples: 1000},
		{LT1: lactate.Fixed{Lactate: 3}, LT2: lactate.Fixed{Lactate: 2}},
		{LT1: lactate.MaxDistance{}, LT2: lactate.MaxDistance{}},
	} {
		a := analysed(t, test, o)
		if !has(a.Warnings, lactate.WarnOutOfOrder) {
			t.Errorf("LT1 %v, LT2 %v: %v", a.LT1.Intensity, a.LT2.Intensity, a.Warnings)
		}
	}
	a, err := lactate.Analyze(test, lactate.Options{Resamples: 1000})
	if err != nil || has(a.Warnings, lactate.WarnOutOfOrder) {
		t.Errorf("the default pair: %v %v", a.Warnings, err)
	}
}

// D: without the last sample, or with a last stage that was held back, Dmax is open
// upward and says so; levels are as they are.
func TestEndsEarly(t *testing.T) {
	full := stages([]float64{1.1, 1.15, 1.2, 1.25, 1.3, 1.35}, []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9})
	lost := full
	lost.Stages = slices.Clone(full.Stages)
	lost.Stages[5].Lactate = 0
	held := full
	held.Submaximal = true
	o := lactate.Options{Methods: []lactate.Method{lactate.MaxDistance{}, lactate.AboveBaseline{Rise: 1}}, Resamples: 500}
	for name, c := range map[string]struct {
		test lactate.Test
		open bool
	}{"whole": {full, false}, "last sample lost": {lost, true}, "held back": {held, true}} {
		a := analysed(t, c.test, o)
		if got := math.IsInf(a.Thresholds[0].Intensity.High, 1); got != c.open || has(a.Warnings, lactate.WarnEndsEarly) != c.open {
			t.Errorf("%s: Dmax %v, warnings %v", name, a.Thresholds[0].Intensity, a.Warnings)
		}
		if math.IsInf(a.Thresholds[1].Intensity.High, 1) {
			t.Errorf("%s: + 1 at %v", name, a.Thresholds[1].Intensity)
		}
	}
}

// D: the wrong sample is named, with what the thresholds would be without it: a slip of
// the decimal point, a drop of water. A good test names one in a hundred at most.
func TestOddSample(t *testing.T) {
	xs, ys := []float64{1.10, 1.17, 1.24, 1.31, 1.38, 1.45}, []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9}
	for _, slip := range []struct {
		stage   int
		lactate float64
	}{{3, 0.2}, {3, 21}, {2, 4.1}, {4, 0.4}} {
		wrong := slices.Clone(ys)
		wrong[slip.stage] = slip.lactate
		a, err := lactate.Analyze(stages(xs, wrong), lactate.Options{})
		if err != nil {
			t.Errorf("%v: %v", slip, err)
			continue
		}
		i := slices.IndexFunc(a.Warnings, func(w lactate.Warning) bool { return w.Kind == lactate.WarnOddSample })
		if i < 0 {
			t.Errorf("%v: %v", slip, a.Warnings)
			continue
		}
		w := a.Warnings[i]
		if !slices.Equal(w.Stages, []int{slip.stage + 1}) || !strings.Contains(w.Text("repeat"), "without it LT2") {
			t.Errorf("%v: %v", slip, w)
		}
	}
	alarms, n := 0, 400
	rng := rand.New(rand.NewPCG(5, 6))
	noise := lactate.DefaultNoise()
	for range n {
		test := sample(rng, truths[0].curve, even(6), noise, 1)
		a, err := lactate.Analyze(test, lactate.Options{})
		if err == nil && has(a.Warnings, lactate.WarnOddSample) {
			alarms++
		}
	}
	if alarms > 3*n/100 {
		t.Errorf("%d of %d good tests name a sample", alarms, n)
	}
}

// D: the interval of a new sample holds nine of ten new samples of the same truth, and is
// wider than that of the curve.
func TestSampleAt(t *testing.T) {
	noise := lactate.Noise{Absolute: 0.2, Relative: 0.03, Resolution: 0.1}
	held, n := 0, 300
	rng := rand.New(rand.NewPCG(7, 8))
	for range n {
		test := sample(rng, truths[0].curve, even(6), noise, 1)
		a := analysed(t, test, lactate.Options{Noise: noise, Resamples: 500})
		x := 1.10 + 0.35*rng.Float64()
		e, err := a.SampleAt(x)
		if err != nil {
			t.Fatal(err)
		}
		y := truths[0].curve(x)
		y += math.Hypot(noise.Absolute, noise.Relative*y) * rng.NormFloat64()
		if e.Low <= y && y <= e.High {
			held++
		}
		if again, err := a.SampleAt(x); err != nil || again != e {
			t.Fatalf("asked twice: %v and %v", e, again)
		}
	}
	if share := 100 * held / n; share < 86 || share > 97 {
		t.Errorf("%d %% held, want about 90", share)
	}
	a := analysed(t, sixStages, lactate.Options{})
	var outside *lactate.OutsideRangeError
	if _, err := a.SampleAt(a.Highest * 1.01); !errors.As(err, &outside) {
		t.Errorf("beyond the range: %v", err)
	}
	e, err := a.SampleAt(1.2)
	if err != nil || !e.HasInterval() {
		t.Errorf("without resamples: %v %v", e, err)
	}
}

// D: what the definitions span holds both ends of the reported readings of a threshold.
func TestSpreadOfAnalysis(t *testing.T) {
	a := analysed(t, sixStages, lactate.Options{})
	for _, target := range []lactate.Target{lactate.FirstThreshold, lactate.SecondThreshold} {
		s := a.Spread(target)
		if s.Answers < 3 || !(s.Lowest.Intensity < s.Highest.Intensity) {
			t.Errorf("%v", s)
		}
		for _, e := range lactate.Catalogue("") {
			if e.Target != target {
				continue
			}
			for _, th := range a.Thresholds {
				if th.Method == e.Method && th.Err == nil && !(th.Intensity.Value >= s.Lowest.Intensity && th.Intensity.Value <= s.Highest.Intensity) {
					t.Errorf("%v at %v lies outside %v", th.Method, th.Intensity.Value, s)
				}
			}
		}
	}
}
