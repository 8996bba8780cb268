package forecast_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
)

// shapes are true curves over u, from 0 at the first stage to 1 at the last [mmol/L].
var shapes = []struct {
	name string
	f    func(u float64) float64
}{
	{"exponential", func(u float64) float64 { return 1 + 7*math.Exp(4.9*(u-1)) }},
	{"low exponential", func(u float64) float64 { return 1 + 3.5*math.Exp(3*(u-1)) }},
	{"power", func(u float64) float64 { return 0.9 + 7*math.Pow((1.1+0.35*u)/1.45, 19) }},
	{"cubic", func(u float64) float64 { return 1.1 + 0.3*u + 6.6*u*u*u }},
	{"two lines", func(u float64) float64 { return 1.1 + 0.5*u + 11*max(0, u-0.43) }},
	{"bent cable", func(u float64) float64 {
		const at, half, rise = 0.55, 0.1, 15
		switch {
		case u < at-half:
			return 1.1 + 0.3*u
		case u > at+half:
			return 1.1 + 0.3*u + rise*(u-at)
		}
		return 1.1 + 0.3*u + rise*(u-at+half)*(u-at+half)/(4*half)
	}},
	{"soft hinge", func(u float64) float64 { return 1.1 + 14*0.08*math.Log1p(math.Exp((u-0.5)/0.08)) }},
	{"early dip", func(u float64) float64 { return 1.6 - 1.2*u + 7.6*math.Exp(4.5*(u-1)) }},
}

// shaped draws a test of a shape; a nil rng draws no noise.
func shaped(f func(float64) float64, stages []lactate.Stage, rng *rand.Rand) (t lactate.Test) {
	first, last := stages[0].Intensity, stages[len(stages)-1].Intensity
	at := func(x float64) float64 { return f((x - first) / (last - first)) }
	for _, st := range stages {
		y := at(st.Intensity)
		if rng != nil {
			slope := (at(st.Intensity+1e-4) - at(st.Intensity-1e-4)) / 2e-4
			y += lactate.DefaultNoise().Stage(st, y, slope) * rng.NormFloat64()
		}
		t.Stages = append(t.Stages, lactate.Stage{Intensity: st.Intensity, Lactate: max(0.1, y), Duration: st.Duration})
	}
	return t
}

// reported returns the mean widths of LT1 and LT2 that Analyze reports of simulated
// tests, within the tested range; an open end counts as far off as the other one.
func reported(f func(float64) float64, stages []lactate.Stage, n int, rng *rand.Rand) (w [2]float64) {
	var found [2]float64
	for range n {
		a, err := lactate.Analyze(shaped(f, stages, rng), lactate.Options{Resamples: 200, Methods: []lactate.Method{}, Seed: rng.Uint64()})
		if err != nil {
			continue
		}
		for k, th := range []lactate.Threshold{a.LT1, a.LT2} {
			if th.Err == nil {
				low, high := th.Intensity.Low, th.Intensity.High
				if math.IsInf(low, -1) { // the baseline was not seen
					low = 2*th.Intensity.Value - high
				}
				if math.IsInf(high, 1) {
					high = 2*th.Intensity.Value - th.Intensity.Low
				}
				w[k] += min(high, a.Highest) - max(low, a.Lowest)
				found[k]++
			}
		}
	}
	for k := range w {
		w[k] /= found[k]
	}
	return w
}

// The width that is forecast after three tests of a swimmer is the one that Analyze
// reports of the next, on average, within 10 % for at least six of eight shapes.
// Evidence: D, simulation.
func TestForecastAgainstAnalyze(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 1))
	n, swimmers := 400, 1
	if *long {
		n, swimmers = 2000, 40
	}
	p := even(6, 365*time.Second, 277*time.Second) // 1.10 to 1.44 m/s
	var good [2]int
	for _, s := range shapes {
		var stated [2]float64
		for range swimmers {
			noise := rng
			if !*long {
				noise = nil
			}
			var tests []lactate.Test
			for range 3 {
				tests = append(tests, shaped(s.f, p, noise))
			}
			out := of(t, p, lactate.Options{}, tests...)
			stated[0] += out.LT1.Width() / float64(swimmers)
			stated[1] += out.LT2.Width() / float64(swimmers)
		}
		found := reported(s.f, p, n, rng)
		for k := range found {
			ratio := stated[k] / found[k]
			t.Logf("%s, LT%d: forecast %.4f m/s, simulated %.4f, ratio %.3f", s.name, k+1, stated[k], found[k], ratio)
			if math.Abs(ratio-1) <= 0.10 {
				good[k]++
			}
			if !(ratio >= 0.75 && ratio <= 1.33) {
				t.Errorf("%s, LT%d: forecast %.4f m/s, simulated %.4f", s.name, k+1, stated[k], found[k])
			}
		}
	}
	if good[0] < 6 || good[1] < 6 {
		t.Errorf("within 10 %% for %d shapes of LT1 and %d of LT2, want six of eight", good[0], good[1])
	}
}

// A spacing found without a test of the swimmer narrows LT1 and LT2 averaged over
// shapes that the search does not know, and harms none badly. Evidence: D, simulation.
func TestSpacingAgainstEvenSteps(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 2))
	n := 150
	if *long {
		n = 3000
	}
	s, err := forecast.Space(even(6, 365*time.Second, 277*time.Second), forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("targets %v instead of %v s: %.3f, %.3f", seconds(s.Stages), seconds(s.Even), s.LT1, s.LT2)
	var mean [2]float64
	for _, shape := range shapes {
		even, spaced := reported(shape.f, s.Even, n, rng), reported(shape.f, s.Stages, n, rng)
		t.Logf("%s: LT1 %.3f, LT2 %.3f of even steps", shape.name, spaced[0]/even[0], spaced[1]/even[1])
		for k := range mean {
			ratio := spaced[k] / even[k]
			mean[k] += ratio / float64(len(shapes))
			if !(ratio <= 1.25) {
				t.Errorf("%s, LT%d: %.3f of even steps", shape.name, k+1, ratio)
			}
		}
	}
	t.Logf("mean %.3f, %.3f", mean[0], mean[1])
	for k, m := range mean {
		if !(m <= 1.02) {
			t.Errorf("LT%d: %.3f of even steps, averaged over the shapes", k+1, m)
		}
	}
}

// spreadOf returns the width of the central 90 % of the errors.
func spreadOf(xs []float64) float64 {
	slices.Sort(xs)
	n := float64(len(xs))
	return xs[int(0.95*n)] - xs[int(0.05*n)]
}

// A shift of the size forecast as detectable is seen as often as the options
// say, or somewhat more often, since the forecast allows for a noise that is
// not known exactly. Evidence: D, simulation.
func TestDetectableAgainstCompare(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 3))
	p := sixOf400()
	for _, s := range []swimmer{{0.8, 9, 11}, {1.1, 9, 15.5}, {1.4, 9, 22}} {
		// Many tests without noise leave no doubt about the curve.
		known := forecast.Expected{Tests: slices.Repeat([]lactate.Test{s.test(p, 0)}, 5)}
		out, err := forecast.Of(p, known, lactate.Options{DayToDay: 1e-6})
		if err != nil {
			t.Fatal(err)
		}
		seen, n := 0, 400
		var se []float64
		for range n {
			c, err := lactate.Compare(s.noisy(p, 0, rng), s.noisy(p, out.Shift.Detectable, rng), lactate.Options{Methods: []lactate.Method{}, Curve: exponential})
			if err != nil {
				t.Fatal(err)
			}
			if c.Measured.Verdict == lactate.MovedRight {
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
			known := forecast.Expected{Tests: slices.Repeat([]lactate.Test{s.test(p, 0)}, 5)}
			out, err := forecast.Of(p, known, lactate.Options{DayToDay: day})
			if err != nil {
				t.Fatal(err)
			}
			seen, n := 0, 400
			still, err := lactate.Compare(s.test(p, 0), s.test(p, 0), lactate.Options{Methods: []lactate.Method{}, Curve: exponential})
			if err != nil {
				t.Fatal(err)
			}
			move := day * still.Reference
			var own []float64
			for range n {
				c, err := lactate.Compare(s.noisy(p, move*rng.NormFloat64(), rng), s.noisy(p, out.Shift.BetweenDays+move*rng.NormFloat64(), rng),
					lactate.Options{Methods: []lactate.Method{}, DayToDay: day, Curve: exponential})
				if err != nil {
					t.Fatal(err)
				}
				if c.BetweenDays.Verdict == lactate.MovedRight {
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
