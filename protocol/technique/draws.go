package technique

import (
	"math"
	"math/rand/v2"
	"slices"

	"example.com/steptest/lactate"
)

// strokes are cycles and seconds over the segment, one of each for each repeat.
type strokes struct{ cycles, seconds []float64 }

func newStrokes(n int) strokes { return strokes{make([]float64, n), make([]float64, n)} }

// measured returns what the repeats say.
func (t *Profile) measured() strokes {
	m := newStrokes(len(t.Repeats))
	for i, r := range t.Repeats {
		m.cycles[i], m.seconds[i] = r.Segment.Cycles, r.Segment.Time.Seconds()
	}
	return m
}

// Random streams: no two simulations share their draws.
const (
	streamBefore = iota // also of a test on its own
	streamAfter
	streamBend
	streamStraight
)

// simulate returns measurements with the stated errors around those given. Errors
// that would make a count or time negative are drawn again.
func (t *Profile) simulate(around strokes, n int, stream uint64) []strokes {
	rng := rand.New(rand.NewPCG(t.opts.Seed, stream))
	draw := func(mean, sd float64) float64 {
		for {
			if v := mean + sd*rng.NormFloat64(); v > 0 {
				return v
			}
		}
	}
	out := make([]strokes, n)
	for k := range out {
		out[k] = newStrokes(len(around.cycles))
		for i := range around.cycles {
			out[k].cycles[i] = draw(around.cycles[i], t.opts.CountError)
			out[k].seconds[i] = draw(around.seconds[i], t.opts.TimingError.Seconds())
		}
	}
	return out
}

// quantity is something worked out of cycles and seconds over a segment of some
// metres.
type quantity func(metres, cycles, seconds float64) float64

func rateOf(_, cycles, seconds float64) float64       { return 60 * cycles / seconds }
func lengthOf(metres, cycles, _ float64) float64      { return metres / cycles }
func indexOf(metres, cycles, seconds float64) float64 { return metres / seconds * (metres / cycles) }

// around puts the central interval of the values on an estimate. Values that
// are not numbers are left out; infinite ones open it.
func around(value float64, values []float64, confidence float64) lactate.Estimate {
	e := lactate.Estimate{Value: value, Low: math.NaN(), High: math.NaN()}
	values = slices.DeleteFunc(slices.Clone(values), math.IsNaN)
	if len(values) > 0 {
		slices.Sort(values)
		tail := (1 - confidence) / 2
		e.Low, e.High = quantile(values, tail), quantile(values, 1-tail)
	}
	return e
}

// quantile interpolates between sorted values: the k-th of n stands at
// (k − ½)/n, as in package lactate (definition 5 of Hyndman & Fan 1996, Am Stat
// 50:361–365, from memory). It keeps clear of arithmetic with infinities.
func quantile(sorted []float64, p float64) float64 {
	h := p*float64(len(sorted)) - 0.5
	i := int(math.Floor(h))
	if i < 0 {
		return sorted[0]
	}
	if i >= len(sorted)-1 {
		return sorted[len(sorted)-1]
	}
	here, next, f := sorted[i], sorted[i+1], h-float64(i)
	if f == 0 || here == next || math.IsInf(here, -1) {
		return here
	}
	return here + f*(next-here)
}
