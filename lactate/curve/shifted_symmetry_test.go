package curve_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/steptest/lactate/curve"
)

// D: the fit of the mirror image is the mirror image of the fit, along either
// axis; and whichever group comes first, the distances between the groups are
// the same.
func TestShiftedMirror(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	fitted := 0
	for i := range 150 {
		xs, ys := cloud(rng, i%2)
		x2, y2 := cloud(rng, i%2)
		shift := 0.2 * rng.NormFloat64()
		groups := make([]int, len(xs)+len(x2))
		other := make([]int, len(groups))
		for k := range groups {
			groups[k] = min(1, k/len(xs))
			other[k] = 1 - groups[k]
		}
		xs = append(xs, mapped(x2, func(x float64) float64 { return x + shift })...)
		ys = append(ys, y2...)
		minus := func(v float64) float64 { return -v }
		var s, m, u, o curve.Shifted
		err := s.Fit(xs, ys, groups)
		err2 := m.Fit(mapped(xs, minus), ys, groups)
		err3 := u.Fit(xs, mapped(ys, minus), groups)
		err4 := o.Fit(xs, ys, other)
		if (err == nil) != (err2 == nil) || (err == nil) != (err3 == nil) || (err == nil) != (err4 == nil) {
			t.Errorf("%v: %v, mirrored %v, upside down %v, exchanged %v", i, err, err2, err3, err4)
			continue
		}
		if err != nil {
			continue
		}
		fitted++
		sum := 0.0
		for k, x := range xs {
			r := ys[k] - s.Predict(x, groups[k])
			sum += r * r
		}
		agree(t, "RSS of the residuals", s.RSS(), sum, 1e-11)
		agree(t, "RSS mirrored", m.RSS(), s.RSS(), 1e-11)
		agree(t, "RSS upside down", u.RSS(), s.RSS(), 1e-11)
		agree(t, "RSS exchanged", o.RSS(), s.RSS(), 1e-11)
		agree(t, fmt.Sprint(i, ": shift mirrored"), -m.Shifts[1], s.Shifts[1], 2e-5)
		agree(t, fmt.Sprint(i, ": shift upside down"), u.Shifts[1], s.Shifts[1], 2e-5)
		agree(t, fmt.Sprint(i, ": shift exchanged"), -o.Shifts[1], s.Shifts[1], 2e-5)
		// No other rate nearby is better, with the linear coefficients at
		// their best: the normal equations of A, B₀, B₁ by hand.
		for _, f := range []float64{0.8, 0.95, 0.999, 1.001, 1.05, 1.25} {
			if rss := atRate(xs, ys, groups, s.C*f); !(s.RSS() <= rss*(1+1e-9)) {
				t.Errorf("%d: rate %v leaves %v, %v leaves %v", i, s.C, s.RSS(), s.C*f, rss)
			}
		}
	}
	if fitted < 100 {
		t.Errorf("%d fitted", fitted)
	}
}

// atRate is the residual sum of squares of y = A + B_g·exp(c·x).
func atRate(xs, ys []float64, groups []int, c float64) float64 {
	basis := make([]func(float64) float64, 0, 3)
	basis = append(basis, constant)
	which := map[float64]int{}
	for i, x := range xs {
		which[x] = groups[i]
	}
	for g := range 2 {
		basis = append(basis, func(x float64) float64 {
			if which[x] != g {
				return 0
			}
			return math.Exp(c * (x - 0.5))
		})
	}
	return leastSquares(xs, ys, basis...)
}

// What leaves rate or shift open, or cannot be fitted, and how it is said.
func TestShiftedRefuses(t *testing.T) {
	six := []float64{1, 2, 3, 1, 2, 3}
	two := []int{0, 0, 0, 1, 1, 1}
	for _, c := range []struct {
		name   string
		xs, ys []float64
		groups []int
		is     error
	}{
		{"groups missing", six, six, []int{0, 0, 1}, curve.ErrInput},
		{"a negative group", six, six, []int{0, 0, 0, -1, 1, 1}, curve.ErrInput},
		{"a group too many", six, six, []int{0, 0, 0, 1, 1, 6}, curve.ErrInput},
		{"a gap in the groups", six, six, []int{0, 0, 0, 2, 2, 2}, curve.ErrInput},
		{"three points in two groups", []float64{1, 2, 3}, []float64{1, 2, 4}, []int{0, 0, 1}, curve.ErrUndetermined},
		{"level", six, []float64{2, 2, 2, 2, 2, 2}, two, curve.ErrUndetermined},
		{"parallel lines", six, []float64{1, 2, 3, 1.5, 2.5, 3.5}, two, curve.ErrUndetermined},
		{"one rises, one falls", six, []float64{1, 2, 4, 4, 2, 1}, two, curve.ErrUndetermined},
		{"spike", []float64{1, 2, 3, 4, 1, 2, 3, 4}, []float64{1, 1, 1, 9, 1, 1, 1, 5}, []int{0, 0, 0, 0, 1, 1, 1, 1}, curve.ErrUndetermined},
		{"NaN", []float64{1, 2, math.NaN(), 1, 2, 3}, six, two, curve.ErrInput},
		{"B leaves the numbers", []float64{1e6, 1e6 + 1, 1e6 + 2, 1e6, 1e6 + 1, 1e6 + 2}, []float64{1, 2, 4.1, 1.5, 2.9, 6}, two, curve.ErrInput},
	} {
		s := curve.Shifted{A: 1, B: 2, C: 3}
		if err := s.Fit(c.xs, c.ys, c.groups); !errors.Is(err, c.is) {
			t.Errorf("%s: got %v, want %v", c.name, err, c.is)
		}
		if s.A != 0 || s.B != 0 || s.C != 0 || len(s.Shifts) != 0 || s.RSS() != 0 || s.DegreesOfFreedom() != 0 || s.Predict(2, 0) != 0 {
			t.Errorf("%s: the curve is %v", c.name, s.A)
		}
	}
	// Four points in two groups are enough: 2^x and twice that, which is a
	// shift of −1.
	var s curve.Shifted
	succeeds(t, s.Fit([]float64{1, 2, 3, 1}, []float64{2, 4, 8, 4}, []int{0, 0, 0, 1}))
	agree(t, "rate", s.C, math.Ln2, 1e-9)
	agree(t, "shift", s.Shifts[1], -1, 1e-9)
	agree(t, "A", s.A, 0, 1e-9)
	agree(t, "B", s.B, 1, 1e-9)
}
