// Package shift knows how far groups of points on one convex shape of package shape lie
// apart along x: the evidence of places of the groups, integrated over all shapes, on a
// grid of one shift, or by importance sampling of several (Robert & Casella 2004, Monte
// Carlo Statistical Methods; from memory).
package shift

import (
	"math"

	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/shape"
)

// Work is the work space of a fit. It is some hundred times as large as a [Joint].
type Work struct {
	all    evidence          // of all groups
	chosen []bool            // shapes that have weight
	at     []int             // their places
	shapes *shape.Dictionary // they alone
	grid   grid
	shift  []float64 // of every group
	many   *sample   // with more than two groups
}

// Fit finds the posterior of points that have been checked, in groups 0 to n−1. The
// standard deviations that the weights say count for nu0 observations; tilt is the prior
// standard deviation of the initial slope. Two groups are sampled only on demand.
func (work *Work) Fit(j *Joint, xs, ys, weights []float64, groups []int, n int, nu0, tilt float64, sampled bool) error {
	if err := work.all.set(xs, ys, weights, groups, n, nu0, tilt); err != nil {
		return err
	}
	j.post, j.open = grow(j.post, n-1), points.Resize(j.open, 2*(n-1))
	work.shift = points.Resize(work.shift, n)
	if n == 2 && !sampled {
		return work.fitTwo(j)
	}
	return work.fitMany(j)
}

// grow is points.Resize that keeps what the elements hold.
func grow[T any](s []T, n int) []T {
	if cap(s) < n {
		s = append(s[:cap(s)], make([]T, n-cap(s))...)
	}
	return s[:n]
}

// relevant is the weight of a shape, relative to the largest, from which on it counts.
// Leaving out the others moves the ends of an interval by at most 0.2 % of its width.
const relevant = 1e-3

// choose begins a choice of shapes.
func (work *Work) choose() {
	work.chosen = points.Resize(work.chosen, len(shape.All().Prior))
	clear(work.chosen)
}

// weighAll adds the shapes that have weight at work.shift to the choice.
func (work *Work) weighAll() {
	e := &work.all
	if math.IsInf(e.log(shape.All(), work.shift), -1) {
		return
	}
	weights := e.num[:len(work.chosen)]
	top := 0.0
	for _, v := range weights {
		top = max(top, v)
	}
	for j, v := range weights {
		if v > relevant*top {
			work.chosen[j] = true
		}
	}
}

// gather ends a choice of shapes, of at most so many: if more have weight, the posterior
// is so wide that some of them say what all do.
func (work *Work) gather(most int) {
	work.at = work.at[:0]
	for j, ok := range work.chosen {
		if ok {
			work.at = append(work.at, j)
		}
	}
	if step := (len(work.at) + most - 1) / most; step > 1 {
		few := work.at[:0]
		for i := step / 2; i < len(work.at); i += step {
			few = append(few, work.at[i])
		}
		work.at = few
	}
	work.shapes = shape.All().Subset(work.shapes, work.at)
}
