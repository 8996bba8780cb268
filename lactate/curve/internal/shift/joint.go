package shift

import (
	"math"
	"sort"

	"example.com/steptest/lactate/curve/internal/points"
	"gonum.org/v1/gonum/mat"
)

// A Joint is the posterior of the shifts of groups 1, 2, … against group 0.
type Joint struct {
	post []Posterior // of each of them
	open []bool      // of each of them: below, above
	// With more than two groups, a sample of all shifts together.
	cov    *mat.SymDense
	shifts []float64 // [draw*(groups−1)+group−1]
	cumul  []float64 // of the weights of the draws
}

// Groups returns the number of groups, group 0 among them.
func (j *Joint) Groups() int { return len(j.post) + 1 }

// Of returns the posterior of the shift of a group from 1 on.
func (j *Joint) Of(group int) Posterior { return j.post[group-1] }

// Open reports whether that posterior is cut off by its prior.
func (j *Joint) Open(group int) (below, above bool) {
	return j.open[2*group-2], j.open[2*group-1]
}

// Covariance writes the covariance of the shifts to dst, of as many rows.
func (j *Joint) Covariance(dst *mat.SymDense) {
	if len(j.post) == 1 {
		dst.SetSym(0, 0, j.post[0].own*j.post[0].own)
		return
	}
	dst.CopySym(j.cov)
}

// Draw writes one draw of the shifts to dst; at, from 0 to 1, chooses it.
func (j *Joint) Draw(dst []float64, at float64) {
	n := len(j.post)
	if n == 1 {
		dst[0] = j.post[0].Quantile(at)
		return
	}
	i := min(sort.SearchFloat64s(j.cumul, at), len(j.cumul)-1)
	copy(dst, j.shifts[i*n:])
}

// Sum returns the posterior of a weighted sum of the shifts, one weight each: the zero
// value unless the weights are finite and not all zero.
func (j *Joint) Sum(weights []float64) Posterior {
	n := len(weights)
	only, used := 0, 0
	for k, w := range weights {
		if !points.Finite(w) {
			return Posterior{}
		}
		if w != 0 {
			only = k
			used++
		}
	}
	switch used {
	case 0:
		return Posterior{}
	case 1:
		return j.post[only].times(weights[only])
	}
	values, share := make([]float64, len(j.cumul)), make([]float64, len(j.cumul))
	mean, squares, before := 0.0, 0.0, 0.0
	for i, upTo := range j.cumul {
		for k, w := range weights {
			values[i] += w * j.shifts[i*n+k]
		}
		share[i] = upTo - before
		before = upTo
		mean += share[i] * values[i]
		squares += share[i] * share[i]
	}
	variance := 0.0
	for i, v := range values {
		variance += share[i] * (v - mean) * (v - mean)
	}
	var p Posterior
	p.smooth(values, 1, share, mean, math.Sqrt(variance), 1/squares)
	return p
}
