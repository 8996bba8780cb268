package shift

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/shape"
)

// grid is a density over one shift, known by its logarithm at places that lie
// closer where the density changes more.
type grid struct {
	x, log []float64
}

const (
	gridStart    = 32  // intervals to begin with, if the ranges touch
	gridApart    = 8   // more on either side, if they do not
	gridNodes    = 400 // at most
	gridDrop     = 11  // log density below its top that is resolved
	gridBend     = 0.5 // change of slope times step, at most
	gridSteepest = 40  // drop that counts as no density at all
)

// survey finds the density of the shift of group 1 of two, called group in errors, from
// minus to plus the range of all points.
func (g *grid) survey(e *evidence, d *shape.Dictionary, group int, shifts []float64) error {
	span := max(e.hi[0], e.hi[1]) - min(e.lo[0], e.lo[1])
	if !(span > 1e-100 && span < 1e100) {
		return fmt.Errorf("curve: groups 0 and %d: found a range of %g, want 1e-100 to 1e100: %w", group, span, points.ErrUndetermined)
	}
	shifts[0] = 0
	log := func(v float64) float64 {
		shifts[1] = v
		return e.log(d, shifts)
	}
	// Where the two ranges touch, the density is looked for more closely: two tests may
	// lie far from one another.
	lo, hi := e.lo[1]-e.hi[0], e.hi[1]-e.lo[0]
	g.x = append(g.x[:0], -span)
	g.lay(lo, gridApart)
	g.lay(hi, gridStart)
	g.lay(span, gridApart)
	g.log = g.log[:0]
	for _, x := range g.x {
		g.log = append(g.log, log(x))
	}
	if math.IsInf(g.top(), -1) {
		return fmt.Errorf("curve: groups 0 and %d: no convex curve rises through the points: %w", group, points.ErrUndetermined)
	}
	g.refine(log)
	return nil
}

// lay adds even places up to one.
func (g *grid) lay(to float64, parts int) {
	from := g.x[len(g.x)-1]
	if !(to-from > -1e-9*g.x[0]) {
		return // the ends coincide but for rounding
	}
	for k := range parts {
		t := float64(k+1) / float64(parts)
		g.x = append(g.x, (1-t)*from+t*to)
	}
}

// again evaluates the density with other shapes, wherever it counts.
func (g *grid) again(e *evidence, d *shape.Dictionary, shifts []float64) {
	log := func(v float64) float64 {
		shifts[1] = v
		return e.log(d, shifts)
	}
	const margin = 3
	best := 0
	for k, v := range g.log {
		if v > g.log[best] {
			best = k
		}
	}
	top := g.log[best]
	change := log(g.x[best]) - top
	for k, v := range g.log {
		if v >= top-gridDrop-margin {
			g.log[k] = log(g.x[k])
		} else {
			g.log[k] += change
		}
	}
	g.refine(log)
}

func (g *grid) top() float64 {
	top := math.Inf(-1)
	for _, v := range g.log {
		top = max(top, v)
	}
	return top
}

// refine halves intervals until the log density is resolved wherever it counts.
func (g *grid) refine(log func(float64) float64) {
	for len(g.x) < gridNodes {
		top := g.top()
		floor := top - gridSteepest
		at := func(k int) float64 { return max(g.log[k], floor) }
		// bend is the change of slope at a node.
		bend := func(k int) float64 {
			if k <= 0 || k >= len(g.x)-1 {
				return 0
			}
			left := (at(k) - at(k-1)) / (g.x[k] - g.x[k-1])
			right := (at(k+1) - at(k)) / (g.x[k+1] - g.x[k])
			return math.Abs(right - left)
		}
		n := len(g.x)
		for k := range n - 1 {
			h := g.x[k+1] - g.x[k]
			if max(at(k), at(k+1)) < top-gridDrop || max(bend(k), bend(k+1))*h <= gridBend {
				continue
			}
			x := g.x[k]/2 + g.x[k+1]/2
			if !(x > g.x[k] && x < g.x[k+1]) || h < 1e-10*(g.x[n-1]-g.x[0]) {
				continue
			}
			g.x = append(g.x, x)
			g.log = append(g.log, log(x))
		}
		if len(g.x) == n {
			return
		}
		g.sort()
	}
}

// sort is insertion sort: the places come in few rising runs.
func (g *grid) sort() {
	for i := 1; i < len(g.x); i++ {
		for k := i; k > 0 && g.x[k] < g.x[k-1]; k-- {
			g.x[k], g.x[k-1] = g.x[k-1], g.x[k]
			g.log[k], g.log[k-1] = g.log[k-1], g.log[k]
		}
	}
}

// finer is into how many parts an interval of the grid is cut for the posterior.
const finer = 8

// posterior writes the normalised density as masses of small intervals.
func (g *grid) posterior(p *Posterior) {
	top := g.top()
	floor := top - gridSteepest
	n := len(g.x)
	slope := func(k int) float64 { // of the parabola through three neighbours
		k0 := min(max(k-1, 0), n-3)
		a, b := g.x[k0+1]-g.x[k0], g.x[k0+2]-g.x[k0+1]
		y0, y1, y2 := max(g.log[k0], floor), max(g.log[k0+1], floor), max(g.log[k0+2], floor)
		d0, d1 := (y1-y0)/a, (y2-y1)/b
		curve := (d1 - d0) / (a + b)
		return d0 + curve*(2*g.x[k]-g.x[k0]-g.x[k0+1])
	}
	p.edges = append(p.edges[:0], g.x[0])
	p.below = append(p.below[:0], 0)
	sum := 0.0
	s0 := slope(0)
	for k := range n - 1 {
		s1 := slope(k + 1)
		h := g.x[k+1] - g.x[k]
		y0, y1 := max(g.log[k], floor)-top, max(g.log[k+1], floor)-top
		for i := range finer {
			// Hermite's cubic at the middle of the part.
			t := (float64(i) + 0.5) / finer
			r := 1 - t
			v := r*r*(1+2*t)*y0 + t*t*(1+2*r)*y1 + t*r*(r*s0-t*s1)*h
			sum += math.Exp(min(v, 3)) * h / finer
			t = float64(i+1) / finer
			p.edges = append(p.edges, (1-t)*g.x[k]+t*g.x[k+1])
			p.below = append(p.below, sum)
		}
		s0 = s1
	}
	for k := range p.below {
		p.below[k] /= sum
	}
	p.moments()
}
