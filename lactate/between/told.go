package between

import (
	"math"
	"sync"

	"example.com/steptest/lactate"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// Unused says why a reading is not used. The zero value is that it is.
type Unused string

// Why a reading is not used: nothing is extrapolated.
const (
	Above Unused = "above the tested range"
	Below Unused = "below the tested range"
)

// Told is what a reading told. The zero value is nothing.
type Told struct {
	Reading
	// Unused says why the reading is not used, if it is not. All below is then NaN.
	Unused Unused `json:"unused,omitzero"`
	// Flat says that the curve is so flat there that the reading tells next to nothing of
	// its place: a move of Options.Matters changes the lactate by less than one standard
	// deviation of a sample.
	Flat bool `json:"flat,omitzero"`
	// Expected is the lactate that was to be expected by all that was known before, the
	// tests and readings of earlier days and the readings above, with the bracket of its
	// predictive distribution: drift, day, offset, curve and noise [mmol/L].
	Expected lactate.Estimate `json:"expected_mmol_per_l"`
	// Percentile is the place of the reading in that distribution, from 0 to 1.
	Percentile float64 `json:"-"`
	// News says that Percentile is below 0.01 or above 0.99: chance alone makes 2 readings
	// in 100 news.
	News bool `json:"news,omitzero"`
	// Before and After are the shift of an average day, as in [Place], by all that was
	// known before the reading and with it. Their brackets say what it changed.
	Before lactate.Estimate `json:"before"`
	After  lactate.Estimate `json:"after"`
}

// newsTail is the probability of either tail that is news.
const newsTail = 0.01

// hermite are the places, in standard deviations, and weights of a normal distribution.
var hermite = sync.OnceValues(func() (at, weight [9]float64) {
	quad.Hermite{}.FixedLocations(at[:], weight[:], math.Inf(-1), math.Inf(1))
	sum := 0.0
	for i := range at {
		at[i] *= math.Sqrt2
		weight[i] *= math.Exp(-at[i] * at[i] / 2)
		sum += weight[i]
	}
	for i := range weight {
		weight[i] /= sum
	}
	return at, weight
})

// tell finds what each reading told, and the smoothed places.
func (c *Course) tell() {
	nan := lactate.Estimate{Value: math.NaN(), Low: math.NaN(), High: math.NaN()}
	for i := range c.Readings {
		t := &c.Readings[i]
		t.Expected, t.Before, t.After, t.Percentile = nan, nan, nan, math.NaN()
	}
	var p predictive
	c.all.forward(func(k int, s *state, before bool) {
		t := &c.Readings[k]
		place := c.bracket(s.mean[average], s.row(average)[average])
		if !before {
			t.After = place
			return
		}
		t.Before = place
		if place.High-place.Low > c.Reference/2 {
			return // before the first test: anything can be expected
		}
		p.set(c.all, k, s)
		t.Percentile = p.cdf(t.Lactate)
		t.News = !(t.Percentile >= newsTail && t.Percentile <= 1-newsTail)
		tail := (1 - c.Confidence) / 2
		t.Expected = lactate.Estimate{Value: p.quantile(0.5, 0), Low: p.quantile(tail, -c.half), High: p.quantile(1-tail, c.half)}
	})
	c.all.back(true)
}

// predictive is the distribution of a reading before it is taken: a mixture of normal ones.
type predictive struct {
	mean, sd, weight [9]float64
	g, with          []float64
	index            []int
}

// set integrates over the place of the day; all else is linear.
func (p *predictive) set(r *run, k int, s *state) {
	at, weight := hermite()
	terms := r.samples[k].terms[2:]
	n := len(terms)
	p.g, p.with = resize(p.g, n), resize(p.with, n)
	avg, day := s.row(average), s.row(ofDay)
	variance := avg[average] + 2*avg[ofDay] + day[ofDay]
	for j, t := range terms {
		p.with[j] = avg[t.at] + day[t.at]
	}
	sd := math.Sqrt(math.Max(variance, 0))
	sh := r.shape
	for i, z := range at {
		d := s.mean[average] + s.mean[ofDay] + z*sd
		u := r.readings[k].Intensity - d
		m, _ := sh.at(sh.mean, u)
		for j := range p.g {
			p.g[j] = 1
			if j < len(sh.component) {
				p.g[j], _ = sh.at(sh.component[j], u)
			}
		}
		v, common := 0.0, 0.0
		for j, t := range terms {
			m += p.g[j] * s.mean[t.at]
			if sd > 0 {
				m += p.g[j] * p.with[j] * z / sd
				common += p.g[j] * p.with[j] / sd
			}
			row := s.row(t.at)
			for l, w := range terms {
				v += p.g[j] * p.g[l] * row[w.at]
			}
		}
		v = math.Max(v-common*common, 0) + r.noise(m)
		if r.of[k] < 0 {
			v += r.off
		}
		p.mean[i], p.sd[i], p.weight[i] = m, math.Sqrt(v), weight[i]
	}
}

func (p *predictive) cdf(y float64) float64 {
	sum := 0.0
	for i, w := range p.weight {
		sum += w * distuv.UnitNormal.CDF((y-p.mean[i])/p.sd[i])
	}
	return sum
}

// quantile starts where a normal distribution has it, at z standard deviations.
func (p *predictive) quantile(q, z float64) float64 {
	mean, square := 0.0, 0.0
	for i, w := range p.weight {
		mean += w * p.mean[i]
		square += w * (p.mean[i]*p.mean[i] + p.sd[i]*p.sd[i])
	}
	sd := math.Sqrt(square - mean*mean)
	y, low, high := mean+z*sd, math.Inf(-1), math.Inf(1)
	for range 60 {
		f, density := -q, 0.0
		for i, w := range p.weight {
			x := (y - p.mean[i]) / p.sd[i]
			f += w * distuv.UnitNormal.CDF(x)
			density += w * math.Exp(-x*x/2) / (p.sd[i] * math.Sqrt(2*math.Pi))
		}
		if math.Abs(f) < 1e-6 {
			break
		}
		if f > 0 {
			high = y
		} else {
			low = y
		}
		next := y - f/density
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
