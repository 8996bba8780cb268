package between

import (
	"sort"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
)

// The answers that are followed from day to day: the place of an average day, and LT2.
const (
	shiftAnswer = iota
	lt2Answer
	answers
)

// answer is one linear function of the state at the end of a day, by the filter, and what
// the smoother needs to go on from there.
type answer struct {
	mean, variance float64
	with           []float64 // covariance with all unknowns
	// With r and N of the begin of the next day: with·r, r[0], withᵀN with, (N with)[0], N[0,0].
	r, r0, n, n1, n0 float64
}

// later returns mean and variance some drift later, before the next day.
func (a *answer) later(drift float64) (mean, variance float64) {
	return a.mean + a.r + drift*a.r0, a.variance + drift - (a.n + 2*drift*a.n1 + drift*drift*a.n0)
}

// keep notes what the smoother says at the end of a day.
func (a *answer) keep(b *backward) {
	blas64.Gemv(blas.NoTrans, 1, square(b.n, b.dim), vector(a.with), 0, vector(b.work))
	a.r, a.r0 = floats.Dot(a.with, b.r), b.r[average]
	a.n, a.n1, a.n0 = floats.Dot(a.with, b.work), b.work[average], b.row(average)[average]
}

// functional returns the weights of an answer.
func (r *run) functional(k int) []term {
	f := []term{{average, 1}}
	if k == lt2Answer {
		for j, c := range r.shape.lt2by {
			f = append(f, term{constants + len(r.shape.shifts) + j, c})
		}
	}
	return f
}

// answer returns an answer on a day.
func (r *run) answer(k, number int) (mean, variance float64) {
	i := sort.Search(len(r.days), func(i int) bool { return r.days[i].number > number }) - 1
	if i < 0 {
		mean, variance = r.days[0].end[k].later(0)
		return mean, variance + r.drift(r.days[0].number-number)
	}
	return r.days[i].end[k].later(r.drift(number - r.days[i].number))
}
