package uncertain

import (
	"math"
	"math/rand/v2"

	"example.com/steptest/lactate/internal/noise"
	"gonum.org/v1/gonum/stat/distuv"
)

// Scale is the [noise.Scale] of a fit with its residuals. The
// stated noise is the prior and counts as Prior observations; the residuals add
// their own degrees of freedom. The squared scale is
//
//	(Prior + Sum) / χ²(Prior + DoF),  Sum = Σ r²/σ²
//
// The zero value knows nothing.
type Scale struct {
	Prior float64 // observations that the stated noise counts for, zero for none; +Inf takes it as certain
	Sum   float64 // of squared residuals over their stated variances
	DoF   float64 // degrees of freedom of the residuals
}

// Known reports whether there is a prior or a residual to know the scale by.
func (s Scale) Known() bool { return s.Prior+s.DoF > 0 }

// Draw returns a random scale; NaN if nothing is known of it.
func (s Scale) Draw(rng *rand.Rand) float64 {
	switch {
	case math.IsInf(s.Prior, 1):
		return 1
	case !s.Known():
		return math.NaN()
	}
	chi := distuv.ChiSquared{K: s.Prior + s.DoF, Src: rng}.Rand()
	return math.Sqrt((s.Prior + s.Sum) / chi)
}

// Mean returns the scale to use if there can be one only, and the degrees of
// freedom of Student's t that go with it.
func (s Scale) Mean() (scale, dof float64) {
	nu := s.Prior + s.DoF
	return noise.Scale{Prior: s.Prior, Nu: nu}.Times(s.Sum), nu
}
