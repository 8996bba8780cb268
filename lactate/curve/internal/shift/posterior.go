package shift

import (
	"math"
	"slices"
	"sort"

	"example.com/steptest/lactate/curve/internal/points"
	"gonum.org/v1/gonum/stat/distuv"
)

// A Posterior is the distribution of a shift: a density that is even within each of some
// hundred small intervals, and a normal variable of mean zero added to it.
type Posterior struct {
	edges, below []float64 // probability below each edge
	mean, own    float64   // standard deviation without the added one
	added        float64   // standard deviation
}

func (p *Posterior) moments() {
	mean := 0.0
	for k := range len(p.edges) - 1 {
		mean += (p.below[k+1] - p.below[k]) * (p.edges[k]/2 + p.edges[k+1]/2)
	}
	variance := 0.0
	for k := range len(p.edges) - 1 {
		d, h := p.edges[k]/2+p.edges[k+1]/2-mean, p.edges[k+1]-p.edges[k]
		variance += (p.below[k+1] - p.below[k]) * (d*d + h*h/12)
	}
	p.mean, p.own, p.added = mean, math.Sqrt(variance), 0
}

// Plus returns the distribution with an independent normal variable added to it; the zero
// value if sd is negative or not a number.
func (p Posterior) Plus(sd float64) Posterior {
	if !(sd >= 0) {
		return Posterior{}
	}
	p.added = math.Hypot(p.added, sd)
	return p
}

func (p Posterior) Mean() float64 { return p.mean }

func (p Posterior) StdDev() float64 { return math.Hypot(p.own, p.added) }

// CDF returns the probability that the shift is at most d.
func (p Posterior) CDF(d float64) float64 {
	if len(p.edges) == 0 || math.IsNaN(d) {
		return math.NaN()
	}
	if p.added == 0 {
		return p.share(d)
	}
	// Where the normal variable is wide beside an interval, its mean over the
	// interval is that at the middle, but for a 1/24 of the squared ratio.
	sum := 0.0
	for k := range len(p.edges) - 1 {
		mass := p.below[k+1] - p.below[k]
		if mass < 1e-9 {
			if p.edges[k+1] <= d {
				sum += mass
			}
			continue
		}
		a, b := (d-p.edges[k+1])/p.added, (d-p.edges[k])/p.added
		sum += mass * meanNormal(a, b)
	}
	return min(max(sum, 0), 1)
}

// meanNormal returns the mean of the normal distribution function over [a, b].
func meanNormal(a, b float64) float64 {
	switch {
	case b < -9:
		return 0
	case a > 9:
		return 1
	case b-a < 1e-3:
		return distuv.UnitNormal.CDF(a/2 + b/2)
	}
	integral := func(z float64) float64 { // of the distribution function
		return z*distuv.UnitNormal.CDF(z) + math.Exp(-z*z/2)/math.Sqrt(2*math.Pi)
	}
	return (integral(b) - integral(a)) / (b - a)
}

// share is CDF without the added variable.
func (p Posterior) share(d float64) float64 {
	n := len(p.edges)
	k := sort.SearchFloat64s(p.edges, d)
	switch k {
	case 0:
		return 0
	case n:
		return 1
	}
	t := (d - p.edges[k-1]) / (p.edges[k] - p.edges[k-1])
	return p.below[k-1] + t*(p.below[k]-p.below[k-1])
}

// Quantile returns the shift below which the probability is q.
func (p Posterior) Quantile(q float64) float64 {
	if !(q >= 0 && q <= 1) {
		return math.NaN()
	}
	n := len(p.edges)
	if n == 0 {
		return math.NaN()
	}
	if p.added == 0 {
		k := max(sort.SearchFloat64s(p.below, q), 1)
		if k >= n {
			return p.edges[n-1]
		}
		mass := p.below[k] - p.below[k-1]
		if !(mass > 0) {
			return p.edges[k]
		}
		t := (q - p.below[k-1]) / mass
		return (1-t)*p.edges[k-1] + t*p.edges[k]
	}
	if q == 0 || q == 1 {
		return math.Inf(2*int(q) - 1)
	}
	// The distribution function rises: halve an interval that holds the quantile.
	step := p.StdDev()
	lo, hi := p.mean-step, p.mean+step
	for p.CDF(lo) > q && step < math.MaxFloat64/4 {
		step *= 2
		lo -= step
	}
	for p.CDF(hi) < q && step < math.MaxFloat64/4 {
		step *= 2
		hi += step
	}
	for range 100 {
		mid := lo/2 + hi/2
		if !(mid > lo && mid < hi) || hi-lo <= 1e-10*step {
			break
		}
		if p.CDF(mid) < q {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo/2 + hi/2
}

// smooth makes the distribution of a weighted sample, every stride-th of values, with the
// given mean and standard deviation.
func (p *Posterior) smooth(values []float64, stride int, weights []float64, mean, sd, effective float64) {
	const (
		parts = 160
		reach = 6. // standard deviations
	)
	p.edges, p.below = points.Resize(p.edges, parts+1), points.Resize(p.below, parts+1)
	for k := range p.edges {
		p.edges[k] = mean + sd*reach*(2*float64(k)/parts-1)
	}
	clear(p.below)
	width := 2 * reach * sd / parts
	// A normal kernel, shrunk towards the mean to keep the variance, half as wide as the
	// rule of thumb for densities says: distribution functions want less.
	ratio := 0.5 * math.Pow(effective, -0.2)
	band, shrink := ratio*sd, math.Sqrt(1-ratio*ratio)
	for i, w := range weights {
		x := mean + shrink*(values[i*stride]-mean)
		k := min(max(int((x-4*band-p.edges[0])/width), 0), parts-1)
		for before := 0.0; before < 1; k++ {
			now := 1.0
			if z := (p.edges[k+1] - x) / band; z < 4 && k < parts-1 {
				now = distuv.UnitNormal.CDF(z)
			}
			p.below[k+1] += w * (now - before)
			before = now
		}
	}
	for k := range parts {
		p.below[k+1] += p.below[k]
	}
	for k := range p.below {
		p.below[k] /= p.below[parts]
	}
	p.moments()
}

// times returns the distribution of w times the shift; w is not zero.
func (p Posterior) times(w float64) Posterior {
	if w == 1 {
		return p
	}
	p.edges, p.below = slices.Clone(p.edges), slices.Clone(p.below)
	for k := range p.edges {
		p.edges[k] *= w
	}
	if w < 0 {
		slices.Reverse(p.edges)
		slices.Reverse(p.below)
		for k, v := range p.below {
			p.below[k] = 1 - v
		}
	}
	p.mean *= w
	p.own *= math.Abs(w)
	p.added *= math.Abs(w)
	return p
}
