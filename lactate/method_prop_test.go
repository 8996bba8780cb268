package lactate_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"
)

// A drawn step test: six to ten stages of steps that need not be equal, lactate
// about an exponential, in thousandths so that no rise is a hair from a limit,
// with durations, and recovery samples that come back down.
func drawTest(t *rapid.T) lactate.Test {
	var test lactate.Test
	n := rapid.IntRange(6, 10).Draw(t, "stages")
	bend := rapid.Float64Range(3, 6).Draw(t, "bend")
	rest := rapid.Float64Range(0.7, 1.5).Draw(t, "rest")
	x := 1.0
	var xs []float64
	for range n {
		xs = append(xs, x)
		x += rapid.Float64Range(0.04, 0.08).Draw(t, "step")
	}
	for _, x := range xs {
		u := (x - xs[0]) / (xs[n-1] - xs[0])
		noise := rapid.Float64Range(-0.15, 0.15).Draw(t, "noise")
		test.Stages = append(test.Stages, lactate.Stage{
			Intensity: x,
			Lactate:   math.Round(1e3*(rest+7*math.Exp(bend*(u-1))+noise)) / 1e3,
			Duration:  time.Duration(300 / x * float64(time.Second)),
		})
	}
	end := test.Stages[n-1].Lactate
	test.Rest = rest
	test.Recovery = []lactate.RecoverySample{
		{After: time.Minute, Lactate: end + 1}, {After: 3 * time.Minute, Lactate: end + 1.5}, {After: 8 * time.Minute, Lactate: end - 1.5},
	}
	return test
}

var regressions = []func() lactate.Curve{
	func() lactate.Curve { return new(curve.Exponential) },
	func() lactate.Curve { return new(curve.Polynomial) },
}

// mapped is the test with other units or zeros of its axes.
func mapped(test lactate.Test, x, y func(float64) float64) lactate.Test {
	test.Stages = slices.Clone(test.Stages)
	test.Recovery = slices.Clone(test.Recovery)
	for i := range test.Stages {
		s := &test.Stages[i]
		s.Intensity, s.Lactate = x(s.Intensity), y(s.Lactate)
	}
	for i := range test.Recovery {
		test.Recovery[i].Lactate = y(test.Recovery[i].Lactate)
	}
	test.Rest = y(test.Rest)
	return test
}

// agree fails unless m gives want(x) in the second test where it gives x in the
// first. What a hair decides between, such as two joins that fit equally well,
// is not asked for.
func agree(t *rapid.T, before, after lactate.Test, was, is lactate.Method, newCurve func() lactate.Curve, want func(float64) float64) {
	b, a := newCurve(), newCurve()
	if fitTo(b, before) != nil || fitTo(a, after) != nil {
		return
	}
	x, err := was.Locate(before, b)
	y, err2 := is.Locate(after, a)
	if (err == nil) != (err2 == nil) {
		t.Fatalf("%v: %v (%v) and %v: %v (%v)", was, x, err, is, y, err2)
	}
	if err == nil && !(math.Abs(y-want(x)) <= 1e-6*math.Abs(want(x))) {
		t.Fatalf("%v on %T: %v became %v, want %v", was, b, x, y, want(x))
	}
}

func fitTo(c lactate.Curve, test lactate.Test) error {
	var xs, ys []float64
	for _, s := range test.Sampled() {
		xs, ys = append(xs, s.Intensity), append(ys, s.Lactate)
	}
	return c.Fit(xs, ys)
}

func same(x float64) float64 { return x }

// D: another unit of intensity scales every threshold, a slope by its inverse.
func TestPropScaleOfIntensity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := drawTest(t)
		k := rapid.Float64Range(0.01, 100).Draw(t, "unit")
		scale := func(x float64) float64 { return k * x }
		for _, newCurve := range regressions {
			for _, e := range lactate.Catalogue("m/s") {
				is := e.Method
				if m, ok := is.(lactate.FixedSlope); ok {
					is = lactate.FixedSlope{Slope: m.Slope / k}
				}
				agree(t, test, mapped(test, scale, same), e.Method, is, newCurve, scale)
			}
		}
	})
}

// D: another unit of lactate leaves every threshold where it is, if levels,
// rises and slopes are in that unit too.
func TestPropScaleOfLactate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := drawTest(t)
		k := math.Ldexp(1, rapid.IntRange(0, 6).Draw(t, "unit"))
		for _, newCurve := range regressions {
			for _, e := range lactate.Catalogue("m/s") {
				is := e.Method
				switch m := is.(type) {
				case lactate.Fixed:
					m.Lactate *= k
					is = m
				case lactate.AboveBaseline:
					m.Rise *= k
					is = m
				case lactate.AboveLowestEquivalent:
					m.Rise *= k
					is = m
				case lactate.ObservedRise:
					m.Rise *= k
					is = m
				case lactate.ModifiedMaxDistance:
					m.Rise = 0.4 * k
					is = m
				case lactate.FixedSlope:
					m.Slope *= k
					is = m
				case lactate.TwoSpeed:
					m.Lactate = 4 * k
					is = m
				}
				agree(t, test, mapped(test, same, func(y float64) float64 { return k * y }), e.Method, is, newCurve, same)
			}
		}
	})
}

// needsZero reports whether a definition depends on where zero is on either
// axis: those that take logarithms or divide lactate by intensity.
func needsZero(m lactate.Method) bool {
	switch m.(type) {
	case lactate.LogLog, lactate.LogLogMaxDistance, lactate.LowestLactateEquivalent, lactate.AboveLowestEquivalent:
		return true
	}
	return false
}

// D: another zero of intensity moves every threshold by as much; another zero
// of lactate moves none, if levels move too. The methods of needsZero are not
// asked; that those do depend on it is TestZeroMatters.
func TestPropShiftOfAxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := drawTest(t)
		d := rapid.Float64Range(-0.9, 5).Draw(t, "intensity")
		up := float64(rapid.IntRange(0, 40).Draw(t, "lactate tenths")) / 8
		shift := func(x float64) float64 { return x + d }
		for _, newCurve := range regressions {
			for _, e := range lactate.Catalogue("m/s") {
				if needsZero(e.Method) {
					continue
				}
				agree(t, test, mapped(test, shift, same), e.Method, e.Method, newCurve, shift)
				is := e.Method
				if m, ok := is.(lactate.Fixed); ok {
					m.Lactate += up
					is = m
				}
				agree(t, test, mapped(test, same, func(y float64) float64 { return y + up }), e.Method, is, newCurve, same)
			}
		}
	})
}

// D: the methods of needsZero do depend on the zero of the axes.
func TestZeroMatters(t *testing.T) {
	test := fullTest()
	moved := mapped(test, func(x float64) float64 { return x + 1 }, same)
	for _, e := range lactate.Catalogue("m/s") {
		if !needsZero(e.Method) {
			continue
		}
		x, err := e.Method.Locate(test, fitted(t, new(curve.Exponential), test))
		y, err2 := e.Method.Locate(moved, fitted(t, new(curve.Exponential), moved))
		if err != nil {
			t.Error(err)
		}
		if err2 == nil && math.Abs(y-1-x) < 1e-3 {
			t.Errorf("%v: moved by %v, as if it did not depend on the zero of intensity", e.Method, y-x)
		}
	}
}

// D: the order of stages does not matter, to the last bit.
func TestPropOrderOfStages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := drawTest(t)
		shuffled := test
		shuffled.Stages = rapid.Permutation(test.Stages).Draw(t, "stages")
		shuffled.Recovery = rapid.Permutation(test.Recovery).Draw(t, "recovery")
		for _, newCurve := range regressions {
			c := newCurve()
			if fitTo(c, test) != nil {
				continue
			}
			for _, e := range lactate.Catalogue("m/s") {
				x, err := e.Method.Locate(test, c)
				y, err2 := e.Method.Locate(shuffled, c)
				if x != y || fmt.Sprint(err) != fmt.Sprint(err2) {
					t.Fatalf("%v: %v (%v), shuffled %v (%v)", e.Method, x, err, y, err2)
				}
			}
		}
	})
}

// D: thresholds of fixed levels, rises and slopes are ordered as their numbers
// are.
func TestPropOrderOfLevels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := drawTest(t)
		low := rapid.Float64Range(0.5, 8).Draw(t, "low")
		high := low + rapid.Float64Range(0, 2).Draw(t, "more")
		for _, newCurve := range regressions {
			c := newCurve()
			if fitTo(c, test) != nil {
				continue
			}
			for _, pair := range [][2]lactate.Method{
				{lactate.Fixed{Lactate: low}, lactate.Fixed{Lactate: high}},
				{lactate.AboveBaseline{Rise: low}, lactate.AboveBaseline{Rise: high}},
				{lactate.AboveLowestEquivalent{Rise: low}, lactate.AboveLowestEquivalent{Rise: high}},
				{lactate.FixedSlope{Slope: low * 5}, lactate.FixedSlope{Slope: high * 5}},
				{lactate.ObservedRise{Rise: low}, lactate.ObservedRise{Rise: high}},
			} {
				x, err := pair[0].Locate(test, c)
				y, err2 := pair[1].Locate(test, c)
				if err == nil && err2 == nil && !(x <= y) {
					t.Fatalf("%v at %v, %v at %v", pair[0], x, pair[1], y)
				}
			}
		}
	})
}

// D: on samples from an exponential without noise every method gives what
// algebra gives.
func TestPropClosedForms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0.6, 1.6).Draw(t, "A")
		rate := rapid.Float64Range(2, 9).Draw(t, "C")
		top := rapid.Float64Range(5, 12).Draw(t, "top")
		lo, step, n := 0.9, 0.1, rapid.IntRange(6, 9).Draw(t, "stages")
		hi := lo + step*float64(n-1)
		b := (top - a) * math.Exp(-rate*hi)
		f := func(x float64) float64 { return a + b*math.Exp(rate*x) }
		var xs []float64
		for i := range n {
			xs = append(xs, lo+step*float64(i))
		}
		hi = xs[n-1]
		test := sampled(f, xs...)
		c := new(curve.Exponential)
		if err := fitTo(c, test); err != nil {
			t.Fatal(err)
		}
		check := func(m lactate.Method, want float64) {
			x, err := m.Locate(test, c)
			if want > lo+1e-6 && want < hi-1e-6 {
				if err != nil || !(math.Abs(x-want) <= 1e-6) {
					t.Fatalf("%v: got %v, %v, want %v", m, x, err, want)
				}
			} else if (want < lo-1e-6 || want > hi+1e-6) && err == nil {
				t.Fatalf("%v: got %v, want an error: %v is outside", m, x, want)
			}
		}
		level := rapid.Float64Range(1, 12).Draw(t, "level")
		inverse := func(y float64) float64 { return math.Log((y-a)/b) / rate }
		if level > a {
			check(lactate.Fixed{Lactate: level}, inverse(level))
		}
		for _, from := range []lactate.Baseline{lactate.BaselineFittedLowest, lactate.BaselineLowestStage, lactate.BaselineFirstStage} {
			check(lactate.AboveBaseline{Rise: level, From: from}, inverse(f(lo)+level))
		}
		check(lactate.AboveBaseline{Rise: level, From: lactate.BaselineFirstTwoStages}, inverse((f(xs[0])+f(xs[1]))/2+level))
		slope := func(s float64) float64 { return math.Log(s/(b*rate)) / rate }
		check(lactate.FixedSlope{Slope: 5 * level}, slope(5*level))
		check(lactate.MaxDistance{}, slope((f(hi)-f(lo))/(hi-lo)))
		check(lactate.MaxDistance{Ends: lactate.MeasuredEnds}, slope((f(hi)-f(lo))/(hi-lo)))
		for i := 1; i < n; i++ {
			if d := f(xs[i]) - f(xs[i-1]); d > 0.4+1e-6 {
				if i < n-1 {
					check(lactate.ModifiedMaxDistance{}, slope((f(hi)-f(xs[i-1]))/(hi-xs[i-1])))
				}
				break
			} else if d > 0.4-1e-6 {
				break
			}
		}
		// The lowest lactate equivalent: b·exp(Cx)·(Cx − 1) = a, by bisection to the
		// last bit on the closed form.
		g := func(x float64) float64 { return b*math.Exp(rate*x)*(rate*x-1) - a }
		if g(lo+0.01) < 0 && g(hi-0.01) > 0 {
			p, q := lo, hi
			for range 100 {
				if m := (p + q) / 2; g(m) < 0 {
					p = m
				} else {
					q = m
				}
			}
			check(lactate.LowestLactateEquivalent{}, p)
			check(lactate.AboveLowestEquivalent{}, inverse(f(p)+1.5))
		}
	})
}

// hidden is a curve that keeps its closed forms to itself; bare keeps its slope
// too.
type hidden struct {
	lactate.Curve
	interp.DerivativePredictor
}

func (h hidden) Predict(x float64) float64 { return h.Curve.Predict(x) }

type bare struct{ c lactate.Curve }

func (b bare) Fit(xs, ys []float64) error { return b.c.Fit(xs, ys) }
func (b bare) Predict(x float64) float64  { return b.c.Predict(x) }

// D: searching an unknown curve agrees with the closed forms of a known one.
func TestPropUnknownCurves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := drawTest(t)
		for _, newCurve := range regressions {
			c := newCurve()
			if fitTo(c, test) != nil {
				continue
			}
			for _, e := range lactate.Catalogue("m/s") {
				x, err := e.Method.Locate(test, c)
				for _, u := range []struct {
					c   lactate.Curve
					tol float64
				}{{hidden{c, c.(interp.DerivativePredictor)}, 1e-9}, {bare{c}, 1e-6}} {
					_, slope := u.c.(interp.DerivativePredictor)
					if _, needs := e.Method.(lactate.FixedSlope); needs && !slope {
						if _, err := e.Method.Locate(test, u.c); !errors.Is(err, lactate.ErrShape) {
							t.Fatalf("%v without a slope: %v", e.Method, err)
						}
						continue
					}
					y, err2 := e.Method.Locate(test, u.c)
					// The search does not see into the first and last 512th.
					if err == nil && err2 != nil && nearEnd(test, x) || err2 == nil && err != nil && nearEnd(test, y) {
						continue
					}
					if (err == nil) != (err2 == nil) || !(math.Abs(x-y) <= u.tol) {
						t.Fatalf("%v on %T: %v (%v), hidden in %T %v (%v)", e.Method, c, x, err, u.c, y, err2)
					}
				}
			}
		}
	})
}

func nearEnd(test lactate.Test, x float64) bool {
	s := test.Sampled()
	lo, hi := s[0].Intensity, s[len(s)-1].Intensity
	return x < lo+(hi-lo)/100 || x > hi-(hi-lo)/100
}

// D: gonum's interpolators serve as curves; what is found lies inside the
// tested range, and levels between two stages of a piecewise line where that
// line crosses them.
func TestPropInterpolators(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := drawTest(t)
		for _, c := range []lactate.Curve{new(interp.PiecewiseLinear), new(interp.AkimaSpline), new(interp.FritschButland), new(interp.NaturalCubic), new(interp.PiecewiseConstant)} {
			if err := fitTo(c, test); err != nil {
				t.Fatal(err)
			}
			inRange(t, test, c)
		}
		linear := new(interp.PiecewiseLinear)
		if err := fitTo(linear, test); err != nil {
			t.Fatal(err)
		}
		level := rapid.Float64Range(1, 8).Draw(t, "level")
		want, found := 0.0, false
		for i := 1; i < len(test.Stages); i++ {
			a, b := test.Stages[i-1], test.Stages[i]
			if math.Abs(a.Lactate-level) < 0.05 {
				return // a dip that only just reaches the level is too narrow to be seen
			}
			if a.Lactate < level && b.Lactate >= level {
				want, found = a.Intensity+(level-a.Lactate)/(b.Lactate-a.Lactate)*(b.Intensity-a.Intensity), true
			}
		}
		x, err := lactate.Fixed{Lactate: level}.Locate(test, linear)
		if found != (err == nil) || found && !(math.Abs(x-want) <= 1e-9) {
			t.Fatalf("%v mmol/L: got %v, %v, want %v (%v)", level, x, err, want, found)
		}
	})
}

// inRange fails unless every method gives a number inside the tested range, or
// an error and zero.
func inRange(t *rapid.T, test lactate.Test, c lactate.Curve) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, s := range test.Stages {
		if s.Lactate > 0 {
			lo, hi = min(lo, s.Intensity), max(hi, s.Intensity)
		}
	}
	for _, e := range append(lactate.Catalogue("m/s"), lactate.Catalogue("")...) {
		x, err := e.Method.Locate(test, c)
		if err != nil && x != 0 || err == nil && !(x >= lo && x <= hi) {
			t.Fatalf("%v on %T: %v, %v outside %v to %v", e.Method, c, x, err, lo, hi)
		}
	}
}

// D: a range so narrow that its numbers can be counted does not hold the search
// up. Times of recovery made one, found by TestPropAnyTest.
func TestNarrowRange(t *testing.T) {
	x := 1000.
	var test lactate.Test
	for i, y := range []float64{1, 1, 1.2, 2, 4, 8} {
		test.Stages = append(test.Stages, lactate.Stage{Intensity: x, Lactate: y, Duration: time.Duration(1 + i)})
		x = math.Nextafter(x, 2000)
	}
	test.Stages[0].Duration = 1000 * time.Second
	test.Recovery = []lactate.RecoverySample{{After: 1, Lactate: 9}, {After: 2, Lactate: 1}}
	for _, c := range []lactate.Curve{&curve.Exponential{A: 1, B: 1e-3, C: 1e-3}, &curve.BrokenLine{Join: 1000, Level: 1, Right: 1e12}} {
		for _, e := range lactate.Catalogue("m/s") {
			e.Method.Locate(test, c)
		}
	}
}

// D: whatever the test, thresholds lie inside the tested range or there is an
// error, and nothing panics; with no curve too.
func TestPropAnyTest(t *testing.T) {
	number := rapid.OneOf(rapid.Float64Range(0, 20), rapid.SampledFrom([]float64{0, 1, 1e-300, 1e300, 0.1, 2}), rapid.Float64Min(0))
	rapid.Check(t, func(t *rapid.T) {
		var test lactate.Test
		for range rapid.IntRange(0, 12).Draw(t, "stages") {
			test.Stages = append(test.Stages, lactate.Stage{
				Intensity: max(number.Draw(t, "intensity"), 1e-300),
				Lactate:   number.Draw(t, "lactate"),
				Duration:  time.Duration(rapid.Int64Range(0, 1e12).Draw(t, "duration")),
			})
		}
		for range rapid.IntRange(0, 4).Draw(t, "recovery") {
			test.Recovery = append(test.Recovery, lactate.RecoverySample{
				After:   time.Duration(rapid.Int64Range(0, 1e12).Draw(t, "after")),
				Lactate: max(number.Draw(t, "recovery lactate"), 1e-300),
			})
		}
		inRange(t, test, nil)
		for _, c := range []lactate.Curve{new(curve.Exponential), new(curve.Polynomial)} {
			if fitTo(c, test) == nil {
				inRange(t, test, c)
			}
		}
		if _, err := lactate.SideBySide(test, lactate.SideBySideOptions{}); err != nil && len(err.Error()) == 0 {
			t.Fatal("an error without words")
		}
		lactate.PeakLactate(test)
		lactate.LactateMinimum(lactate.LactateMinimumTest{Stages: test.Stages, Raised: test.Recovery})
	})
}
