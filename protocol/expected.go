package protocol

import (
	"fmt"
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/mat"
)

// What is believed of a swimmer of whom nothing is known: one standard
// deviation either side covers asymptotes of 0.8 to 1.4 mmol/L, rates of 11 to
// 22 per m/s, and 6 to 12 mmol/L after the last, all-out repeat. Ours.
const (
	asymptoteMean, asymptoteSD = 1.1, 0.3        // [mmol/L]
	finalMean, finalSD         = 9.0, 3.0        // [mmol/L] at the speed of the last repeat
	rateMedian                 = 15.556349186104 // √(11·22) [1/(m/s)]
	rateLogSD                  = 0.34657359028   // ln(22/11)/2
	rateReach                  = 2.5             // standard deviations of ln rate either side
)

// Expected is what is believed of a swimmer's curve, lactate = A + B·exp(C·speed),
// before a test. The zero value is a swimmer of whom nothing is known: A is
// 1.1 ± 0.3 mmol/L, C is 15.6 per m/s, give or take a factor of 1.41 (11 to
// 22), and the last repeat of the plan ends at 9 ± 3 mmol/L.
type Expected struct {
	// Tests are earlier tests of the swimmer, the last one last, with speeds
	// [m/s] as intensities. What they say is weighed against what is believed
	// of anyone, by the noise of the options. Each was swum on a day of its own,
	// and so is the test that is forecast: both move the curve by
	// Options.DayToDay, so that many tests never tell more of the next day than
	// that. Training between them is not reckoned with. Nil means none.
	Tests []lactate.Test
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
		v := r.Speed().MetresPerSecond()
		t.Stages[i] = lactate.Stage{Intensity: v, Lactate: c.lactate(v), Duration: r.Time}
	}
	return t
}

// evidence is tests that say something of the curve on the day of the forecast.
// Between that day and the day of each test the curve may have moved: by one
// move that all tests share, and one for each.
type evidence struct {
	stages []lactate.Stage
	test   []int   // that each stage belongs to
	moved  float64 // standard deviation of either move [m/s]; zero: tests of the day itself
}

// candidates returns curves that stand for what is believed, given evidence.
//
// For a fixed rate the curve is linear in A and P, whose prior is normal, so
// that their posterior is normal too, and the probability of the evidence is
// known; both in closed form. The rate runs over a number of nodes, evenly
// spaced in its logarithm. At each node four points stand for the normal
// distribution of A and P: the third-degree cubature of points at √2 standard
// deviations either way along two axes (Stroud 1971, from memory), exact for
// polynomials up to the third degree.
func candidates(ref float64, nodes int, seen []evidence, o lactate.Options) ([]candidate, error) {
	var out []candidate
	var logs []float64
	for i := range nodes {
		z := rateReach * (2*float64(i)/float64(nodes-1) - 1)
		rate := rateMedian * math.Exp(z*rateLogSD)
		p := posterior{ref: ref, rate: rate, mean: [2]float64{asymptoteMean, finalMean}}
		p.cov[0][0], p.cov[1][1] = asymptoteSD*asymptoteSD, finalSD*finalSD
		p.log = -z * z / 2
		for _, e := range seen {
			if err := p.learn(e, o.Noise); err != nil {
				return nil, err
			}
		}
		// Cholesky factor of a 2×2 matrix.
		l00 := math.Sqrt(p.cov[0][0])
		l10 := p.cov[0][1] / l00
		l11 := math.Sqrt(max(p.cov[1][1]-l10*l10, 0))
		for _, d := range [4][2]float64{{l00, l10}, {-l00, -l10}, {0, l11}, {0, -l11}} {
			a := max(p.mean[0]+math.Sqrt2*d[0], 0.2)
			final := max(p.mean[1]+math.Sqrt2*d[1], a+1)
			out = append(out, candidate{a: a, p: final, c: rate, ref: ref})
			logs = append(logs, p.log)
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

// posterior is what is known of A and P for one rate.
type posterior struct {
	ref, rate float64
	mean      [2]float64
	cov       [2][2]float64
	log       float64 // of the weight of this rate
}

// learn takes the samples of tests: a linear model with normal errors, those of
// one test sharing both moves of the curve, those of two tests one of them.
func (p *posterior) learn(e evidence, noise lactate.Noise) error {
	n := len(e.stages)
	if n == 0 {
		return nil
	}
	x := mat.NewDense(n, 2, nil)
	innovation := mat.NewVecDense(n, nil)
	s := mat.NewSymDense(n, nil) // covariance of the innovation
	slopes := make([]float64, n)
	for i, st := range e.stages {
		u := math.Exp(p.rate * (st.Intensity - p.ref))
		x.SetRow(i, []float64{1 - u, u})
		innovation.SetVec(i, st.Lactate-(1-u)*p.mean[0]-u*p.mean[1])
		slopes[i] = p.rate * max(st.Lactate-p.mean[0], 0)
		sd := deviation(noise, st, st.Lactate, slopes[i])
		s.SetSym(i, i, sd*sd)
	}
	for i := range n {
		for j := i; j < n; j++ {
			v := s.At(i, j) + slopes[i]*slopes[j]*e.moved*e.moved
			if e.test[i] == e.test[j] {
				v += slopes[i] * slopes[j] * e.moved * e.moved
			}
			for a := range 2 {
				for b := range 2 {
					v += x.At(i, a) * p.cov[a][b] * x.At(j, b)
				}
			}
			s.SetSym(i, j, v)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(s) {
		return fmt.Errorf("%w: the earlier tests are not plausible together", ErrForecast)
	}
	var xp, gain mat.Dense // gainᵀ = S⁻¹ X P
	xp.Mul(x, mat.NewDense(2, 2, []float64{p.cov[0][0], p.cov[0][1], p.cov[1][0], p.cov[1][1]}))
	if err := chol.SolveTo(&gain, &xp); err != nil {
		return fmt.Errorf("%w: %w", ErrForecast, err)
	}
	var solved mat.VecDense
	if err := chol.SolveVecTo(&solved, innovation); err != nil {
		return fmt.Errorf("%w: %w", ErrForecast, err)
	}
	p.log -= (chol.LogDet() + mat.Dot(innovation, &solved)) / 2
	for a := range 2 {
		p.mean[a] += mat.Dot(gain.ColView(a), innovation)
	}
	var drop mat.Dense
	drop.Mul(gain.T(), &xp)
	for a := range 2 {
		for b := range 2 {
			p.cov[a][b] -= (drop.At(a, b) + drop.At(b, a)) / 2
		}
	}
	return nil
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

// evidence returns what the earlier tests say.
func (e Expected) evidence(o lactate.Options) ([]evidence, error) {
	var out evidence
	speeds := 0.0
	for i, t := range e.Tests {
		if err := t.Check(); err != nil {
			return nil, fmt.Errorf("%w: earlier test %d: %w", ErrForecast, i+1, err)
		}
		stages := t.Sampled()
		if len(stages) < 2 || !(stages[0].Intensity >= minSpeed && stages[len(stages)-1].Intensity <= maxSpeed) {
			return nil, fmt.Errorf("%w: earlier test %d: want two stages or more with lactate, and speeds of 0.2 to 3 m/s", ErrForecast, i+1)
		}
		speeds += (stages[0].Intensity + stages[len(stages)-1].Intensity) / 2
		for _, st := range stages {
			out.stages, out.test = append(out.stages, st), append(out.test, i)
		}
	}
	if len(e.Tests) == 0 {
		return nil, nil
	}
	out.moved = o.DayToDay * speeds / float64(len(e.Tests))
	return []evidence{out}, nil
}
