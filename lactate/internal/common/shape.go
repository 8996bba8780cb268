// Package common fits one shape through several tests, each moved along the intensity axis,
// and holds the posterior of how far they moved: of one shift, and of sums of them, such as
// a trend. It knows points and their noise, and nothing of tests or thresholds.
package common

import (
	"errors"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Points are the samples of several tests, one test after another.
type Points struct {
	Xs, Ys []float64 // in order of x in each test
	Groups []int     // the test of each point, from 0
	// Deviation returns the stated standard deviation of a point about a curve that has
	// this value and this slope there.
	Deviation func(i int, y, slope float64) float64
	// Weight of the stated deviations, as [curve.Convex] takes it, and the number of
	// observations that it stands for.
	Weight, Prior float64
}

// only returns the points of one test.
func (p Points) only(test int) Points {
	from := slices.Index(p.Groups, test)
	to := from
	for to < len(p.Groups) && p.Groups[to] == test {
		to++
	}
	one := p
	one.Xs, one.Ys, one.Groups = p.Xs[from:to], p.Ys[from:to], make([]int, to-from)
	one.Deviation = func(i int, y, slope float64) float64 { return p.Deviation(from+i, y, slope) }
	return one
}

// A Shape is one shape through several tests, each shifted along the intensity axis.
type Shape interface {
	// Covariance of shifts 1, 2, … by measurement error alone.
	Covariance() *mat.SymDense
	// Sum is the posterior of a sum of the shifts, each times its coefficient, with a normal
	// variable of a variance added, that of days.
	Sum(coefficients []float64, dayVariance float64) Posterior
}

// Fit fits any convex shape, or an exponential if asked for. The exponential is nil, beside
// a convex shape, if there is none. Neither is to be used with an error.
func Fit(p Points, exponential bool) (Shape, *Exponential, error) {
	e, err := fitExponential(p)
	if exponential {
		return e, e, err
	}
	if err != nil {
		e = nil
	}
	c, err := fitConvex(p, e) // which does without
	return c, e, err
}

var (
	// ErrUnbent is returned for an exponential that does not bend upward.
	ErrUnbent = errors.New("it does not bend upward, so that a shift means nothing")
	// ErrImmense is returned for what is beyond the range of numbers.
	ErrImmense = errors.New("too large or too small to reckon with")
)
