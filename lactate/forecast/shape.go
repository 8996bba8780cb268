package forecast

import (
	"math"
	"time"

	"example.com/steptest/lactate"
	"gonum.org/v1/gonum/floats"
)

// shape compares tests with the last by the Bayes factor of one A and C for both
// against a pair for each. The noise is not taken as stated: the marginal likelihoods
// average over one scale for both tests, of the weight that the stated noise has,
// since a swimmer who scatters more than stated has no other shape for that.
type shape struct {
	ref    float64
	last   []lactate.Stage
	noises []lactate.Noise // by scale
	prior  []float64       // logarithms of the scales' prior probabilities
	alone  []float64       // logarithms of the likelihood of the last test, by scale
	none   float64         // the same of no test
}

func (p posterior) shape() *shape {
	s := &shape{ref: p.ref, last: p.last}
	weight := p.noise.PriorWeight()
	const scales = 11 // from 0.5 to 5
	for i := range scales {
		k := 0.5 * math.Pow(10, float64(i)/(scales-1))
		// Scaled inverse χ² of k², by ln k.
		prior := -weight*math.Log(k) - weight/(2*k*k)
		if math.IsInf(weight, 1) {
			k, prior = 1, 0
		}
		n := p.noise
		n.Absolute = max(n.Absolute, 0.02) * k // the rates stand too far apart for less
		n.Relative *= k
		n.Resolution *= k
		n.Timing = time.Duration(float64(n.Timing) * k)
		s.noises, s.prior = append(s.noises, n), append(s.prior, prior)
		if math.IsInf(weight, 1) {
			break
		}
	}
	s.none = s.marginal(p.noise)
	for _, n := range s.noises {
		s.alone = append(s.alone, s.marginal(n, s.last))
	}
	return s
}

// marginal returns the logarithm of the marginal likelihood of tests of one shape, but for
// a constant.
func (s *shape) marginal(n lactate.Noise, tests ...[]lactate.Stage) float64 {
	var logs [101]float64
	for i := range logs {
		z := rateReach * (2*float64(i)/float64(len(logs)-1) - 1)
		logs[i] = posterior{ref: s.ref, earlier: tests, noise: n}.given(z).log
	}
	return floats.LogSumExp(logs[:])
}

// alike reports whether a test may be of the shape of the last.
func (s *shape) alike(stages []lactate.Stage) bool {
	one, two := make([]float64, len(s.noises)), make([]float64, len(s.noises))
	for i, n := range s.noises {
		one[i] = s.prior[i] + s.marginal(n, stages, s.last) + s.none
		two[i] = s.prior[i] + s.marginal(n, stages) + s.alone[i]
	}
	return floats.LogSumExp(one)-floats.LogSumExp(two) >= -math.Log(unlike)
}
