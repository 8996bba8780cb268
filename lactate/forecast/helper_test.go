package forecast_test

import (
	"flag"
	"math"
	"math/rand/v2"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// long runs the simulations at full length: go test ./lactate/forecast -long.
var long = flag.Bool("long", false, "run the long simulations")

// repetitions returns how often a simulation repeats, and by what its tolerance
// grows for that: a quarter as often unless -long is given.
func repetitions(full int) (n int, wider float64) {
	if *long {
		return full, 1
	}
	return full / 6, 2.5
}

// over returns stages of 400 m in the given times.
func over(times ...time.Duration) []lactate.Stage {
	var out []lactate.Stage
	for _, t := range times {
		out = append(out, lactate.Stage{Intensity: 400 / t.Seconds(), Duration: t})
	}
	return out
}

// even returns stages of 400 m in even steps, to the second.
func even(n int, first, last time.Duration) []lactate.Stage {
	times := make([]time.Duration, n)
	for i := range times {
		times[i] = (first + time.Duration(i)*(last-first)/time.Duration(n-1)).Round(time.Second)
	}
	return over(times...)
}

// sixOf400 are 5:50, 5:40 … 5:00.
func sixOf400() []lactate.Stage { return even(6, 350*time.Second, 300*time.Second) }

// seconds are the times of stages.
func seconds(stages []lactate.Stage) []float64 {
	var out []float64
	for _, s := range stages {
		out = append(out, s.Duration.Seconds())
	}
	return out
}

// swimmer is a true curve: asymptote and lactate of the last stage [mmol/L],
// rate [1/(m/s)].
type swimmer struct{ asymptote, final, rate float64 }

// swimmers is the range over which simulations average.
func swimmers() []swimmer {
	var out []swimmer
	for _, a := range []float64{0.8, 1.1, 1.4} {
		for _, f := range []float64{6, 9, 12} {
			for _, c := range []float64{11, 15.5, 22} {
				out = append(out, swimmer{a, f, c})
			}
		}
	}
	return out
}

// test returns what the swimmer shows in the stages, without noise, after a shift
// of the curve [m/s].
func (s swimmer) test(stages []lactate.Stage, shift float64) lactate.Test {
	var t lactate.Test
	last := stages[len(stages)-1].Intensity
	for _, st := range stages {
		y := s.asymptote + (s.final-s.asymptote)*math.Exp(s.rate*(st.Intensity-shift-last))
		t.Stages = append(t.Stages, lactate.Stage{Intensity: st.Intensity, Lactate: y, Duration: st.Duration})
	}
	return t
}

// above returns the speed at which the swimmer's curve is so far above where the stages
// begin (m/s).
func (s swimmer) above(stages []lactate.Stage, rise float64) (at float64, ok bool) {
	first, last := stages[0].Intensity, stages[len(stages)-1].Intensity
	y := (s.final-s.asymptote)*math.Exp(s.rate*(first-last)) + rise
	return last + math.Log(y/(s.final-s.asymptote))/s.rate, y < s.final-s.asymptote
}

// noisy draws one test: analyser and drop, and the watch.
func (s swimmer) noisy(stages []lactate.Stage, shift float64, rng *rand.Rand) lactate.Test {
	t := s.test(stages, shift)
	n := lactate.DefaultNoise()
	for i := range t.Stages {
		st := &t.Stages[i]
		slope := s.rate * (st.Lactate - s.asymptote)
		watch := slope * st.Intensity * n.Timing.Seconds() / st.Duration.Seconds()
		st.Lactate = max(0.1, st.Lactate+math.Hypot(n.Lactate(st.Lactate), watch)*rng.NormFloat64())
	}
	return t
}

// begun returns the first stages as they were swum, with the lactates of a test.
func begun(stages []lactate.Stage, lactates ...float64) []lactate.Stage {
	out := append([]lactate.Stage{}, stages[:len(lactates)]...)
	for i, y := range lactates {
		out[i].Lactate = y
	}
	return out
}

// exponential is the curve of comparisons whose shift is forecast.
func exponential() lactate.Curve { return new(curve.Exponential) }
