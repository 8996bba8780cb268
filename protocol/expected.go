package protocol

import (
	"fmt"
	"math"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// What is believed of a swimmer of whom nothing is known: one standard
// deviation either side covers asymptotes of 0.8 to 1.4 mmol/L, rates of 11 to
// 22 per m/s, and 6 to 12 mmol/L after the last, all-out repeat. Ours.
const (
	asymptoteMean, asymptoteSD = 1.1, 0.3        // [mmol/L]
	finalMean, finalSD         = 9.0, 3.0        // [mmol/L] at the speed of the last repeat
	swumSD                     = 10.0            // [mmol/L] at the fastest stage of an earlier test, which its sample tells
	rateMedian                 = 15.556349186104 // √(11·22) [1/(m/s)]
	rateLogSD                  = 0.34657359028   // ln(22/11)/2
	rateReach                  = 2.5             // standard deviations of ln rate either side
)

// unlike is how many times less probable than two shapes one shape for two tests
// may be, before the earlier of them is left out. Ours.
const unlike = 20

// Expected is what is believed of a swimmer's curve, lactate = A + B·exp(C·speed),
// before a test. The zero value is a swimmer of whom nothing is known: A is
// 1.1 ± 0.3 mmol/L, C is 15.6 per m/s, give or take a factor of 1.41 (11 to
// 22), and the last repeat of the plan ends at 9 ± 3 mmol/L.
type Expected struct {
	// Tests are earlier tests of the swimmer, the last one last, with speeds
	// [m/s] as intensities. What they say is weighed against what is believed
	// of anyone, by the noise of the options.
	//
	// The shape of the curve, A and C, is learned from all of them. Where it
	// lies is that of the last one alone: training has moved the curve since
	// the others, nobody knows how far. Its day and the day of the test that is
	// forecast move the curve further, each by Options.DayToDay, so that no
	// number of tests tells more of the next day than that. An earlier test whose
	// curve is plainly of another shape than the last one's is left out, see
	// [Outlook.LeftOut]. How far their samples scatter is not learned: where they
	// tell, state it, see [lactate.PooledNoise]. Each needs three stages with a
	// lactate. Nil means none.
	Tests []lactate.Test `json:"tests,omitzero"`
}

// candidate is one curve that the swimmer may have: A + (P − A)·exp(C·(x − ref)).
type candidate struct {
	a, p, c, ref float64 // a and p [mmol/L], c [1/(m/s)], ref [m/s]
	weight       float64 // all weights sum to one
}

func (c candidate) lactate(x float64) float64 { return c.a + (c.p-c.a)*math.Exp(c.c*(x-c.ref)) }

func (c candidate) curve() *curve.Exponential {
	return &curve.Exponential{A: c.a, B: (c.p - c.a) * math.Exp(-c.c*c.ref), C: c.c}
}

// test returns what the candidate would show in the plan, without noise.
func (c candidate) test(targets []Target) lactate.Test {
	t := lactate.Test{Stages: make([]lactate.Stage, len(targets))}
	for i, r := range targets {
		v := r.speed().MetresPerSecond()
		t.Stages[i] = lactate.Stage{Intensity: v, Lactate: c.lactate(v), Duration: r.Time}
	}
	return t
}

// belief is what is believed of the curve on the day of the forecast, and why.
//
// The curve of every test is A + (P − A)·exp(C·(x − ref)), ref its fastest stage:
// A and C are those of all tests, P is each test's own. The curve of the day is
// that of the last test, moved along by a normal deviate of two days.
type belief struct {
	ref     float64           // the last repeat of the plan [m/s]
	earlier [][]lactate.Stage // tests of the same shape as the last
	last    []lactate.Stage   // the last test; nil means none
	today   []lactate.Stage   // samples of the day itself
	moved   float64           // standard deviation between the days of the last test and of the forecast [m/s]
	noise   lactate.Noise
	leftOut []int // tests of another shape
}

// belief returns what is believed for a plan that ends at the speed ref, after
// the tests and the samples of today.
func (e Expected) belief(ref float64, today []lactate.Stage, o lactate.Options) (belief, error) {
	b := belief{ref: ref, today: today, noise: o.Noise}
	tests := make([][]lactate.Stage, len(e.Tests))
	for i, t := range e.Tests {
		if err := t.Check(); err != nil {
			return b, fmt.Errorf("%w: earlier test %d: %w", ErrForecast, i+1, err)
		}
		stages := t.Sampled()
		if len(stages) < 3 || !(stages[0].Intensity >= minSpeed && stages[len(stages)-1].Intensity <= maxSpeed) {
			return b, fmt.Errorf("%w: earlier test %d: want three stages or more with lactate, and speeds of 0.2 to 3 m/s", ErrForecast, i+1)
		}
		tests[i] = stages
	}
	if len(tests) == 0 {
		return b, nil
	}
	b.last = tests[len(tests)-1]
	b.moved = math.Sqrt2 * o.DayToDay * (b.last[0].Intensity + b.last[len(b.last)-1].Intensity) / 2
	last := b.likeness()
	for i, stages := range tests[:len(tests)-1] {
		if last.alike(stages) {
			b.earlier = append(b.earlier, stages)
		} else {
			b.leftOut = append(b.leftOut, i)
		}
	}
	return b, nil
}

// A likeness tells whether tests may be of the same shape as the last: whether one
// A and C for both are not far less probable, by what the samples say, than a
// shape for each (Bayes factor). The noise is not taken as stated: one scale for
// both tests, of the weight that the stated noise has, is averaged over, since a
// swimmer who scatters more than stated has no other shape for that.
type likeness struct {
	ref    float64
	last   []lactate.Stage
	noises []lactate.Noise // by scale
	prior  []float64       // logarithms of the scales' probabilities
	alone  []float64       // and of those of the last test, by scale
	none   float64         // of no test
}

func (b belief) likeness() *likeness {
	l := &likeness{ref: b.ref, last: b.last}
	weight := priorWeight(b.noise)
	const scales = 11 // from 0.5 to 5
	for i := range scales {
		s := 0.5 * math.Pow(10, float64(i)/(scales-1))
		// Scaled inverse χ² of s², by ln s.
		prior := -weight*math.Log(s) - weight/(2*s*s)
		if math.IsInf(weight, 1) {
			s, prior = 1, 0
		}
		n := b.noise
		n.Absolute = max(n.Absolute, 0.02) * s // finer than the rates are looked at
		n.Relative *= s
		n.Resolution *= s
		n.Timing = time.Duration(float64(n.Timing) * s)
		l.noises, l.prior = append(l.noises, n), append(l.prior, prior)
		if math.IsInf(weight, 1) {
			break
		}
	}
	l.none = l.of(b.noise)
	for _, n := range l.noises {
		l.alone = append(l.alone, l.of(n, l.last))
	}
	return l
}

// of returns the logarithm of the probability of tests of one shape, but for a
// constant.
func (l *likeness) of(n lactate.Noise, tests ...[]lactate.Stage) float64 {
	var logs [101]float64
	for i := range logs {
		z := rateReach * (2*float64(i)/float64(len(logs)-1) - 1)
		logs[i] = belief{ref: l.ref, earlier: tests, noise: n}.state(z).log
	}
	return logSum(logs[:])
}

func (l *likeness) alike(stages []lactate.Stage) bool {
	one, two := make([]float64, len(l.noises)), make([]float64, len(l.noises))
	for i, n := range l.noises {
		one[i] = l.prior[i] + l.of(n, stages, l.last) + l.none
		two[i] = l.prior[i] + l.of(n, stages) + l.alone[i]
	}
	return logSum(one)-logSum(two) >= -math.Log(unlike)
}

// candidates returns curves that stand for what is believed.
//
// For a fixed rate a curve is linear in A and P, whose prior is normal, so that
// their posterior is normal too, and the probability of the samples is known;
// both in closed form. The rate runs over a number of nodes, evenly spaced in
// its logarithm, where it is probable at all. At each node a few points stand
// for the normal distribution of A and P, and of the move between two days
// where there is a test: the third-degree cubature of two points at √n standard
// deviations along each of n axes (Stroud 1971, from memory), exact for
// polynomials up to the third degree.
func (b belief) candidates(nodes int) ([]candidate, error) {
	lo, hi := -rateReach, rateReach
	if b.last != nil || b.today != nil {
		lo, hi = settle(lo, hi, func(z float64) float64 { return b.state(z).log })
	}
	var out []candidate
	var logs []float64
	for i := range nodes {
		s := b.state(lo + (hi-lo)*float64(i)/float64(nodes-1))
		l := s.factor()
		step := math.Sqrt(float64(s.n))
		for k := range s.n {
			for _, sign := range [2]float64{step, -step} {
				x := s.mean
				for r := range x {
					x[r] += sign * l[r][k]
				}
				a := max(x[0], 0.2)
				final := a + (x[1]-a)*math.Exp(s.rate*(b.ref-s.ref-x[2]))
				out = append(out, candidate{a: a, p: max(final, a+1), c: s.rate, ref: b.ref})
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
		return nil, fmt.Errorf("%w: the earlier tests agree with no curve", ErrForecast)
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

// deviation returns the standard deviation of a stage's sample about a curve
// of the given value and slope: analyser and drop, and the watch.
func deviation(n lactate.Noise, s lactate.Stage, y, slope float64) float64 {
	sd := n.Lactate(y)
	if s.Duration > 0 {
		sd = math.Hypot(sd, slope*s.Intensity*n.Timing.Seconds()/s.Duration.Seconds())
	}
	return sd
}
