package forecast

import (
	"fmt"
	"math"

	"example.com/steptest/lactate"
)

// posterior is what the prior and the samples say of the curve on the day of the
// forecast.
//
// The curve of every test is A + (P − A)·exp(C·(x − ref)), ref its fastest stage:
// A and C are those of all tests, P is each test's own. The curve of the day is
// that of the last test, moved along by a normal deviate of two days.
type posterior struct {
	ref     float64           // the last stage of the test to come [m/s]
	earlier [][]lactate.Stage // tests of the same shape as the last
	last    []lactate.Stage   // the last test; nil means none
	today   []lactate.Stage   // samples of the day itself
	moved   float64           // standard deviation between the days of the last test and of the forecast [m/s]
	noise   lactate.Noise
	leftOut []int // tests of another shape
}

// posterior returns that of a test that ends at the speed ref, after the earlier
// tests and the samples of today.
func (e Expected) posterior(ref float64, today []lactate.Stage, o lactate.Options) (posterior, error) {
	p := posterior{ref: ref, today: today, noise: o.Noise}
	c, err := e.comparison(o)
	if err != nil {
		return p, err
	}
	tests := make([][]lactate.Stage, len(e.Tests))
	for i, t := range e.Tests {
		if err := t.Check(); err != nil {
			return p, fmt.Errorf("%w: earlier test %d: %w", ErrNoAnswer, i+1, err)
		}
		stages := t.Sampled()
		if len(stages) < 3 || !(stages[0].Intensity >= slowest && final(stages) <= fastest) {
			return p, fmt.Errorf("%w: earlier test %d: want three stages or more with lactate, and speeds of %g to %g m/s", ErrNoAnswer, i+1, slowest, fastest)
		}
		tests[i] = stages
	}
	if len(tests) == 0 {
		return p, nil
	}
	p.last = tests[len(tests)-1]
	p.moved = math.Sqrt2 * c.DayToDay * (p.last[0].Intensity + final(p.last)) / 2
	last := p.shape()
	for i, stages := range tests[:len(tests)-1] {
		if last.alike(stages) {
			p.earlier = append(p.earlier, stages)
		} else {
			p.leftOut = append(p.leftOut, i)
		}
	}
	return p, nil
}

// given returns the posterior given that ln rate lies z standard deviations above its
// mean.
func (p posterior) given(z float64) normal {
	rate := rateMedian * math.Exp(z*rateLogSD)
	s := fresh(rate, p.ref, finalSD, -z*z/2)
	next := func(ref, sd float64) {
		t := fresh(rate, ref, sd, s.log)
		t.mean[0], t.cov[0][0] = s.mean[0], s.cov[0][0]
		s = t
	}
	for _, stages := range p.earlier {
		next(stages[len(stages)-1].Intensity, swumSD)
		s.update(stages, p.noise)
		// P is this test's own and of no further use: not its average but its best
		// value counts, as in a fit. How far it is known depends on the rate and on
		// where P is taken, which would add up over the tests (Neyman & Scott 1948,
		// from memory).
		if left := s.cov[1][1] - s.cov[0][1]*s.cov[0][1]/s.cov[0][0]; left > 0 {
			s.log -= math.Log(left) / 2
		}
	}
	if p.last == nil {
		s.update(p.today, p.noise)
		return s
	}
	// If the test to come ends faster than the last one did, the prior of its last
	// stage is as without a test: the test only adds to it.
	if fastest := p.last[len(p.last)-1].Intensity; p.ref > fastest {
		next(p.ref, finalSD)
	} else {
		next(fastest, swumSD)
	}
	s.update(p.last, p.noise)
	s.n, s.cov[2][2] = 3, p.moved*p.moved
	if len(p.today) > 0 {
		s = s.onDay(p.today, p.moved, p.noise)
	}
	return s
}

// candidates returns curves that stand for the posterior.
//
// For a fixed rate a curve is linear in A and P, whose prior is normal:
// their posterior is normal too, and the likelihood of the rate is known, both in
// closed form (see [normal]). The rate runs over a number of nodes, evenly spaced in
// its logarithm, where it is probable at all. At each node a few points stand
// for the normal distribution of A and P, and of the move between two days
// if there is a test: the third-degree cubature of two points at √n standard
// deviations along each of n axes (Stroud 1971, from memory), exact for
// polynomials up to the third degree.
func (p posterior) candidates(nodes int) ([]candidate, error) {
	lo, hi := -rateReach, rateReach
	if p.last != nil || len(p.today) > 0 {
		lo, hi = settle(lo, hi, func(z float64) float64 { return p.given(z).log })
	}
	var out []candidate
	var logs []float64
	for i := range nodes {
		s := p.given(lo + (hi-lo)*float64(i)/float64(nodes-1))
		l := s.factor()
		step := math.Sqrt(float64(s.n))
		for k := range s.n {
			for _, sign := range [2]float64{step, -step} {
				x := s.mean
				for r := range x {
					x[r] += sign * l[r][k]
				}
				a := max(x[0], 0.2)
				final := a + (x[1]-a)*math.Exp(s.rate*(p.ref-s.ref-x[2]))
				out = append(out, candidate{a: a, p: max(final, a+1), c: s.rate, ref: p.ref})
				logs = append(logs, s.log)
			}
		}
	}
	return weigh(out, logs)
}

// weigh turns logarithms of weights into weights that sum to one, and drops
// candidates that hardly count.
func weigh(all []candidate, logs []float64) ([]candidate, error) {
	top := math.Inf(-1)
	for _, l := range logs {
		top = max(top, l)
	}
	if math.IsInf(top, -1) || math.IsNaN(top) {
		return nil, fmt.Errorf("%w: the earlier tests agree with no curve", ErrNoAnswer)
	}
	out := all[:0]
	sum := 0.0
	for i, c := range all {
		if c.weight = math.Exp(logs[i] - top); c.weight >= 1e-3 {
			out = append(out, c)
			sum += c.weight
		}
	}
	for i := range out {
		out[i].weight /= sum
	}
	return out, nil
}
