package between

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

const places = 5

// hermite are the places, in standard deviations, and weights of a normal distribution.
var hermite = sync.OnceValues(func() (at, weight [places]float64) {
	quad.Hermite{}.FixedLocations(at[:], weight[:], math.Inf(-1), math.Inf(1))
	sum := 0.0
	for i := range at {
		at[i] *= math.Sqrt2
		sum += weight[i]
	}
	for i := range weight {
		weight[i] /= sum
	}
	return at, weight
})

// straight is the part of the variance of a day's place over which the curve is taken for
// straight; over the rest it is integrated.
const straight = 0.7

// predictive is the distribution of a reading before it is taken: a mixture of normal
// ones with the weights of hermite.
type predictive struct{ mean, sd [places]float64 }

// set integrates over the place of the day.
func (p *predictive) set(r *run, k int, s *state) {
	at, _ := hermite()
	terms := r.samples[k].terms[2:]
	var buffer [2 * (maxComponents + 2)]float64
	g, with := buffer[:len(terms)], buffer[maxComponents+2:][:len(terms)]
	avg, day := s.row(average), s.row(ofDay)
	variance := avg[average] + 2*avg[ofDay] + day[ofDay]
	for j, t := range terms {
		with[j] = avg[t.at] + day[t.at]
		g[j] = 1
	}
	sh := r.shape
	for i, z := range at {
		off := z * math.Sqrt(math.Max((1-straight)*variance, 0))
		spot := sh.spot(r.readings[k].Intensity - (s.mean[average] + s.mean[ofDay] + off))
		m, slope := spot.on(sh.mean)
		for j := range sh.component {
			v, d := spot.on(sh.component[j])
			g[j] = v
			slope += d * s.mean[terms[j].at]
		}
		v, common := 0.0, 0.0
		for j, t := range terms {
			m += g[j] * s.mean[t.at]
			common += g[j] * with[j]
			row, sum := s.row(t.at), 0.0
			for l, w := range terms[:j] {
				sum += g[l] * row[w.at]
			}
			v += g[j] * (g[j]*row[t.at] + 2*sum)
		}
		if variance > 0 {
			common /= variance // the slope of all else on the place
			v = math.Max(v-common*common*variance, 0)
			m += common * off
			slope = common - slope
			v += slope * slope * straight * variance
		}
		v += r.noise(m)
		if r.of[k] < 0 {
			v += (1 - shared) * r.off
		}
		p.mean[i], p.sd[i] = m, math.Sqrt(v)
	}
}

// mixture is one of normal distributions.
type mixture []struct{ weight, mean, sd float64 }

// mix mixes what the drifts expect. Those without weight are left out.
func (m mixture) mix(of [drifts]*predictive, weights [drifts]float64) mixture {
	_, weight := hermite()
	m = m[:0]
	for k, p := range of {
		if weights[k] == 0 {
			continue
		}
		for i, w := range weight {
			m = append(m, struct{ weight, mean, sd float64 }{weights[k] * w, p.mean[i], p.sd[i]})
		}
	}
	return m
}

func (m mixture) cdf(y float64) float64 {
	sum := 0.0
	for _, n := range m {
		sum += n.weight * distuv.UnitNormal.CDF((y-n.mean)/n.sd)
	}
	return math.Min(sum, 1)
}

func (m mixture) density(y float64) float64 {
	sum := 0.0
	for _, n := range m {
		x := (y - n.mean) / n.sd
		sum += n.weight * math.Exp(-x*x/2) / (n.sd * math.Sqrt(2*math.Pi))
	}
	return sum
}

func (m mixture) moments() (mean, sd float64) {
	square := 0.0
	for _, n := range m {
		mean += n.weight * n.mean
		square += n.weight * (n.mean*n.mean + n.sd*n.sd)
	}
	return mean, math.Sqrt(square - mean*mean)
}

// quantile starts where a normal distribution has it, at z standard deviations.
func (m mixture) quantile(q, z float64) float64 {
	mean, sd := m.moments()
	y, low, high := mean+z*sd, math.Inf(-1), math.Inf(1)
	for range 60 {
		f := m.cdf(y) - q
		if math.Abs(f) < 1e-4 {
			break
		}
		if f > 0 {
			high = y
		} else {
			low = y
		}
		next := y - f/m.density(y)
		switch {
		case next > low && next < high && math.Abs(next-y) < 2*sd:
		case math.IsInf(low, -1):
			next = high - sd
		case math.IsInf(high, 1):
			next = low + sd
		default:
			next = low/2 + high/2
		}
		y = next
	}
	return math.Max(y, 0)
}
