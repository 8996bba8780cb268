package uncertain

import (
	"example.com/steptest/lactate/internal/noise"
	"gonum.org/v1/gonum/stat/distuv"
)

// Distribution is symmetric about zero.
type Distribution interface {
	Quantile(p float64) float64
	CDF(x float64) float64
}

// Student returns Student's t, or the normal distribution if dof is so large that
// nothing tells the two apart. [noise.Student] is quicker, for fits, and has no quantiles.
func Student(dof float64) Distribution {
	if dof >= noise.ManyDegrees {
		return distuv.UnitNormal
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: dof}
}

// HalfWidth returns half the width of a two-sided interval in standard errors: the
// quantile of Student's t at (1 + confidence)/2.
func HalfWidth(dof, confidence float64) float64 {
	return Student(dof).Quantile(1 - (1-confidence)/2)
}

// Satterthwaite returns the degrees of freedom of the sum of two variances, of
// which the first is measured with dof, and the second is stated and has no end of
// them: dof·((V + D)/V)², after Satterthwaite (1946), Biometrics Bulletin
// 2:110–114 (from memory).
func Satterthwaite(measured, stated, dof float64) float64 {
	share := measured / (measured + stated)
	return dof / (share * share)
}
