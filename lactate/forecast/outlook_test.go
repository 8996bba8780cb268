package forecast_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// Of a swimmer whose curve is known, the forecast is the delta method on that
// curve: width = 2·t·SE. Evidence: D, against lactate.Analysis.DeltaInterval;
// the curve lies on a node of the forecast's rates.
func TestForecastOfKnownCurve(t *testing.T) {
	p := sixOf400()
	s := swimmer{1.2, 10, math.Sqrt(11 * 22)}
	sure := lactate.Options{Noise: lactate.Noise{Absolute: 1e-4}}
	// Small noise, so that the earlier tests leave no doubt about the curve.
	out, err := forecast.Of(p, forecast.Expected{Tests: slices.Repeat([]lactate.Test{s.test(p, 0)}, 3), DayToDay: 1e-9}, sure)
	if err != nil {
		t.Fatal(err)
	}
	certain := lactate.Options{Noise: sure.Noise, Methods: []lactate.Method{}}
	certain.Noise.Weight = math.Inf(1)
	a, err := lactate.Analyze(s.test(p, 0), certain)
	if err != nil {
		t.Fatal(err)
	}
	z := distuv.UnitNormal.Quantile(0.95)
	student := distuv.StudentsT{Sigma: 1, Nu: 4 + 3}.Quantile(0.95)
	for _, f := range []forecast.Threshold{out.LT1, out.LT2} {
		x, err := a.DeltaInterval(f.Method)
		if err != nil {
			t.Fatal(err)
		}
		se := (x.High - x.Low) / (2 * z)
		if !(math.Abs(f.StandardError/se-1) <= 1e-2) || !(math.Abs(f.Width()/(2*student*se)-1) <= 1e-2) || !(math.Abs(f.Speed.Value-x.Value) <= 1e-4) {
			t.Errorf("%v: %+v, want %v with standard error %v", f.Method, f, x.Value, se)
		}
	}
}

// More stages between the same ends, and less noise, never widen the forecast;
// twice the noise doubles it, near enough. Evidence: D.
func TestPropForecast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		last := time.Duration(rapid.IntRange(270, 330).Draw(t, "last")) * time.Second
		first := last + time.Duration(rapid.IntRange(30, 60).Draw(t, "range"))*time.Second
		n := rapid.IntRange(4, 10).Draw(t, "stages")
		o := lactate.Options{Noise: lactate.Noise{Absolute: rapid.Float64Range(0.05, 0.3).Draw(t, "noise"), Relative: rapid.Float64Range(0, 0.05).Draw(t, "relative")}}
		forecast := func(n int, o lactate.Options) [3]float64 {
			out, err := forecast.Of(even(n, first, last), forecast.Expected{}, o)
			if err != nil {
				t.Fatal(err)
			}
			if out.Shift.BetweenDays < out.Shift.Detectable || !(out.Shift.Detectable > out.Shift.StandardError) {
				t.Fatalf("shift %+v", out.Shift)
			}
			for _, f := range []forecast.Threshold{out.LT1, out.LT2} {
				if !(f.Speed.Low < f.Speed.Value && f.Speed.Value < f.Speed.High && f.Missed >= 0 && f.Missed < 1 && f.Unknown >= 0) {
					t.Fatalf("forecast %+v", f)
				}
			}
			return [3]float64{out.LT1.Width(), out.LT2.Width(), out.Shift.Detectable}
		}
		few, more := forecast(n, o), forecast(n+1, o)
		half := o
		half.Noise.Absolute /= 2
		half.Noise.Relative /= 2
		quiet := forecast(n, half)
		for k, name := range []string{"LT1", "LT2", "shift"} {
			if !(more[k] <= few[k]*(1+1e-9)) {
				t.Fatalf("%s: %v with %d stages, %v with one more", name, few[k], n, more[k])
			}
			if !(math.Abs(quiet[k]/few[k]-0.5) <= 0.01) {
				t.Fatalf("%s: %v, with half the noise %v", name, few[k], quiet[k])
			}
		}
	})
}

// What is known of a swimmer narrows what is believed, not what a sample is off.
func TestForecastAfterATest(t *testing.T) {
	p := sixOf400()
	fast := swimmer{0.9, 12, 20}
	blank, err := forecast.Of(p, forecast.Expected{}, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	after, err := forecast.Of(p, forecast.Expected{Tests: []lactate.Test{fast.test(p, 0)}}, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !(after.LT1.Unknown < blank.LT1.Unknown && after.LT2.Unknown < blank.LT2.Unknown) {
		t.Errorf("unknown before a test %v and %v, after it %v and %v", blank.LT1.Unknown, blank.LT2.Unknown, after.LT1.Unknown, after.LT2.Unknown)
	}
	a, err := lactate.Analyze(fast.test(p, 0), lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(after.LT2.Speed.Value-a.LT2.Intensity.Value) <= after.LT2.StandardError) {
		t.Errorf("LT2 expected at %v after a test that says %v", after.LT2.Speed.Value, a.LT2.Intensity.Value)
	}
	// An earlier test with fewer stages makes the shift harder to see.
	short := fast.test(even(4, 350*time.Second, 300*time.Second), 0)
	fewer, err := forecast.Of(p, forecast.Expected{Tests: []lactate.Test{fast.test(p, 0), short}}, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !(fewer.Shift.Detectable > after.Shift.Detectable) {
		t.Errorf("beside four stages %v is detectable, beside six %v", fewer.Shift.Detectable, after.Shift.Detectable)
	}
}

// D: however many earlier tests there are, the day of the next one is not known
// from them: where the curve lies is that of the last test, and what is believed
// of a level of lactate stays about as wide as two days differ, √2·DayToDay.
func TestManyTestsLeaveTheDayOpen(t *testing.T) {
	p := sixOf400()
	test := swimmer{1.1, 9, 15}.test(p, 0)
	o := lactate.Options{LT2: lactate.Fixed{Lactate: 4}}
	unknown := func(tests int) float64 {
		var earlier forecast.Expected
		for range tests {
			earlier.Tests = append(earlier.Tests, test)
		}
		out, err := forecast.Of(p, earlier, o)
		if err != nil {
			t.Fatal(err)
		}
		return out.LT2.Unknown / out.LT2.Speed.Value
	}
	one, many := unknown(1), unknown(12)
	days := math.Sqrt2 * 0.008
	t.Logf("unknown after one test %.4f, after twelve %.4f, two days %.4f", one, many, days)
	if !(many >= 0.9*days && many <= 1.2*days && one > many) {
		t.Errorf("after one test %.4f, after twelve %.4f, expected about %.4f", one, many, days)
	}
}

// The weight of the stated noise decides how far the interval is from the
// normal distribution's. Evidence: D, quantiles of Student's t with 4 + 3, 3 and
// infinitely many degrees of freedom at 95 %: 1.8946, 2.3534, 1.6449 (printed
// tables).
func TestForecastWeight(t *testing.T) {
	p := sixOf400()
	for weight, quantile := range map[float64]float64{0: 1.8946, -1: 2.3534, math.Inf(1): 1.6449} {
		out, err := forecast.Of(p, forecast.Expected{}, lactate.Options{Noise: lactate.Noise{Weight: weight}})
		if err != nil {
			t.Fatal(err)
		}
		if got := out.LT2.Width() / 2 / out.LT2.StandardError; !(math.Abs(got-quantile) <= 5e-5) {
			t.Errorf("weight %v: %v standard errors, want %v", weight, got, quantile)
		}
		if !(out.Shift.Detectable > 2*out.Shift.StandardError) {
			t.Errorf("weight %v: %+v", weight, out.Shift)
		}
	}
}
