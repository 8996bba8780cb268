package lactate_test

import (
	"errors"
	"math"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/interp"
)

// exponential is for the tests of what holds on that curve alone, most of them with Dmax.
func exponential() lactate.Curve { return new(curve.Exponential) }

// stages pairs intensities with lactates.
func stages(xs, ys []float64) lactate.Test {
	var t lactate.Test
	for i := range xs {
		t.Stages = append(t.Stages, lactate.Stage{Intensity: xs[i], Lactate: ys[i]})
	}
	return t
}

// sampled is a test whose lactates lie on f.
func sampled(f func(float64) float64, xs ...float64) lactate.Test {
	ys := make([]float64, len(xs))
	for i, x := range xs {
		ys[i] = f(x)
	}
	return stages(xs, ys)
}

// fitted fits c to the test.
func fitted(t testing.TB, c lactate.Curve, test lactate.Test) lactate.Curve {
	t.Helper()
	if err := fitTo(c, test); err != nil {
		t.Fatal(err)
	}
	return c
}

// fataler is a test, of the standard library or of rapid.
type fataler interface {
	Helper()
	Fatal(...any)
}

// analysed is an analysis that has no error; so are the others of their functions.
func analysed(t fataler, test lactate.Test, o lactate.Options) *lactate.Analysis {
	t.Helper()
	a, err := lactate.Analyze(test, o)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func compared(t fataler, before, after lactate.Test, o lactate.CompareOptions) *lactate.Change {
	t.Helper()
	c, err := lactate.Compare(before, after, o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func beside(t fataler, test lactate.Test, o lactate.SideBySideOptions) *lactate.Panel {
	t.Helper()
	p, err := lactate.SideBySide(test, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func influenced(t fataler, test lactate.Test, o lactate.Options) *lactate.Influences {
	t.Helper()
	r, err := lactate.Influence(test, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// near fails unless got is want within tol.
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.10g, want %.10g ± %g", what, got, want, tol)
	}
}

// located reads m and compares.
func located(t testing.TB, m lactate.Method, test lactate.Test, c lactate.Curve, want, tol float64) {
	t.Helper()
	x, err := m.Locate(test, c)
	if err != nil {
		t.Errorf("%v: %v", m, err)
		return
	}
	near(t, m.String(), x, want, tol)
}

// refused fails unless m gives an error that is target, and no number.
func refused(t testing.TB, m lactate.Method, test lactate.Test, c lactate.Curve, target error) {
	t.Helper()
	x, err := m.Locate(test, c)
	if !errors.Is(err, target) || x != 0 {
		t.Errorf("%v: got %v and error %v, want 0 and %v", m, x, err, target)
	}
}

// D (constructed): La = 0.9 + 0.0004·exp(6v), six stages of 1.1 to 1.6 m/s. A
// level lies at ln((level − A)/B)/C, a slope at ln(slope/(B·C))/C, Dmax where
// the slope is that of the chord; the lowest lactate equivalent at 1.015 m/s,
// below the tested range.
func TestConstructedExponential(t *testing.T) {
	test := sampled(func(v float64) float64 { return 0.9 + 0.0004*math.Exp(6*v) }, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6)
	// The printed lactates of the case, six decimals.
	for i, want := range []float64{1.194038, 1.435772, 1.876241, 2.678827, 4.141234, 6.805913} {
		near(t, "lactate", test.Stages[i].Lactate, want, 5e-7)
	}
	c := fitted(t, new(curve.Exponential), test)
	for _, row := range []struct {
		method lactate.Method
		want   float64
	}{
		{lactate.Fixed{Lactate: 2}, 1.319893},
		{lactate.Fixed{Lactate: 2.5}, 1.382342},
		{lactate.Fixed{Lactate: 3}, 1.427664},
		{lactate.Fixed{Lactate: 3.5}, 1.463260},
		{lactate.Fixed{}, 1.492575},
		{lactate.MaxDistance{}, 1.408386},
		{lactate.MaxDistance{Ends: lactate.MeasuredEnds}, 1.408386},
		{lactate.AboveBaseline{Rise: 0.5}, 1.265570},
		{lactate.AboveBaseline{}, 1.346969},
		{lactate.AboveBaseline{Rise: 1.5}, 1.401419},
		{lactate.AboveBaseline{From: lactate.BaselineFirstStage}, 1.346969},
		{lactate.AboveBaseline{From: lactate.BaselineLowestStage}, 1.346969},
		{lactate.ObservedRise{}, 1.4},
		{lactate.ObservedRise{Rise: 0.5}, 1.3},
		{lactate.FixedSlope{Slope: 5}, 1.273621},
		{lactate.FixedSlope{Slope: 10}, 1.389145},
		{lactate.FixedSlope{Slope: 20}, 1.504670},
		{lactate.FixedSlope{Slope: lactate.KeulSlope}, math.Log(4.536/0.0024) / 6},
		{lactate.FixedSlope{Slope: lactate.SimonSlope}, math.Log(3.6/0.0024) / 6},
	} {
		located(t, row.method, test, c, row.want, 5e-7)
	}
	refused(t, lactate.LowestLactateEquivalent{}, test, c, lactate.ErrShape)
	refused(t, lactate.AboveLowestEquivalent{}, test, c, lactate.ErrShape)
	refused(t, lactate.Fixed{Lactate: 1.19}, test, c, lactate.ErrNotReached)
	refused(t, lactate.Fixed{Lactate: 6.81}, test, c, lactate.ErrNotReached)
	refused(t, lactate.FixedSlope{Slope: 1.7}, test, c, lactate.ErrNotReached)
	refused(t, lactate.FixedSlope{Slope: 36}, test, c, lactate.ErrNotReached)

	// With stages from 0.9 m/s on, the minimum of lactate/intensity is inside.
	test = sampled(func(v float64) float64 { return 0.9 + 0.0004*math.Exp(6*v) }, 0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6)
	c = fitted(t, new(curve.Exponential), test)
	located(t, lactate.LowestLactateEquivalent{}, test, c, 1.015196, 5e-7)
	located(t, lactate.AboveLowestEquivalent{}, test, c, 1.390153, 5e-7)
	near(t, "lactate at the lowest equivalent", c.Predict(1.015196), 1.076776, 5e-7)
}

// D (constructed): La = 1 + 2(v−1.1) + 40(v−1.1)³; the chord from 1.1 to 1.6
// has slope 12, so that v = 1.1 + sqrt(10/120).
func TestConstructedCubic(t *testing.T) {
	test := sampled(func(v float64) float64 { return 1 + 2*(v-1.1) + 40*math.Pow(v-1.1, 3) }, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6)
	c := fitted(t, new(curve.Polynomial), test)
	located(t, lactate.MaxDistance{}, test, c, 1.1+math.Sqrt(10.0/120), 1e-9)
	x, _ := lactate.MaxDistance{}.Locate(test, c)
	near(t, "lactate", c.Predict(x), 2.539601, 5e-7)
	near(t, "distance below the chord", 1+12*(x-1.1)-c.Predict(x), 1.924501, 5e-7)
	// y′ = 2 + 120(v−1.1)².
	located(t, lactate.FixedSlope{Slope: 12}, test, c, 1.1+math.Sqrt(10.0/120), 1e-9)
	refused(t, lactate.FixedSlope{Slope: 1.9}, test, c, lactate.ErrNotReached)

	// From the log–log point x, the chord to 1.6 m/s has slope
	// 2 + 40·(0.5³ − (x−1.1)³)/(1.6 − x).
	x, err := lactate.LogLog{}.Locate(test, nil)
	if err != nil {
		t.Fatal(err)
	}
	slope := 2 + 40*(0.125-math.Pow(x-1.1, 3))/(1.6-x)
	located(t, lactate.LogLogMaxDistance{}, test, c, 1.1+math.Sqrt((slope-2)/120), 1e-9)
}

// D (constructed): La = 1.2·(v/1.3)^1.5 up to 1.3 m/s and 1.2·(v/1.3)^12 after
// it.
func TestConstructedLogLog(t *testing.T) {
	test := sampled(bent, 1.1, 1.15, 1.2, 1.25, 1.35, 1.4, 1.45, 1.5)
	for i, want := range []float64{0.934018, 0.998419, 1.064236, 1.131439, 1.887410, 2.920098, 4.449150, 6.682764} {
		near(t, "lactate", test.Stages[i].Lactate, want, 5e-7)
	}
	located(t, lactate.LogLog{}, test, nil, 1.3, 1e-9)
	l, err := lactate.LogLog{}.Lines(test)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "lactate at the break", math.Exp(l.Level), 1.2, 1e-9)
	near(t, "left slope", l.Left, 1.5, 1e-9)
	near(t, "right slope", l.Right, 12, 1e-9)
	near(t, "sum of squares", l.RSS(), 0, 1e-15)

	// The chord from the break to the last stage on the exponential: where its
	// slope is B·C·exp(C·v).
	e := fitted(t, new(curve.Exponential), test).(*curve.Exponential)
	slope := (e.Predict(1.5) - e.Predict(1.3)) / 0.2
	located(t, lactate.LogLogMaxDistance{}, test, e, math.Log(slope/(e.B*e.C))/e.C, 1e-9)
	slope = (test.Stages[7].Lactate - e.Predict(1.3)) / 0.2
	located(t, lactate.LogLogMaxDistance{Ends: lactate.MeasuredEnds}, test, e, math.Log(slope/(e.B*e.C))/e.C, 1e-9)

	refused(t, lactate.LogLog{}, sampled(func(v float64) float64 { return 2 * v * v }, 1, 1.1, 1.2, 1.3, 1.4), nil, lactate.ErrShape)
	refused(t, lactate.LogLog{}, sampled(bent, 1.1, 1.3, 1.5), nil, lactate.ErrTooFewStages)
	upsideDown := sampled(func(v float64) float64 { return 1 / bent(v) }, 1.1, 1.15, 1.2, 1.25, 1.35, 1.4, 1.45, 1.5)
	refused(t, lactate.LogLog{}, upsideDown, nil, lactate.ErrShape)
}

// D (constructed): three lines that meet at 1.17 and 1.38 m/s, with slopes 1, 7
// and 37 mmol/L per m/s.
func TestConstructedTurnPoints(t *testing.T) {
	test := sampled(threeLines, 1, 1.1, 1.2, 1.3, 1.4, 1.5)
	located(t, lactate.FirstTurnPoint{}, test, nil, 1.17, 1e-9)
	located(t, lactate.SecondTurnPoint{}, test, nil, 1.38, 1e-9)
	l, err := lactate.FirstTurnPoint{}.Lines(test)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "left", l.Left, 1, 1e-9)
	near(t, "middle", l.Middle, 7, 1e-9)
	near(t, "right", l.Right, 37, 1e-9)
	for _, row := range []struct {
		test lactate.Test
		want error
	}{
		{sampled(threeLines, 1, 1.1, 1.3, 1.4, 1.5), lactate.ErrTooFewStages},
		{sampled(bent, 1.3, 1.1), lactate.ErrTooFewStages},
		// Two lines only.
		{sampled(func(v float64) float64 { return 1 + 6*max(v-1.25, 0) }, 1, 1.1, 1.2, 1.3, 1.4, 1.5), lactate.ErrShape},
		// The second line falls; the third is less steep than the second.
		{sampled(func(v float64) float64 { return 5 + v - 6*max(v-1.17, 0) + 30*max(v-1.38, 0) }, 1, 1.1, 1.2, 1.3, 1.4, 1.5), lactate.ErrShape},
		{sampled(func(v float64) float64 { return 1 + v + 20*max(v-1.17, 0) - 15*max(v-1.38, 0) }, 1, 1.1, 1.2, 1.3, 1.4, 1.5), lactate.ErrShape},
	} {
		refused(t, lactate.FirstTurnPoint{}, row.test, nil, row.want)
		refused(t, lactate.SecondTurnPoint{}, row.test, nil, row.want)
	}
}

// D (constructed): two swims, 2.5 mmol/L at 1.25 m/s and 7.5 at 1.40 m/s.
func TestConstructedTwoSpeed(t *testing.T) {
	test := stages([]float64{1.40, 1.25}, []float64{7.5, 2.5})
	located(t, lactate.TwoSpeed{}, test, nil, 1.295, 1e-12)
	located(t, lactate.TwoSpeed{Scale: lactate.LogLactate}, test, nil, 1.314172, 5e-7)
	located(t, lactate.TwoSpeed{Lactate: 7.5, Scale: lactate.LogLactate}, test, nil, 1.40, 0)
	refused(t, lactate.TwoSpeed{Lactate: 8}, test, nil, lactate.ErrNotReached)
	refused(t, lactate.TwoSpeed{Lactate: 2}, test, nil, lactate.ErrNotReached)
	refused(t, lactate.TwoSpeed{}, stages([]float64{1.25, 1.4}, []float64{7.5, 2.5}), nil, lactate.ErrShape)
	refused(t, lactate.TwoSpeed{}, stages([]float64{1.25, 1.3, 1.4}, []float64{2, 3, 5}), nil, lactate.ErrShape)
	refused(t, lactate.TwoSpeed{}, stages([]float64{1.25}, []float64{2}), nil, lactate.ErrTooFewStages)
}

// D (constructed): on A + B·exp(C·v) from lo to lo + r, Dmax is lo + ln((exp(C·r)
// − 1)/(C·r))/C, whatever A and B: a curve moved to the right has the same one.
// Rises above the baseline follow the curve, and the first stage.
func TestConstructedDmaxIgnoresPlace(t *testing.T) {
	on := func(a, shift, lo, hi float64) (lactate.Test, *curve.Exponential) {
		e := &curve.Exponential{A: a, B: 7 * math.Exp(-14*(1.45+shift)), C: 14}
		xs, ys := make([]float64, 6), make([]float64, 6)
		for i := range xs {
			xs[i] = lo + (hi-lo)*float64(i)/5
			ys[i] = e.Predict(xs[i])
		}
		return stages(xs, ys), e
	}
	for _, row := range []struct{ a, shift, lo, hi, dmax, rise float64 }{
		{1, 0, 1.10, 1.45, 1.335949, 1.268579},
		{1, 0.03, 1.10, 1.45, 1.335949, math.NaN()},
		{0.6, -0.02, 1.10, 1.45, 1.335949, math.NaN()},
		{1, 0, 1.10, 1.47, 1.352111, 1.268579},
		{1, 0, 1.15, 1.45, 1.346415, 1.275108},
	} {
		test, e := on(row.a, row.shift, row.lo, row.hi)
		r := row.hi - row.lo
		near(t, "closed form", row.lo+math.Log(math.Expm1(14*r)/(14*r))/14, row.dmax, 5e-7)
		located(t, lactate.MaxDistance{}, test, e, row.dmax, 5e-7)
		located(t, lactate.MaxDistance{Ends: lactate.MeasuredEnds}, test, e, row.dmax, 5e-7)
		if !math.IsNaN(row.rise) {
			base := e.Predict(row.lo)
			near(t, "rise, closed form", 1.45+math.Log((base+0.5-1)/7)/14, row.rise, 5e-7)
			located(t, lactate.AboveBaseline{Rise: 0.5}, test, e, row.rise, 5e-7)
		}
	}
}

// D (constructed): La(t) = 1 + 0.05t², t in minutes of effort up to 12, when it
// is 8.2; in recovery it is back there at 14 min. The tangent from (14, 8.2)
// touches at 14 − sqrt(52) = 6.788897 min, at 3.304456 mmol/L. Stages of 3 min
// make that 1.1 + 0.1·(t−3)/3 m/s.
func TestConstructedRecoveryTangent(t *testing.T) {
	test := stages([]float64{1.1, 1.2, 1.3, 1.4}, []float64{1.45, 2.8, 5.05, 8.2})
	for i := range test.Stages {
		test.Stages[i].Duration = 3 * time.Minute
	}
	test.Recovery = []lactate.RecoverySample{{After: 3 * time.Minute, Lactate: 7.7}, {After: time.Minute, Lactate: 8.7}}
	touch := 14 - math.Sqrt(52)
	near(t, "touch", touch, 6.788897, 5e-7)
	want := 1.1 + 0.1*(touch-3)/3
	c := fitted(t, &curve.Polynomial{Degree: 2}, test)
	located(t, lactate.RecoveryTangent{}, test, c, want, 1e-9)
	located(t, lactate.RecoveryTangent{Ends: lactate.MeasuredEnds}, test, c, want, 1e-9)
	near(t, "lactate", c.Predict(want), 3.304456, 5e-7)

	// Stages of 2, 4, 3 and 3 min: the sample of the first stage stands at
	// 2 min, and between 2 and 6 min 0.1 m/s takes 4 min.
	uneven := stages([]float64{1.1, 1.2, 1.3, 1.4}, []float64{1.2, 2.8, 5.05, 8.2})
	for i, d := range []time.Duration{2, 4, 3, 3} {
		uneven.Stages[i].Duration = d * time.Minute
	}
	uneven.Recovery = test.Recovery
	// The same parabola from 6 min on, where the tangent touches.
	located(t, lactate.RecoveryTangent{}, uneven, c, want, 1e-9)

	// A lost sample keeps its time.
	lost := test
	lost.Stages = append([]lactate.Stage{}, test.Stages...)
	lost.Stages[0].Lactate = 0
	located(t, lactate.RecoveryTangent{}, lost, c, want, 1e-9)
	a, err := lactate.Analyze(lost, lactate.Options{
		Curve:   func() lactate.Curve { return &curve.Polynomial{Degree: 2} },
		Methods: []lactate.Method{lactate.RecoveryTangent{}},
	})
	if err != nil || a.Thresholds[0].Err != nil {
		t.Fatal(err, a)
	}
	near(t, "lost, through Analyze", a.Thresholds[0].Intensity.Value, want, 1e-9)

	bad := test
	bad.Recovery = nil
	refused(t, lactate.RecoveryTangent{}, bad, c, lactate.ErrMissing)
	bad.Recovery = test.Recovery[1:]
	refused(t, lactate.RecoveryTangent{}, bad, c, lactate.ErrMissing)
	bad.Recovery = test.Recovery[:1]
	refused(t, lactate.RecoveryTangent{}, bad, c, lactate.ErrShape)
	// The last stage's sample is that of the peak: the curve ends just below it,
	// but lactate never comes back from anywhere.
	bad = test
	bad.Stages = append([]lactate.Stage{}, test.Stages...)
	bad.Stages[3].Lactate = 8.7
	refused(t, lactate.RecoveryTangent{}, bad, c, lactate.ErrShape)
	refused(t, lactate.RecoveryTangent{Ends: lactate.MeasuredEnds}, bad, c, lactate.ErrShape)
	bad = lost
	bad.Stages = append([]lactate.Stage{}, test.Stages...)
	bad.Stages[1].Duration = 0
	refused(t, lactate.RecoveryTangent{}, bad, c, lactate.ErrMissing)
	bad.Stages[1] = test.Stages[1]
	bad.Stages[3].Lactate = 0
	refused(t, lactate.RecoveryTangent{}, bad, c, lactate.ErrMissing)
}

// D: the highest of the samples and the first of equal ones.
func TestPeakLactate(t *testing.T) {
	test := stages([]float64{1.4, 1.3}, []float64{8.2, 4})
	if _, err := lactate.PeakLactate(test); !errors.Is(err, lactate.ErrMissing) {
		t.Error(err)
	}
	at := func(minutes, mmol float64) lactate.RecoverySample {
		return lactate.RecoverySample{After: time.Duration(minutes * float64(time.Minute)), Lactate: mmol}
	}
	for _, row := range []struct {
		recovery []lactate.RecoverySample
		want     lactate.Peak
	}{
		{[]lactate.RecoverySample{at(5, 9.1), at(1, 8.9), at(3, 9.4)}, lactate.Peak{Lactate: 9.4, After: 3 * time.Minute, Passed: true}},
		{[]lactate.RecoverySample{at(1, 8.9), at(3, 9.4), at(5, 9.4)}, lactate.Peak{Lactate: 9.4, After: 3 * time.Minute}},
		{[]lactate.RecoverySample{at(1, 8)}, lactate.Peak{Lactate: 8.2, Passed: true}},
	} {
		test.Recovery = row.recovery
		got, err := lactate.PeakLactate(test)
		if err != nil || got != row.want {
			t.Errorf("%v: got %+v, %v, want %+v", row.recovery, got, err, row.want)
		}
	}
}

// D (constructed): La = 3 + 50(v−1.24)², sampled anywhere.
func TestConstructedLactateMinimum(t *testing.T) {
	parabola := func(v float64) float64 { return 3 + 50*(v-1.24)*(v-1.24) }
	for _, xs := range [][]float64{{1.1, 1.15, 1.2, 1.25, 1.3}, {1.239, 1.3, 1.5}, {1.3, 1, 1.2, 1.2}} {
		got, err := lactate.LactateMinimum(lactate.LactateMinimumTest{Stages: sampled(parabola, xs...).Stages})
		if err != nil {
			t.Error(err)
			continue
		}
		near(t, "intensity", got.Intensity, 1.24, 1e-9)
		near(t, "lactate", got.Lactate, 3, 1e-9)
	}
	raised := func(mmol float64) []lactate.RecoverySample {
		return []lactate.RecoverySample{{After: 8 * time.Minute, Lactate: mmol}}
	}
	for _, row := range []struct {
		test lactate.LactateMinimumTest
		want error
	}{
		{lactate.LactateMinimumTest{Stages: sampled(parabola, 1.3, 1.4, 1.5).Stages}, lactate.ErrNotReached},
		{lactate.LactateMinimumTest{Stages: sampled(parabola, 1.1, 1.15, 1.2).Stages}, lactate.ErrNotReached},
		{lactate.LactateMinimumTest{Stages: sampled(parabola, 1.1, 1.3, 1.3).Stages}, lactate.ErrTooFewStages},
		{lactate.LactateMinimumTest{Stages: sampled(func(v float64) float64 { return 5 - parabola(v)/10 }, 1.1, 1.2, 1.3).Stages}, lactate.ErrShape},
		{lactate.LactateMinimumTest{Raised: raised(2.9), Stages: sampled(parabola, 1.1, 1.2, 1.3).Stages}, lactate.ErrShape},
		{lactate.LactateMinimumTest{}, lactate.ErrTooFewStages},
	} {
		got, err := lactate.LactateMinimum(row.test)
		if !errors.Is(err, row.want) || got != (lactate.LactateMinimumPoint{}) {
			t.Errorf("got %+v and %v, want %v", got, err, row.want)
		}
	}
	if _, err := lactate.LactateMinimum(lactate.LactateMinimumTest{Raised: raised(9), Stages: sampled(parabola, 1.1, 1.2, 1.3).Stages}); err != nil {
		t.Error(err)
	}
}

// D (constructed): seven stages printed to 0.1 mmol/L, on the cubic by exact
// rational least squares.
func TestConstructedAmbiguity(t *testing.T) {
	test := stages([]float64{1.20, 1.25, 1.30, 1.35, 1.40, 1.45, 1.50}, []float64{1.2, 1.1, 1.3, 1.6, 2.5, 4.6, 8.4})
	c := fitted(t, new(curve.Polynomial), test)
	for k, want := range []float64{-1118.8738095238, 2660.7777777778, -2106.1904761905, 555.5555555556} {
		near(t, "coefficient", c.(*curve.Polynomial).Coefficients()[k], want, 5e-8)
	}
	for _, row := range []struct {
		method lactate.Method
		want   float64
	}{
		{lactate.Fixed{}, 1.437418},
		{lactate.Fixed{Lactate: 2}, 1.379519},
		{lactate.MaxDistance{}, 1.385965},
		{lactate.MaxDistance{Ends: lactate.MeasuredEnds}, 1.385809},
		{lactate.ModifiedMaxDistance{}, 1.430712},
		{lactate.ModifiedMaxDistance{Ends: lactate.MeasuredEnds}, 1.430169},
		{lactate.ModifiedMaxDistance{Ends: lactate.MeasuredEnds, Start: lactate.ChordBeforeRiseAboveLowest}, 1.411387},
		{lactate.ModifiedMaxDistance{Ends: lactate.MeasuredEnds, Start: lactate.ChordAtFirstRise}, 1.453206},
		{lactate.AboveBaseline{From: lactate.BaselineLowestStage}, 1.383988},
		{lactate.AboveBaseline{From: lactate.BaselineFirstStage}, 1.388136},
		{lactate.AboveBaseline{From: lactate.BaselineFirstTwoStages}, 1.386098},
		{lactate.ObservedRise{}, 1.40},
		{lactate.ObservedRise{Rise: 0.5, From: lactate.BaselineLowestStage}, 1.35}, // 1.6 − 1.1 is 0.5 in tenths
		{lactate.ObservedRise{Rise: 0.6, From: lactate.BaselineLowestStage}, 1.40},
		{lactate.ObservedRise{From: lactate.BaselineFirstTwoStages}, 1.40},
	} {
		located(t, row.method, test, c, row.want, 5.1e-7)
	}
	linear := fitted(t, new(interp.PiecewiseLinear), test)
	for _, row := range []struct {
		method lactate.Method
		want   float64
	}{
		{lactate.Fixed{}, 1.435714},
		{lactate.AboveBaseline{From: lactate.BaselineLowestStage}, 1.377778},
		{lactate.AboveBaseline{From: lactate.BaselineFirstStage}, 1.383333},
		{lactate.AboveBaseline{From: lactate.BaselineFirstTwoStages}, 1.380556},
	} {
		located(t, row.method, test, linear, row.want, 5.1e-7)
	}

	// The rest sample is never a point of the curve: with it, a cubic would
	// rise to 31 mmol/L at 0.41 m/s.
	test.Rest = 1
	a := analysed(t, test, lactate.Options{LT2: lactate.MaxDistance{}, Curve: func() lactate.Curve { return new(curve.Polynomial) }})
	near(t, "Dmax with a rest sample", a.LT2.Intensity.Value, 1.385965, 5.1e-7)
}
