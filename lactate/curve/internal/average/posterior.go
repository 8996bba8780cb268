// Package average knows the posterior over the convex shapes of package shape, of points on
// one of them: Bayesian model averaging (Draper 1995, J R Stat Soc B 57:45–97; Hoeting and
// others 1999, Stat Sci 14:382–417).
package average

import (
	"math"
	"math/rand/v2"
	"sort"

	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/shape"
	"example.com/steptest/lactate/internal/noise"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat/distuv"
)

// A Posterior is what draws need: the shapes that have weight, and the line.
type Posterior struct {
	shapes *shape.Dictionary
	scale  noise.Scale
	t      noise.Student // of ν degrees of freedom
	top    float64       // weighted mean of the ys
	// Cholesky factor of the line's part, and the line itself.
	l00, l10, l11 float64
	z0, z1        float64
	active        []shapeFit
	mean          []float64 // the work space of the mean curve: F, then F′
}

// shapeFit is one shape, fitted.
type shapeFit struct {
	shape         int
	l20, l21, l22 float64 // last row of the Cholesky factor
	s, rss        float64 // rss with the pseudo-row
	rise          float64 // posterior mean of s, which is above zero
	weight        float64 // the active ones sum to one
	cumulative    float64
}

// truncate weighs a shape by the probability that it rises, and finds its mean rise: s is
// Student's t about its estimate, and above zero.
func (p *Posterior) truncate(t *shapeFit) {
	t.rise = t.s
	se := 1 / t.l22 * p.scale.Times(t.rss)
	x := t.s / se
	if x > 8 {
		return // next to certain
	}
	above := p.t.CDF(x)
	t.weight *= above
	if nu := p.scale.Nu; math.IsInf(nu, 1) {
		t.rise += se * p.t.Prob(x) / above
	} else if nu > 1 {
		t.rise += se * (nu + x*x) / (nu - 1) * p.t.Prob(x) / above
	}
	if !(t.rise > 0) || !points.Finite(t.rise) {
		t.weight = 0
	}
}

// solve returns a, b and s of a shape whose right-hand sides are z0, z1 and z2.
func (p *Posterior) solve(t *shapeFit, z0, z1, z2 float64) (a, b, s float64) {
	s = z2 / t.l22
	b = (z1 - t.l21*s) / p.l11
	a = (z0 - p.l10*b - t.l20*s) / p.l00
	return a + p.top, b, s
}

// meanCurve sets c to the posterior mean.
func (p *Posterior) meanCurve(c *shape.Curve) {
	p.mean = points.Resize(p.mean, 2*shape.Nodes)
	f, slope := p.mean[:shape.Nodes], p.mean[shape.Nodes:]
	clear(slope)
	mean := shapeFit{l22: 1}
	for i := range p.active {
		t := &p.active[i]
		s := t.weight * t.rise
		mean.l20 += s * t.l20
		mean.l21 += s * t.l21
		_, of := p.shapes.Row(t.shape)
		floats.AddScaled(slope, s, of)
	}
	f[0] = 0
	for k := range shape.Cells {
		f[k+1] = f[k] + (slope[k]+slope[k+1])/(2*shape.Cells)
	}
	a, b, rise := p.solve(&mean, p.z0, p.z1, 1)
	c.Set(a, b, rise, f, slope)
}

// Forget leaves no posterior.
func (p *Posterior) Forget() { p.active = p.active[:0] }

// Shapes returns how many shapes have weight, none without a posterior.
func (p *Posterior) Shapes() int { return len(p.active) }

// Draw sets c, whose range is known, to one curve from the posterior, and returns how many
// times larger than stated the noise is in that draw. at, from 0 to 1, chooses the shape.
func (p *Posterior) Draw(c *shape.Curve, at float64, rng *rand.Rand) (scale float64) {
	i := sort.Search(len(p.active)-1, func(i int) bool { return p.active[i].cumulative >= at })
	t := &p.active[i]
	chi := distuv.ChiSquared{K: p.scale.Nu, Src: rng}
	z2 := t.s * t.l22
	z0, z1, rise := p.z0, p.z1, t.rise*t.l22
	for range 1000 {
		scale = 1
		if !p.scale.Certain() {
			scale = math.Sqrt((p.scale.Prior + t.rss) / chi.Rand())
		}
		if z := z2 + scale*rng.NormFloat64(); z > 0 { // else the curve would not rise
			z0, z1, rise = z0+scale*rng.NormFloat64(), z1+scale*rng.NormFloat64(), z
			break
		}
	}
	f, slope := p.shapes.Row(t.shape)
	a, b, s := p.solve(t, z0, z1, rise)
	c.Set(a, b, s, f, slope)
	return scale
}

// Below returns the probability that a new y at u lies below a value: the posterior
// predictive distribution, Student's t for each shape. sd is the stated standard deviation
// of the new y.
func (p *Posterior) Below(u, y, sd float64) float64 {
	k, at := shape.Cell(u)
	sum := 0.0
	for i := range p.active {
		t := &p.active[i]
		f, slope := p.shapes.Row(t.shape)
		fu := f[k] + at*(slope[k]+at*(slope[k+1]-slope[k])/2)/shape.Cells
		a, b, s := p.solve(t, p.z0, p.z1, t.s*t.l22)
		q0 := 1 / p.l00
		q1 := (u - p.l10*q0) / p.l11
		q2 := (fu - t.l20*q0 - t.l21*q1) / t.l22
		se := math.Sqrt(q0*q0+q1*q1+q2*q2+sd*sd) * p.scale.Times(t.rss)
		z := y - a - b*u - s*fu
		sum += t.weight * p.t.CDF(z/se)
	}
	return sum
}
