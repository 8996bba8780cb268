package forecast_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"pgregory.net/rapid"
)

// of is forecast.Of without an error.
func of(t interface{ Fatal(...any) }, stages []lactate.Stage, o lactate.Options, tests ...lactate.Test) *forecast.Outlook {
	out, err := forecast.Of(stages, forecast.Expected{Tests: tests}, o)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// More stages between the same ends hardly widen the forecast, and half the noise
// narrows it. Evidence: D.
func TestPropForecast(t *testing.T) {
	checks := 0
	rapid.Check(t, func(t *rapid.T) {
		if checks++; checks > 10 && !*long {
			return
		}
		last := time.Duration(rapid.IntRange(270, 330).Draw(t, "last")) * time.Second
		first := last + time.Duration(rapid.IntRange(40, 90).Draw(t, "range"))*time.Second
		n := rapid.IntRange(5, 8).Draw(t, "stages")
		o := lactate.Options{Noise: lactate.Noise{Absolute: rapid.Float64Range(0.05, 0.3).Draw(t, "noise"), Relative: rapid.Float64Range(0, 0.05).Draw(t, "relative")}}
		widths := func(n int, o lactate.Options) [3]float64 {
			out := of(t, even(n, first, last), o)
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
		half := o
		half.Noise.Absolute /= 2
		half.Noise.Relative /= 2
		few, more, quiet := widths(n, o), widths(n+2, o), widths(n, half)
		for k, name := range []string{"LT1", "LT2", "shift"} {
			if !(more[k] <= few[k]*1.05) {
				t.Fatalf("%s: %v with %d stages, %v with two more", name, few[k], n, more[k])
			}
			if !(quiet[k] <= 0.85*few[k]) {
				t.Fatalf("%s: %v, with half the noise %v", name, few[k], quiet[k])
			}
		}
	})
}

// What is known of a swimmer narrows what is believed. Evidence: D.
func TestForecastAfterATest(t *testing.T) {
	p := sixOf400()
	fast := swimmer{0.9, 12, 20}
	blank, after := of(t, p, lactate.Options{}), of(t, p, lactate.Options{}, fast.test(p, 0))
	if !(after.LT1.Unknown < blank.LT1.Unknown && after.LT2.Unknown < blank.LT2.Unknown) {
		t.Errorf("unknown before a test %v and %v, after it %v and %v", blank.LT1.Unknown, blank.LT2.Unknown, after.LT1.Unknown, after.LT2.Unknown)
	}
	a, err := lactate.Analyze(fast.test(p, 0), lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(after.LT2.Speed.Value-a.LT2.Intensity.Value) <= after.LT2.Width()/4) {
		t.Errorf("LT2 expected at %v after a test that says %v", after.LT2.Speed.Value, a.LT2.Intensity.Value)
	}
	// An earlier test with fewer stages makes the shift harder to see.
	short := fast.test(even(4, 350*time.Second, 300*time.Second), 0)
	if fewer := of(t, p, lactate.Options{}, fast.test(p, 0), short); !(fewer.Shift.Detectable > after.Shift.Detectable) {
		t.Errorf("beside four stages %v is detectable, beside six %v", fewer.Shift.Detectable, after.Shift.Detectable)
	}
}

// D: however many earlier tests there are, the day of the next one is not known
// from them: where the curve lies is that of the last test, and what is believed
// of a level of lactate stays about as wide as two days differ, √2·DayToDay.
func TestManyTestsLeaveTheDayOpen(t *testing.T) {
	p := sixOf400()
	test := swimmer{1.1, 9, 15}.test(p, 0)
	o := lactate.Options{LT2: lactate.Fixed{Lactate: 4}, DayToDay: 0.008}
	unknown := func(tests int) float64 {
		out := of(t, p, o, slices.Repeat([]lactate.Test{test}, tests)...)
		return out.LT2.Unknown / out.LT2.Speed.Value
	}
	one, many := unknown(1), unknown(12)
	days := math.Sqrt2 * o.DayToDay
	t.Logf("unknown after one test %.4f, after twelve %.4f, two days %.4f", one, many, days)
	if !(many >= 0.85*days && many <= 1.25*days) {
		t.Errorf("after one test %.4f, after twelve %.4f, expected about %.4f", one, many, days)
	}
}

// The less the stated noise weighs, the wider the interval. Evidence: D, Student's t
// at 95 % with 2 + 4 degrees of freedom over that with infinitely many is
// 1.18 (printed tables); a refit's scale is somewhat another.
func TestForecastWeight(t *testing.T) {
	p := sixOf400()
	width := func(weight float64) float64 {
		return of(t, p, lactate.Options{Noise: lactate.Noise{Weight: weight}}).LT2.Width()
	}
	certain, usual := width(math.Inf(1)), width(0)
	if !(usual >= 1.02*certain && usual <= 1.4*certain) {
		t.Errorf("width %v, with certain noise %v", usual, certain)
	}
}

// The same question has the same answer, and another seed nearly so. Evidence: D.
func TestSameAnswer(t *testing.T) {
	p := sixOf400()
	a, b, c := of(t, p, lactate.Options{}), of(t, p, lactate.Options{}), of(t, p, lactate.Options{Seed: 7})
	if a.LT1 != b.LT1 || a.LT2 != b.LT2 || a.Shift != b.Shift {
		t.Errorf("found %+v and %+v", a, b)
	}
	for k, f := range []forecast.Threshold{a.LT1, a.LT2} {
		if g := []forecast.Threshold{c.LT1, c.LT2}[k]; !(math.Abs(f.Width()/g.Width()-1) <= 0.1) || !(math.Abs(f.Speed.Value-g.Speed.Value) <= f.Unknown/2) {
			t.Errorf("%v: %+v, with another seed %+v", f.Method, f, g)
		}
	}
}
