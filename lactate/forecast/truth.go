package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// truth is one curve that the swimmer may have on the day of the test.
type truth struct {
	curve *curve.Convex
	move  float64 // of the curve along the speeds, since the last test [m/s]
}

func (t truth) lactate(x float64) float64 {
	return max(t.curve.Predict(x-t.move), leastLactate)
}

// sample draws what one stage would show, z standard deviations off.
func (t truth) sample(s lactate.Stage, noise lactate.Noise, z float64) float64 {
	y := t.lactate(s.Intensity)
	sd := noise.Stage(s, y, max(t.curve.PredictDerivative(s.Intensity-t.move), 0))
	return max(y+sd*z, leastLactate)
}

// test returns what the stages would show without noise.
func (t truth) test(stages []lactate.Stage) lactate.Test {
	out := lactate.Test{Stages: make([]lactate.Stage, len(stages))}
	for i, s := range stages {
		out.Stages[i] = lactate.Stage{Intensity: s.Intensity, Lactate: t.lactate(s.Intensity), Duration: s.Duration}
	}
	return out
}

// locate reads a threshold off the curve itself.
func (t truth) locate(m lactate.Method, stages []lactate.Stage) (float64, error) {
	at := t.test(stages)
	for i := range at.Stages {
		at.Stages[i].Intensity -= t.move
	}
	x, err := m.Locate(at, t.curve)
	return x + t.move, err
}

const (
	leastLactate = 0.1  // [mmol/L] that an analyser prints
	leastSD      = 0.02 // [mmol/L] of a sample that tells shapes apart: they are no finer
	priorDraws   = 1000 // curves from which those that are probable are taken
)

// belief is the posterior of the swimmer's curve.
type belief struct {
	curve   curve.Convex
	lo, hi  float64 // between which it lies
	end     float64 // the last stage of the test to come
	moved   float64 // standard deviation of the move that curves do not have yet
	earlier []earlier
	leftOut []int
	noise   lactate.Noise
	seed    uint64
}

// belief returns that before a test of the stages, after the earlier tests and the
// samples of today. A test of another shape is as if it had not been.
func (e Expected) belief(stages, today []lactate.Stage, o lactate.Options) (*belief, error) {
	tests, err := e.sampled()
	if err != nil {
		return nil, err
	}
	b, err := believe(tests, stages, today, o)
	if err != nil {
		return nil, err
	}
	others := b.otherShapes()
	if others == nil {
		return b, nil
	}
	var kept [][]lactate.Stage
	for i, t := range tests {
		if !slices.Contains(others, i) {
			kept = append(kept, t)
		}
	}
	if b, err = believe(kept, stages, today, o); err == nil {
		b.leftOut = others
	}
	return b, err
}

// believe is belief with all of the tests. The prior and the samples are points of one
// fit of convex shapes.
func believe(tests [][]lactate.Stage, stages, today []lactate.Stage, o lactate.Options) (*belief, error) {
	b := &belief{lo: stages[0].Intensity, hi: final(stages), end: final(stages), noise: o.Noise, seed: o.Seed}
	var xs, ys, weights []float64
	add := func(x, y, sd float64) {
		xs, ys, weights = append(xs, x), append(ys, y), append(weights, 1/(sd*sd))
		b.lo, b.hi = min(b.lo, x), max(b.hi, x)
	}
	for _, s := range today {
		add(s.Intensity, s.Lactate, b.sd(s))
	}
	known := false // what the last stage will show
	if n := len(tests); n > 0 {
		last := tests[n-1]
		moved := math.Sqrt2 * o.DayToDay * (last[0].Intensity + final(last)) / 2
		inflate := 0.0
		if len(today) == 0 {
			b.moved = moved
		} else { // the samples of another day, which all move together
			inflate = math.Sqrt(float64(len(last))) * moved
		}
		for _, s := range last {
			add(s.Intensity, s.Lactate, math.Hypot(b.sd(s), inflate*slope(s)))
		}
		known = b.end <= final(last)
		b.earlier = beside(last, tests[:n-1], b)
		for _, t := range b.earlier {
			b.lo, b.hi = min(b.lo, t.stages[0].Intensity+t.shift), max(b.hi, final(t.stages)+t.shift)
		}
	}
	if !known {
		add(b.end, finalMean, finalSD)
	}
	add(b.lo, lowMean, lowSD)
	add(b.hi, finalMean, 1e3) // only to span the range
	add(b.lo+(b.hi-b.lo)/2, finalMean, 1e3)
	b.curve.Weight = math.Inf(1)
	if err := b.curve.FitWeighted(xs, ys, weights); err != nil {
		return nil, fmt.Errorf("%w: the samples agree with no curve: %w", ErrNoAnswer, err)
	}
	return b, nil
}

// sd is the standard deviation of a sample about the curve.
func (b *belief) sd(s lactate.Stage) float64 {
	return max(b.noise.Stage(s, s.Lactate, slope(s)), leastSD)
}

// slope is that of the curve at a sample, about [mmol/L per m/s].
func slope(s lactate.Stage) float64 { return rateMedian * max(s.Lactate-lowMean, 0) }

// sampled returns the stages of the tests that have a lactate.
func (e Expected) sampled() ([][]lactate.Stage, error) {
	tests := make([][]lactate.Stage, len(e.Tests))
	for i, t := range e.Tests {
		if err := t.Check(); err != nil {
			return nil, fmt.Errorf("%w: earlier test %d: %w", ErrNoAnswer, i+1, err)
		}
		stages := t.Sampled()
		if len(stages) < 3 || !(stages[0].Intensity >= slowest && final(stages) <= fastest) || !(stages[0].Intensity < final(stages)) {
			return nil, fmt.Errorf("%w: earlier test %d: want three stages or more with lactate, and speeds of %g to %g m/s", ErrNoAnswer, i+1, slowest, fastest)
		}
		tests[i] = stages
	}
	return tests, nil
}

// truths draws n curves from the posterior: many from the fit, and of those n by
// systematic resampling with the weights that the fit does not know of.
func (b *belief) truths(n int) []truth {
	rng := rand.New(rand.NewPCG(b.seed, 16))
	draws, logs := make([]*curve.Convex, priorDraws), make([]float64, priorDraws)
	top := math.Inf(-1)
	for i := range draws {
		draws[i] = new(curve.Convex)
		b.curve.Draw(draws[i], (float64(i)+rng.Float64())/priorDraws, rng)
		logs[i] = b.log(draws[i])
		top = max(top, logs[i])
	}
	total := 0.0
	for i := range logs {
		logs[i] = math.Exp(logs[i] - top)
		total += logs[i]
	}
	out := make([]truth, 0, n)
	sum, k := 0.0, -1
	for i := range n {
		at := (float64(i) + 0.5) / float64(n) * total
		for sum <= at && k < priorDraws-1 {
			k++
			sum += logs[k]
		}
		out = append(out, truth{draws[k], b.moved * rng.NormFloat64()})
	}
	rng.Shuffle(n, func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// log returns the logarithm of the weight of a drawn curve: the prior of where it
// bends, and what the earlier tests say of its shape. A curve that no swimmer has is
// all but out.
func (b *belief) log(c *curve.Convex) float64 {
	const none = -1e3
	start, end := c.Predict(b.lo), c.Predict(b.hi)
	begin, finish := c.PredictDerivative(b.lo)*(b.hi-b.lo), c.PredictDerivative(b.hi)*(b.hi-b.lo)
	low := start
	if begin < 0 {
		_, low = c.Minimum(b.lo, b.hi)
	}
	if !(low >= 0.2) || !(c.Predict(b.end) >= low+1) || !(finish > begin) {
		return none
	}
	m := 1 - (end-start-begin)/(finish-begin) // mean of the curvature, from 0 to 1
	log := math.Log(bends(m, b.hi-b.lo))
	for _, t := range b.earlier {
		log -= t.worse(c, b) / 2
	}
	return max(log, none)
}

// bends is the prior density of the mean of the curvature, beside a uniform one.
func bends(m, span float64) float64 {
	if !(m > 0.5) {
		return anyRate
	}
	// Of an exponential of rate k over the range: m = 1 − 1/k + 1/(eᵏ − 1).
	lo, hi := 1e-3, 500.0
	for range 60 {
		k := (lo + hi) / 2
		if 1-1/k+1/math.Expm1(k) < m {
			lo = k
		} else {
			hi = k
		}
	}
	k := lo
	z := (math.Log(k/span) - math.Log(rateMedian)) / rateLogSD
	e := math.Expm1(k)
	rate := 1/(k*k) - 1/e - 1/(e*e)
	if !(rate > 0) {
		return anyRate
	}
	return anyRate + (1-anyRate)*math.Exp(-z*z/2)/(math.Sqrt(2*math.Pi)*rateLogSD*k*rate)
}
