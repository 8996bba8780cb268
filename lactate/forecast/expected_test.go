package forecast_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"pgregory.net/rapid"
)

// invented are the lactates of an invented test [mmol/L] by speed [m/s]: 400 yd
// in 5:51.7, 5:42.4, 5:32.3, 5:23.4, 5:12.4 and 4:58.8.
func invented(shift float64) lactate.Test {
	var t lactate.Test
	for i, seconds := range []float64{351.7, 342.4, 332.3, 323.4, 312.4, 298.8} {
		v := 365.76/seconds + shift
		y := []float64{1.5, 1.7, 2.3, 3.0, 4.7, 9.9}[i]
		t.Stages = append(t.Stages, lactate.Stage{Intensity: v, Lactate: y, Duration: time.Duration(365.76 / v * float64(time.Second))})
	}
	return t
}

// sameAgain are stages at the speeds of a test.
func sameAgain(of lactate.Test) []lactate.Stage {
	out := slices.Clone(of.Stages)
	for i := range out {
		out[i].Lactate = 0
	}
	return out
}

// D: two tests that differ by a shift alone say of the curve what the later one
// says, wherever it lies: LT1 and LT2 are forecast where that reads them, LT1 is
// the slower, and the forecast moves with the shift, as far to the left as to the
// right.
func TestPureShiftOfTwoTests(t *testing.T) {
	at := func(percent float64) (out *forecast.Outlook, shift float64) {
		shift = percent / 100 * 365.76 / 332.3
		last := invented(shift)
		out = of(t, sameAgain(last), lactate.Options{}, invented(0), last)
		a, err := lactate.Analyze(last, lactate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for k, f := range []forecast.Threshold{out.LT1, out.LT2} {
			read := []lactate.Threshold{a.LT1, a.LT2}[k].Intensity
			if !(math.Abs(f.Speed.Value-read.Value) <= 0.005) {
				t.Errorf("%+g %%: %v forecast at %.4f m/s, the last test says %.4f", percent, f.Method, f.Speed.Value, read.Value)
			}
		}
		if !(out.LT1.Speed.Value < out.LT2.Speed.Value-0.03) || out.LeftOut != nil {
			t.Errorf("%+g %%: LT1 at %.4f m/s, LT2 at %.4f, left out %v", percent, out.LT1.Speed.Value, out.LT2.Speed.Value, out.LeftOut)
		}
		return out, shift
	}
	still, _ := at(0)
	for _, percent := range []float64{-8, -0.5, 4} {
		out, shift := at(percent)
		for k, f := range []forecast.Threshold{out.LT1, out.LT2} {
			g := []forecast.Threshold{still.LT1, still.LT2}[k]
			t.Logf("%+g %%: %v moves by %.5f m/s of %.5f, width %.4f, unmoved %.4f", percent, f.Method, f.Speed.Value-g.Speed.Value, shift, f.Width(), g.Width())
			if !(math.Abs(f.Speed.Value-g.Speed.Value-shift) <= 2e-3) {
				t.Errorf("%+g %%: %v moves by %.5f m/s, want %.5f", percent, f.Method, f.Speed.Value-g.Speed.Value, shift)
			}
			if !(math.Abs(f.Width()/g.Width()-1) <= 0.1) {
				t.Errorf("%+g %%: %v is %.5f m/s wide, unmoved %.5f", percent, f.Method, f.Width(), g.Width())
			}
		}
	}
}

// D: any swimmer, any shifts between any number of tests: the forecast lies where
// the last test reads its thresholds, whatever lies before it: within 0.4 of its width, as a slow
// rise that moved by 0.13 m/s needs.
func TestPropPlaceOfTheLastTest(t *testing.T) {
	checks := 0
	rapid.Check(t, func(t *rapid.T) {
		if checks++; checks > 10 && !*long {
			return
		}
		p := even(6, 350*time.Second, 300*time.Second)
		s := swimmer{rapid.Float64Range(0.8, 1.4).Draw(t, "asymptote"), rapid.Float64Range(7, 12).Draw(t, "final"), rapid.Float64Range(12, 20).Draw(t, "rate")}
		shifts := rapid.SliceOfN(rapid.Float64Range(-0.1, 0.1), 2, 5).Draw(t, "shifts")
		var tests []lactate.Test
		for _, shift := range shifts {
			test := s.test(p, 0)
			for i := range test.Stages {
				test.Stages[i].Intensity += shift
			}
			tests = append(tests, test)
		}
		last := tests[len(tests)-1]
		out := of(t, sameAgain(last), lactate.Options{}, tests...)
		a, err := lactate.Analyze(last, lactate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for k, f := range []forecast.Threshold{out.LT1, out.LT2} {
			read := []lactate.Threshold{a.LT1, a.LT2}[k].Intensity.Value
			if !(math.Abs(f.Speed.Value-read) <= 0.4*f.Width()) {
				t.Fatalf("%v forecast at %.4f m/s (%.4f wide), the last test says %.4f", f.Method, f.Speed.Value, f.Width(), read)
			}
		}
		if !(out.LT1.Speed.Value < out.LT2.Speed.Value) || out.LeftOut != nil {
			t.Fatalf("LT1 at %.4f m/s, LT2 at %.4f, left out %v", out.LT1.Speed.Value, out.LT2.Speed.Value, out.LeftOut)
		}
	})
}

// D, simulation: how far LT1 and LT2 of the day lie from the forecast is what
// Unknown says, for swimmers as they are believed to be, noise as stated, days
// that differ, and training of any size between the tests.
func TestUnknownAgainstSimulation(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 4))
	n, wider := repetitions(120)
	p := sixOf400()
	const day, middle = 0.008, (400./350 + 400./300) / 2
	for _, tests := range []int{1, 3} {
		var off, stated [2]float64
		found := [2]int{}
		for range n {
			s := swimmer{1.1 + 0.3*rng.NormFloat64(), 9 + 3*rng.NormFloat64(), math.Sqrt(11*22) * math.Exp(math.Log(2)/2*rng.NormFloat64())}
			s.asymptote, s.final = max(s.asymptote, 0.4), max(s.final, 4)
			s.rate = min(max(s.rate, 8), 30)
			e := forecast.Expected{DayToDay: day}
			for i := range tests {
				test := s.noisy(p, day*middle*rng.NormFloat64(), rng)
				if i < tests-1 { // trained since, and the plan followed
					place := 0.05 * rng.NormFloat64()
					for k := range test.Stages {
						test.Stages[k].Intensity += place
					}
				}
				e.Tests = append(e.Tests, test)
			}
			out, err := forecast.Of(p, e, lactate.Options{})
			if err != nil {
				t.Fatal(err)
			}
			move := day * middle * rng.NormFloat64()
			for k, f := range []forecast.Threshold{out.LT1, out.LT2} {
				at, ok := s.above(p, []float64{0.5, 1.5}[k])
				if !ok {
					continue
				}
				d := at + move - f.Speed.Value
				off[k] += d * d
				stated[k] += f.Unknown * f.Unknown
				found[k]++
			}
		}
		for k, name := range []string{"LT1", "LT2"} {
			ratio := math.Sqrt(stated[k] / off[k])
			t.Logf("after %d tests, %s: unknown %.4f m/s, found %.4f off, ratio %.3f, in %d of %d", tests, name,
				math.Sqrt(stated[k]/float64(found[k])), math.Sqrt(off[k]/float64(found[k])), ratio, found[k], n)
			if !(math.Abs(ratio-1) <= 0.15+0.05*wider) {
				t.Errorf("after %d tests, %s: unknown is %.3f of what is found", tests, name, ratio)
			}
		}
	}
}

// An earlier test of plainly another shape says nothing, and the outlook says
// so; what is left is as if it had not been. Evidence: D.
func TestOtherShapeIsLeftOut(t *testing.T) {
	p := sixOf400()
	now := swimmer{1.1, 9, 20}.test(p, 0)
	for _, c := range []struct {
		with, without []lactate.Test
		left          int
	}{
		{[]lactate.Test{now, swimmer{1.4, 9, 8}.test(p, 0), now}, []lactate.Test{now, now}, 1},
		{[]lactate.Test{swimmer{1.4, 30, 7}.test(p, 0), now}, []lactate.Test{now}, 0},
	} {
		with, without := of(t, p, lactate.Options{}, c.with...), of(t, p, lactate.Options{}, c.without...)
		if !slices.Equal(with.LeftOut, []int{c.left}) {
			t.Errorf("left out %v, want test %d", with.LeftOut, c.left)
		}
		with.LeftOut = nil
		if !reflect.DeepEqual(with, without) {
			t.Errorf("%+v, want %+v", with, without)
		}
	}
}

// D, simulation: tests of one shape are hardly ever taken for two.
func TestOneShapeIsKept(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	p := sixOf400()
	out, n := 0, 27
	if *long {
		n = 540
	}
	for i := range n {
		s := swimmers()[i%27]
		out += len(of(t, p, lactate.Options{}, s.noisy(p, 0.03*rng.NormFloat64(), rng), s.noisy(p, 0, rng)).LeftOut)
	}
	t.Logf("%d of %d left out", out, n)
	if !(out <= n/25) {
		t.Errorf("%d of %d tests of the same shape were left out", out, n)
	}
}

// D, simulation: an earlier test that was easier than the plan adds to what is
// known without it, and takes nothing away: LT1 stays below LT2, neither is less
// known than of a stranger, and the widths are those that intervals will have.
func TestEasyTests(t *testing.T) {
	p := sixOf400()
	none := of(t, p, lactate.Options{})
	s := swimmer{1.1, 9, math.Sqrt(11 * 22)}
	ref := 400. / 300
	// Two days differ, which a stranger's do not.
	// Of these tests the first repeats may not see the baseline, which widens the intervals.
	const wider = 1.4
	most := func(unknown float64) float64 { return 1.1 * math.Hypot(unknown, math.Sqrt2*0.008*ref) }
	for _, r := range [][2]time.Duration{{370 * time.Second, 320 * time.Second}, {400 * time.Second, 350 * time.Second}, {500 * time.Second, 400 * time.Second}, {900 * time.Second, 800 * time.Second}} {
		easy := even(6, r[0], r[1])
		var test lactate.Test
		for _, target := range easy {
			v := target.Intensity
			y := s.asymptote + (s.final-s.asymptote)*math.Exp(s.rate*(v-ref))
			test.Stages = append(test.Stages, lactate.Stage{Intensity: v, Lactate: y, Duration: target.Duration})
		}
		for _, n := range []int{1, 60} {
			out := of(t, p, lactate.Options{}, slices.Repeat([]lactate.Test{test}, n)...)
			t.Logf("%d tests of %v to %v: LT1 %.4f ± %.4f, %.4f wide, LT2 %.4f ± %.4f, %.4f wide, shift %.4f", n, r[0], r[1], out.LT1.Speed.Value, out.LT1.Unknown,
				out.LT1.Width(), out.LT2.Speed.Value, out.LT2.Unknown, out.LT2.Width(), out.Shift.StandardError)
			if !(out.LT1.Speed.Value < out.LT2.Speed.Value) || !(out.LT1.Unknown <= most(none.LT1.Unknown)) || !(out.LT2.Unknown <= most(none.LT2.Unknown)) ||
				!(out.LT1.Width() <= wider*none.LT1.Width()) || !(out.LT2.Width() <= wider*none.LT2.Width()) {
				t.Errorf("%d tests of %v to %v: %+v, without them %+v", n, r[0], r[1], out, none)
			}
			// The curve of these easy tests goes on to where it is read.
			for k, f := range []forecast.Threshold{out.LT1, out.LT2} {
				if truth, _ := s.above(p, []float64{0.5, 1.5}[k]); !(math.Abs(f.Speed.Value-truth) <= 0.02) {
					t.Errorf("%d tests of %v to %v: %v at %.4f m/s, want %.4f", n, r[0], r[1], f.Method, f.Speed.Value, truth)
				}
			}
		}
	}
}

// D, simulation: a swimmer who scatters more than stated has no other shape for
// that.
func TestScatterIsNoShape(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	p := sixOf400()
	for _, k := range []float64{1.5, 2} {
		out, n := 0, 18
		for i := range n {
			s := swimmers()[i%27]
			var tests []lactate.Test
			for range 2 {
				test := s.test(p, 0.02*rng.NormFloat64())
				for j := range test.Stages {
					st := &test.Stages[j]
					st.Lactate = max(0.1, st.Lactate+k*lactate.DefaultNoise().Lactate(st.Lactate)*rng.NormFloat64())
				}
				tests = append(tests, test)
			}
			out += len(of(t, p, lactate.Options{}, tests...).LeftOut)
		}
		t.Logf("%g times the noise: %d of %d left out", k, out, n)
		if !(out <= n/10) {
			t.Errorf("%g times the noise: %d of %d tests of the same shape were left out", k, out, n)
		}
	}
}

// Two samples are no test; noise next to none has the day's shift alone, not more.
func TestExpectedEdges(t *testing.T) {
	p := sixOf400()
	now := swimmer{1.1, 9, 20}.test(p, 0)
	two := now
	two.Stages = two.Stages[4:]
	if _, err := forecast.Of(p, forecast.Expected{Tests: []lactate.Test{two}}, lactate.Options{}); !errors.Is(err, forecast.ErrNoAnswer) || !strings.Contains(err.Error(), "three stages") {
		t.Errorf("two samples: %v", err)
	}
	for _, noise := range []float64{1e-3, 1e-5} {
		out := of(t, p, lactate.Options{Noise: lactate.Noise{Absolute: noise, Weight: math.Inf(1)}})
		// Normal quantiles of 5 and 20 % add up to 2.4865 standard errors of two days.
		if want := 2.4865 * math.Sqrt2 * 0.008 * out.LT2.Speed.Value; !(math.Abs(out.Shift.BetweenDays-want) <= 0.03*want) {
			t.Errorf("noise %v: %v, want %v", noise, out.Shift.BetweenDays, want)
		}
	}
	// The same test twice is one shape, however little the noise.
	if out := of(t, p, lactate.Options{Noise: lactate.Noise{Absolute: 1e-6}}, now, now); out.LeftOut != nil {
		t.Errorf("the same test twice: %v", out)
	}
}
