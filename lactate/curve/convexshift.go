package curve

import (
	"fmt"
	"math"
	"sync"

	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/shift"
	"example.com/steptest/lactate/internal/noise"
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
// does. The prior of each δ is flat up to the range of all points of the group and group
// 0 together, to either side. The shifts' posterior is integrated over all shapes.
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
// method of it; the other methods may. A copy shares its posterior: fit neither as long
// as the other is read.
type ConvexShifted struct {
	// Weight and Tilt are those of [Convex].
	Weight, Tilt float64

	sampled bool // two groups too; tests compare that with the grid

	points int // none without a fit
	joint  shift.Joint
}

// convexShiftedWork is the work space of a fit. Fits share a few of them.
type convexShiftedWork struct {
	shift.Work
	count   []int     // points of every group
	weights []float64 // for Fit
	pre     Shifted
}

var convexShiftedWorks = sync.Pool{New: func() any { return new(convexShiftedWork) }}

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
	work := convexShiftedWorks.Get().(*convexShiftedWork)
	defer convexShiftedWorks.Put(work)
	if _, err := c.check(work, xs, ys, nil, groups); err != nil {
		return err
	}
	work.weights = points.Resize(work.weights, len(xs))
	about := work.pre.Fit(xs, ys, groups) == nil
	for i, y := range ys {
		if about {
			y = work.pre.Predict(xs[i], groups[i])
		}
		work.weights[i] = weightOf(y)
	}
	return c.fit(work, xs, ys, work.weights, groups)
}

// FitWeighted is Fit with a weight for each point, one over the variance of its y.
// Nil weights mean that all are 1. The weights count in full, not only beside
// one another: see [Convex].
func (c *ConvexShifted) FitWeighted(xs, ys, weights []float64, groups []int) error {
	work := convexShiftedWorks.Get().(*convexShiftedWork)
	defer convexShiftedWorks.Put(work)
	return c.fit(work, xs, ys, weights, groups)
}

func (c *ConvexShifted) fit(work *convexShiftedWork, xs, ys, weights []float64, groups []int) error {
	n, err := c.check(work, xs, ys, weights, groups)
	if err != nil {
		return err
	}
	prior := Convex{Weight: c.Weight, Tilt: c.Tilt}
	if err := work.Fit(&c.joint, xs, ys, weights, groups, n, noise.Prior(prior.Weight), prior.tilt(), c.sampled); err != nil {
		return err
	}
	c.points = len(xs)
	return nil
}

// check forgets the last fit, and returns the number of groups.
func (c *ConvexShifted) check(work *convexShiftedWork, xs, ys, weights []float64, groups []int) (int, error) {
	c.points = 0
	if err := checkPoints(xs, ys, weights); err != nil {
		return 0, err
	}
	n, err := countGroups(groups, len(xs))
	if err != nil {
		return 0, err
	}
	if work.count, err = points.ByGroup(work.count, groups, n); err != nil {
		return 0, err
	}
	if n < 2 {
		return 0, fmt.Errorf("curve: found %d groups, want 2 or more: %w", n, ErrInput)
	}
	return n, nil
}

// Groups returns the number of groups of the last fit, zero without one.
func (c *ConvexShifted) Groups() int {
	if c.points == 0 {
		return 0
	}
	return c.joint.Groups()
}

// Shift returns the posterior of how far a group lies to the right of group 0: the
// zero value, of which nothing is known, unless group is from 1 to Groups less one.
func (c *ConvexShifted) Shift(group int) ShiftPosterior {
	if group < 1 || group >= c.Groups() {
		return ShiftPosterior{}
	}
	return ShiftPosterior{c.joint.Of(group)}
}

// Open reports whether the posterior of a group's shift is cut off by its prior, at
// minus or at plus the range of all points: then its quantiles to that side are the
// prior's as much as the points'. A prior twice as wide would add half a per cent or more
// there. With more than two groups it is asked of each beside group 0 alone.
func (c *ConvexShifted) Open(group int) (below, above bool) {
	if group < 1 || group >= c.Groups() {
		return false, false
	}
	return c.joint.Open(group)
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
// must be empty or of as many rows. Without a fit it writes nothing.
func (c *ConvexShifted) Covariance(dst *mat.SymDense) {
	n := c.Groups() - 1
	if n < 1 {
		return
	}
	if dst.IsEmpty() {
		dst.ReuseAsSym(n)
	}
	c.joint.Covariance(dst)
}

// Draw writes one draw from the posterior of the shifts of groups 1, 2, … to dst. at,
// from 0 to 1, chooses it: uniform random numbers give independent draws, evenly
// spread ones a more even choice. If dst does not have Groups less one
// elements, it is filled with NaN.
func (c *ConvexShifted) Draw(dst []float64, at float64) {
	n := c.Groups() - 1
	if len(dst) != n || n < 1 {
		for i := range dst {
			dst[i] = math.NaN()
		}
		return
	}
	c.joint.Draw(dst, at)
}

// Sum returns the posterior of a weighted sum of the shifts of groups 1, 2, …, as a
// trend through them is: the zero value, of which nothing is known, unless there are
// Groups less one weights, finite and not all zero.
func (c *ConvexShifted) Sum(weights []float64) ShiftPosterior {
	n := c.Groups() - 1
	if len(weights) != n || n < 1 {
		return ShiftPosterior{}
	}
	return ShiftPosterior{c.joint.Sum(weights)}
}
