package forecast_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/forecast"
)

// The forecast width is the width that Analyze reports, on average, within
// 10 %. Evidence: D, simulation; swimmers as they are believed to be where
// nothing is known.
func TestForecastAgainstAnalyze(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 1))
	const tests = 1200
	for _, stages := range []int{5, 6, 8} {
		p := even(stages, 350*time.Second, 300*time.Second)
		out, err := forecast.Of(p, forecast.Expected{}, lactate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		var sum [2]float64
		var n [2]int
		for range tests {
			s := swimmer{1.1 + 0.3*rng.NormFloat64(), 9 + 3*rng.NormFloat64(), math.Sqrt(11*22) * math.Exp(math.Log(2)/2*rng.NormFloat64())}
			s.asymptote = max(s.asymptote, 0.2)
			s.final = max(s.final, s.asymptote+1)
			a, err := lactate.Analyze(s.noisy(p, 0, rng), lactate.Options{Resamples: 200, Methods: []lactate.Method{}, Seed: rng.Uint64()})
			if err != nil {
				continue
			}
			for k, th := range []lactate.Threshold{a.LT1, a.LT2} {
				if w := th.Intensity.High - th.Intensity.Low; w < 1 {
					sum[k] += w
					n[k]++
				}
			}
		}
		for k, f := range []forecast.Threshold{out.LT1, out.LT2} {
			got, want := f.Width(), sum[k]/float64(n[k])
			t.Logf("%d stages, %v: forecast %.4f m/s, simulated %.4f in %d of %d tests, ratio %.3f", stages, f.Method, got, want, n[k], tests, got/want)
			if !(math.Abs(got/want-1) <= 0.10) {
				t.Errorf("%d stages, %v: forecast %.4f m/s, simulated %.4f", stages, f.Method, got, want)
			}
		}
	}
}

// spreadOf returns the width of the central 90 % of the errors.
func spreadOf(xs []float64) float64 {
	slices.Sort(xs)
	n := float64(len(xs))
	return xs[int(0.95*n)] - xs[int(0.05*n)]
}

// widths returns the simulated 90 % widths of LT2, LT1, and the shift beside a
// test by other stages.
func (s swimmer) widths(p, before []lactate.Stage, n int, rng *rand.Rand) (w [3]float64) {
	var xs [3][]float64
	m := len(before)
	groups := make([]int, m+len(p))
	for i := m; i < len(groups); i++ {
		groups[i] = 1
	}
	var c curve.Exponential
	var joint curve.Shifted
	for range n {
		first, t := s.noisy(before, 0, rng), s.noisy(p, 0, rng)
		var x, y []float64
		for _, st := range slices.Concat(first.Stages, t.Stages) {
			x, y = append(x, st.Intensity), append(y, st.Lactate)
		}
		if c.Fit(x[m:], y[m:]) == nil {
			for k, method := range []lactate.Method{lactate.MaxDistance{}, lactate.AboveBaseline{Rise: 0.5}} {
				if v, err := method.Locate(t, &c); err == nil {
					xs[k] = append(xs[k], v)
				}
			}
		}
		if joint.Fit(x, y, groups) == nil {
			xs[2] = append(xs[2], joint.Shifts[1])
		}
	}
	for k := range w {
		w[k] = spreadOf(xs[k])
	}
	return w
}

// For LT2 the better design is at least 15 % narrower than even steps between the
// same ends, and no wider for LT1 and the shift, averaged over the range of
// swimmers; its forecast says by how much. Evidence: D, simulation.
func TestBetterAgainstEvenSteps(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 2))
	const n = 1200
	b, err := forecast.Better(sixOf400(), forecast.NarrowLT2, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("targets %v instead of %v s", seconds(b.Stages), seconds(b.Even))
	var ratio [3]float64
	all := swimmers()
	for _, s := range all {
		even, better := s.widths(b.Even, b.Even, n, rng), s.widths(b.Stages, b.Even, n, rng)
		for k := range ratio {
			ratio[k] += better[k] / even[k] / float64(len(all))
		}
	}
	t.Logf("simulated widths: LT2 %.3f, LT1 %.3f, shift %.3f of even steps; forecast %.3f, %.3f, %.3f", ratio[0], ratio[1], ratio[2], b.LT2, b.LT1, b.Shift)
	for k, bound := range []float64{0.85, 1, 1} {
		if !(ratio[k] <= bound) {
			t.Errorf("%s: simulated width %.3f of even steps, want %.2f or less", []string{"LT2", "LT1", "shift"}[k], ratio[k], bound)
		}
		if forecast := []float64{b.LT2, b.LT1, b.Shift}[k]; !(math.Abs(forecast-ratio[k]) <= 0.05) {
			t.Errorf("%s: forecast %.3f of even steps, simulated %.3f", []string{"LT2", "LT1", "shift"}[k], forecast, ratio[k])
		}
	}
}

// A shift of the size forecast as detectable is seen as often as the options
// say, or somewhat more often, since the forecast allows for a noise that is
// not known exactly. Evidence: D, simulation.
func TestDetectableAgainstCompare(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 3))
	p := sixOf400()
	for _, s := range []swimmer{{0.8, 9, 11}, {1.1, 9, 15.5}, {1.4, 9, 22}} {
		// Many tests without noise leave no doubt about the curve.
		known := forecast.Expected{Tests: slices.Repeat([]lactate.Test{s.test(p, 0)}, 12), DayToDay: 1e-6}
		out, err := forecast.Of(p, known, lactate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		seen, n := 0, 800
		var se []float64
		for range n {
			c, err := lactate.Compare(s.noisy(p, 0, rng), s.noisy(p, out.Shift.Detectable, rng), lactate.CompareOptions{Options: lactate.Options{Curve: func() lactate.Curve { return new(curve.Exponential) }, Methods: []lactate.Method{}}})
			if err != nil {
				t.Fatal(err)
			}
			if c.Measured.Grade == lactate.Faster {
				seen++
			}
			se = append(se, c.Shift.Value)
		}
		t.Logf("%+v: %.4f m/s is seen in %.1f %%; shift SE forecast %.5f, simulated %.5f", s, out.Shift.Detectable, 100*float64(seen)/float64(n), out.Shift.StandardError, spreadOf(se)/(2*1.6449))
		if share := float64(seen) / float64(n); !(share >= 0.78 && share <= 0.97) {
			t.Errorf("%+v: seen in %.3f of pairs", s, share)
		}
	}
}

// The same where days differ: a shift of the size of BetweenDays is seen by
// Compare as a change beyond days as often as the options say, and Compare's own
// number for the pair is about the same. Evidence: D, simulation.
func TestBetweenDaysAgainstCompare(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	p := sixOf400()
	mean := 0.0
	for _, s := range []swimmer{{0.8, 9, 11}, {1.1, 9, 15.5}, {1.4, 9, 22}} {
		for _, day := range []float64{0.002, 0.008} {
			known := forecast.Expected{Tests: slices.Repeat([]lactate.Test{s.test(p, 0)}, 12), DayToDay: day}
			out, err := forecast.Of(p, known, lactate.Options{})
			if err != nil {
				t.Fatal(err)
			}
			seen, n := 0, 1500
			still, err := lactate.Compare(s.test(p, 0), s.test(p, 0), lactate.CompareOptions{Options: lactate.Options{Curve: func() lactate.Curve { return new(curve.Exponential) }, Methods: []lactate.Method{}}})
			if err != nil {
				t.Fatal(err)
			}
			move := day * still.Reference
			var own []float64
			for range n {
				c, err := lactate.Compare(s.noisy(p, move*rng.NormFloat64(), rng), s.noisy(p, out.Shift.BetweenDays+move*rng.NormFloat64(), rng),
					lactate.CompareOptions{Options: lactate.Options{Curve: func() lactate.Curve { return new(curve.Exponential) }, Methods: []lactate.Method{}}, DayToDay: day})
				if err != nil {
					t.Fatal(err)
				}
				if c.BetweenDays.Grade == lactate.Faster {
					seen++
				}
				own = append(own, c.BetweenDays.Detectable)
			}
			slices.Sort(own)
			share := float64(seen) / float64(n)
			t.Logf("%+v, days %g: %.4f m/s is seen in %.1f %%; Compare says %.4f", s, day, out.Shift.BetweenDays, 100*share, own[n/2])
			mean += share / 6
			if !(math.Abs(out.Shift.BetweenDays/own[n/2]-1) <= 0.05) {
				t.Errorf("%+v, days %g: forecast %.4f m/s, Compare %.4f", s, day, out.Shift.BetweenDays, own[n/2])
			}
		}
	}
	t.Logf("seen in %.1f %%", 100*mean)
	if !(mean >= 0.76 && mean <= 0.84) {
		t.Errorf("seen in %.3f of pairs, want 0.8", mean)
	}
}
