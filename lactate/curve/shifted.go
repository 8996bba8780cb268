package curve

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/rate"
)

// Shifted is one exponential-plus-constant shape that several groups of points
// share, each moved along the x axis:
//
//	y = A + B·exp(C·(x − Shifts[g]))
//
// for a point of group g. The others are measured from group 0:
// Shifts[0] is 0. For step tests a group is a test, and a positive shift says
// that the curve has moved to the right: more intensity for the same lactate.
//
// The zero value predicts 0 everywhere. Fit overwrites the receiver and must
// not run concurrently with any other method of it. A copy shares its work space
// with the original: do not fit both at the same time.
type Shifted struct {
	A, B, C float64
	Shifts  []float64

	rss    float64
	dof    int
	search rate.Shared
}

// Fit finds the least-squares curve. groups[i] is the group of point i,
// numbered from 0 without gaps.
//
// B·exp(−C·Shifts[g]) is one more linear coefficient for each group. The fit is
// the search over C alone of [Exponential.Fit], with its promises: global optimum, no
// start values, repeated and unsorted xs, no allocation when as many points are fitted
// again.
//
// The error wraps [ErrInput], or [ErrUndetermined] if the points leave the
// rate or a shift open.
func (s *Shifted) Fit(xs, ys []float64, groups []int) error {
	s.A, s.B, s.C, s.rss, s.dof = 0, 0, 0, 0, 0
	s.Shifts = s.Shifts[:0]
	if err := checkPoints(xs, ys, nil); err != nil {
		return err
	}
	n, err := countGroups(groups, len(xs))
	if err != nil {
		return err
	}
	sol, err := s.search.Fit(xs, ys, groups, n)
	if err != nil {
		return err
	}
	rate := sol.Rate / sol.Range
	b0 := sol.Coef[0]
	b := b0 * sol.Unit * math.Exp(-rate*sol.Anchor)
	if !(math.Abs(b) >= 0x1p-1000 && math.Abs(b) <= 0x1p1000 && points.Finite(sol.Unit*sol.Level) && sayable(rate, sol.Max, sol.Range)) {
		return fmt.Errorf("curve: B·exp(C·x) with rate %g leaves the range of numbers at x = 0; shift the xs nearer to zero: %w", rate, ErrInput)
	}
	for _, bg := range sol.Coef {
		if !(math.Abs(bg)*sol.Unit <= largest) {
			return errTooLarge
		}
	}
	shifts := append(s.Shifts, 0)
	for _, bg := range sol.Coef[1:] {
		if !points.Finite(sol.Unit * bg) {
			return fmt.Errorf("curve: the ys are too large: %w", ErrInput)
		}
		if !(bg/b0 > 0) {
			return fmt.Errorf("curve: found groups that rise and groups that fall, want groups that a shift turns into one another: %w", ErrUndetermined)
		}
		shift := -math.Log(bg/b0) / rate
		if !points.Finite(sol.Max-shift) || !points.Finite(sol.Max-sol.Range-shift) || !sayable(rate, sol.Max-shift, sol.Range) {
			return fmt.Errorf("curve: found groups so different that a shift leaves the range of numbers: %w", ErrInput)
		}
		shifts = append(shifts, shift)
	}
	s.Shifts = shifts
	s.A, s.B, s.C = sol.Mean+sol.Unit*sol.Level, b, rate
	s.rss, s.dof = sol.RSS*sol.Unit*sol.Unit, len(xs)-n-2
	return nil
}

// Predict returns the curve of a group at x; NaN for a group that was not fitted.
func (s *Shifted) Predict(x float64, group int) float64 {
	if len(s.Shifts) == 0 {
		return 0
	}
	if group < 0 || group >= len(s.Shifts) {
		return math.NaN()
	}
	return s.A + s.B*math.Exp(s.C*(x-s.Shifts[group]))
}

// RSS returns the residual sum of squares of the last fit.
func (s *Shifted) RSS() float64 { return s.rss }

// DegreesOfFreedom returns the number of points of the last fit less its
// parameters: A, C and one coefficient for each group.
func (s *Shifted) DegreesOfFreedom() int { return s.dof }

func countGroups(groups []int, points int) (int, error) {
	if len(groups) != points {
		return 0, fmt.Errorf("curve: found %d groups for %d points: %w", len(groups), points, ErrInput)
	}
	n := 0
	for i, g := range groups {
		if g < 0 || g >= points {
			return 0, fmt.Errorf("curve: point %d: found group %d, want 0 to %d: %w", i+1, g, points-1, ErrInput)
		}
		n = max(n, g+1)
	}
	return n, nil
}
