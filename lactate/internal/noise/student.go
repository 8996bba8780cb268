package noise

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Student is Student's t of some degrees of freedom, or the normal distribution if nothing
// tells the two apart. A fit asks it hundreds of times: whole degrees of freedom, which
// nearly all fits have, are read off finite sums.
type Student struct {
	whole  int     // degrees of freedom, if they are whole and few
	top    float64 // density at zero
	normal bool
	t      distuv.StudentsT
}

// ManyDegrees is where Student's t is the normal distribution to seven digits, and where its
// quantiles and those of χ² begin to lose theirs.
const ManyDegrees = 1e7

// fewDegrees is up to where the sums are the quicker.
const fewDegrees = 64

// NewStudent returns the distribution of ν degrees of freedom, normal if ν is infinite.
func NewStudent(nu float64) Student {
	if nu >= ManyDegrees {
		return Student{normal: true}
	}
	t := distuv.StudentsT{Sigma: 1, Nu: nu}
	s := Student{t: t, top: t.Prob(0)}
	if nu >= 1 && nu <= fewDegrees && nu == math.Trunc(nu) {
		s.whole = int(nu)
	}
	return s
}

// CDF returns the probability of less than x. With θ = arctan(x/√ν) the sums are (26.7.3)
// and (26.7.4) of Abramowitz and Stegun, Handbook of mathematical functions (1964), from
// memory; far below zero they would cancel.
func (s *Student) CDF(x float64) float64 {
	if s.normal {
		return distuv.UnitNormal.CDF(x)
	}
	if s.whole == 0 || !(x > -4) {
		return s.t.CDF(x)
	}
	nu := float64(s.whole)
	cos2 := nu / (nu + x*x)
	sin := x / math.Sqrt(nu+x*x)
	term, sum := 1.0, 0.0
	if s.whole%2 == 0 {
		for k := 2; k <= s.whole; k += 2 {
			sum += term
			term *= cos2 * float64(k-1) / float64(k)
		}
		return 0.5 + sin*sum/2
	}
	for k := 3; k <= s.whole; k += 2 {
		sum += term
		term *= cos2 * float64(k-1) / float64(k)
	}
	return 0.5 + (math.Atan2(x, math.Sqrt(nu))+sin*math.Sqrt(cos2)*sum)/math.Pi
}

// Prob returns the density at x.
func (s *Student) Prob(x float64) float64 {
	if s.normal {
		return distuv.UnitNormal.Prob(x)
	}
	if s.whole == 0 {
		return s.t.Prob(x)
	}
	nu := float64(s.whole)
	return s.top * halfPower(nu/(nu+x*x), s.whole+1)
}

// halfPower returns r^(k/2).
func halfPower(r float64, k int) float64 {
	v := 1.0
	if k%2 == 1 {
		v = math.Sqrt(r)
	}
	for k /= 2; k > 0; k /= 2 {
		if k%2 == 1 {
			v *= r
		}
		r *= r
	}
	return v
}
