package curve

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// ConvexShifted finds how far several groups of points lie apart along x if they
// share one convex shape:
//
//	y = F(x − δ[g]),   F = a + b·u + s·f(u)
//
// for a point of group g, with δ[0] = 0. It is [Shifted] without the formula of the
// curve: f is any of the shapes of [Convex] over the joint range of all shifted
// points, with the same prior over shapes and for b, and the same scale of the noise. a
// is flat, s flat in the root mean square over the groups of the rise of s·f across
// the group's own range, which does not change with the shifts as the joint range
// does. The prior of each δ is flat over the shifts at which the group's range still
// touches that of group 0. The shifts' posterior is integrated over all shapes.
//
// For step tests a group is a test, and a positive shift says that the curve has
// moved to the right: more intensity for the same lactate.
//
// With two groups the posterior is computed on a grid that is refined until it is
// resolved; with more it is importance sampling (from memory: Robert & Casella (2004),
// Monte Carlo Statistical Methods), with random numbers that are always the same.
//
// The zero value has no posterior. Fit and FitWeighted overwrite the receiver, and the
// posteriors that it has returned, and must not run concurrently with any other
// method of it; the other methods may. A copy shares its work space: do not fit both
// at the same time.
type ConvexShifted struct {
	// Weight and Tilt are those of [Convex].
	Weight, Tilt float64

	points int
	joint  shiftEvidence
	shapes *dictionary // those that have weight
	chosen []bool
	at     []int
	grid   shiftGrid
	shift  []float64
	post   []ShiftPosterior // of groups 1, 2, …
	open   []bool           // below, above; for each of them
	count  []int
	level  []float64
	pre    Shifted
	many   *shiftSample // with more than two groups
}

// Fit finds the posterior with the standard deviations that it takes for those of
// blood lactate in mmol/L: 0.2 and 3 % of the value, in quadrature, the value being
// that of a [Shifted] exponential through the same points if there is one, and y itself
// otherwise. Say others by FitWeighted.
//
// groups[i] is the group of point i, numbered from 0 without gaps. Points may come in
// any order and xs may repeat. The arguments are neither kept nor changed. Refits of as
// many points as before in as many groups do not allocate.
//
// The error wraps [ErrInput] for points that cannot be used, and [ErrUndetermined]
// if no convex curve rises through them, or if they leave a shift open to both
// sides. After an error there is no posterior.
func (c *ConvexShifted) Fit(xs, ys []float64, groups []int) error {
	if _, err := c.check(xs, ys, nil, groups); err != nil {
		return err
	}
	c.level = resize(c.level, len(xs))
	about := c.pre.Fit(xs, ys, groups) == nil
	for i, y := range ys {
		if about {
			y = c.pre.Predict(xs[i], groups[i])
		}
		c.level[i] = 1 / (0.2*0.2 + 0.03*0.03*y*y)
	}
	return c.FitWeighted(xs, ys, c.level, groups)
}

// FitWeighted is Fit with a weight for each point, one over the variance of its y.
// Nil weights mean that all are 1. The weights count in full, not only beside
// one another: see [Convex].
func (c *ConvexShifted) FitWeighted(xs, ys, weights []float64, groups []int) error {
	n, err := c.check(xs, ys, weights, groups)
	if err != nil {
		return err
	}
	if err := c.joint.set(xs, ys, weights, groups, n, Convex{Weight: c.Weight, Tilt: c.Tilt}); err != nil {
		return err
	}
	c.post, c.open = grow(c.post, n-1), resize(c.open, 2*(n-1))
	c.shift = resize(c.shift, n)
	if n == 2 {
		err = c.fitTwo()
	} else {
		err = c.fitMany()
	}
	if err != nil {
		return err
	}
	c.points = len(xs)
	return nil
}

// grow is resize that keeps what the elements hold.
func grow[T any](s []T, n int) []T {
	if cap(s) < n {
		s = append(s[:cap(s)], make([]T, n-cap(s))...)
	}
	return s[:n]
}

// check forgets the last fit, and returns the number of groups.
func (c *ConvexShifted) check(xs, ys, weights []float64, groups []int) (int, error) {
	c.points = 0
	if err := checkPoints(xs, ys, weights); err != nil {
		return 0, err
	}
	n, err := countGroups(groups, len(xs))
	if err != nil {
		return 0, err
	}
	c.count = resize(c.count, n)
	clear(c.count)
	for _, g := range groups {
		c.count[g]++
	}
	for g, k := range c.count {
		if k == 0 {
			return 0, fmt.Errorf("curve: found no point of group %d, expected groups numbered without gaps: %w", g, ErrInput)
		}
	}
	if n < 2 {
		return 0, fmt.Errorf("curve: found %d groups, want 2 or more: %w", n, ErrInput)
	}
	return n, nil
}

// fitTwo finds the posterior of one shift on a grid: first with few shapes, then with
// all that have weight anywhere where the first posterior lies.
func (c *ConvexShifted) fitTwo() error {
	e, g := &c.joint, &c.grid
	thin := thinShapes()
	if err := g.survey(e, thin, 1, c.shift); err != nil {
		return err
	}
	p := &c.post[0]
	g.posterior(p)
	c.choose()
	for _, q := range [...]float64{0.002, 0.05, 0.3, 0.7, 0.95, 0.998} {
		c.shift[1] = p.Quantile(q)
		c.weighAll()
	}
	c.gather()
	g.again(e, c.shapes, c.shift)
	g.posterior(p)
	return c.ends(1, g)
}

// ends notes to which side the posterior is cut off by the prior.
func (c *ConvexShifted) ends(group int, g *shiftGrid) error {
	const open = 0.01 // density at an end, beside the highest
	top := g.top() + math.Log(open)
	below, above := g.log[0] > top, g.log[len(g.log)-1] > top
	c.open[2*group-2], c.open[2*group-1] = below, above
	if below && above {
		return fmt.Errorf("curve: groups 0 and %d: any shift at which their ranges touch is about as likely as any other: %w", group, ErrUndetermined)
	}
	return nil
}

// relevant is the weight of a shape, relative to the largest, from which on it counts.
// Leaving out the others moves the ends of an interval by at most 0.2 % of its width.
const relevant = 1e-3

// choose begins a choice of shapes.
func (c *ConvexShifted) choose() {
	c.chosen = resize(c.chosen, len(shapes().prior))
	clear(c.chosen)
}

// weighAll adds the shapes that have weight at c.shift to the choice.
func (c *ConvexShifted) weighAll() {
	e := &c.joint
	if math.IsInf(e.log(shapes(), c.shift), -1) {
		return
	}
	weights := e.num[:len(c.chosen)]
	top := 0.0
	for _, v := range weights {
		top = max(top, v)
	}
	for j, v := range weights {
		if v > relevant*top {
			c.chosen[j] = true
		}
	}
}

// gather ends a choice of shapes.
func (c *ConvexShifted) gather() {
	c.at = c.at[:0]
	for j, ok := range c.chosen {
		if ok {
			c.at = append(c.at, j)
		}
	}
	c.shapes = shapes().subset(c.shapes, c.at)
}

// Groups returns the number of groups of the last fit, zero without one.
func (c *ConvexShifted) Groups() int {
	if c.points == 0 {
		return 0
	}
	return len(c.joint.lo)
}

// Shift returns the posterior of how far a group lies to the right of group 0. It panics
// unless group is from 1 to Groups less one.
func (c *ConvexShifted) Shift(group int) ShiftPosterior {
	if group < 1 || group >= c.Groups() {
		panic(fmt.Sprintf("curve: found group %d, want 1 to %d", group, c.Groups()-1))
	}
	return c.post[group-1]
}

// Open reports whether the posterior of a group's shift is cut off by its prior, at
// the smallest or the largest shift at which the two ranges still touch: then its
// quantiles to that side are the prior's as much as the points'. It panics as Shift does.
func (c *ConvexShifted) Open(group int) (below, above bool) {
	c.Shift(group)
	return c.open[2*group-2], c.open[2*group-1]
}

// DegreesOfFreedom returns the number of points of the last fit less a, s and the
// shifts: what the points add to Weight in the posterior of the scale. b and the shape
// have priors.
func (c *ConvexShifted) DegreesOfFreedom() int {
	if c.points == 0 {
		return 0
	}
	return c.points - 1 - c.Groups()
}

// Covariance writes the covariance of the shifts of groups 1, 2, … to dst, which
// must be empty or of as many rows. It panics if there is no fit.
func (c *ConvexShifted) Covariance(dst *mat.SymDense) {
	n := c.Groups() - 1
	if n < 1 {
		panic("curve: found no fit")
	}
	if dst.IsEmpty() {
		dst.ReuseAsSym(n)
	}
	if n == 1 {
		dst.SetSym(0, 0, c.post[0].own*c.post[0].own)
		return
	}
	dst.CopySym(c.many.cov)
}

// Draw writes one draw from the posterior of the shifts of groups 1, 2, … to dst. at,
// from 0 to 1, chooses it: uniform random numbers give independent draws, evenly
// spread ones a more even choice. It panics unless dst has Groups less one elements.
func (c *ConvexShifted) Draw(dst []float64, at float64) {
	n := c.Groups() - 1
	if len(dst) != n || n < 1 {
		panic(fmt.Sprintf("curve: found %d shifts to draw, want %d", len(dst), n))
	}
	if n == 1 {
		dst[0] = c.post[0].Quantile(at)
		return
	}
	c.many.draw(dst, at)
}
