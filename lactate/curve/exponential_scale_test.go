package curve_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate/curve"
)

// D: powers of two in the units of x and y round nothing: A, B and C come out in
// those units, from the smallest to the largest numbers that B·exp(C·x) leaves
// room for, and so do shifts.
func TestExponentialUnits(t *testing.T) {
	xs := []float64{-0.5, -0.375, -0.25, 0, 0.125, 0.375, 0.5}
	ys := []float64{1.25, 1.375, 1.25, 1.75, 2.5, 5.25, 9.125}
	groups := []int{0, 1, 0, 1, 0, 1, 0}
	var e curve.Exponential
	var s curve.Shifted
	succeeds(t, errors.Join(e.Fit(xs, ys), s.Fit(xs, ys, groups)))
	for _, ky := range []int{-900, -600, -120, -99, -60, -3, 0, 3, 60, 99, 120, 450} {
		for _, kx := range []int{-900, -500, -40, 0, 40, 500, 900} {
			scaledX := mapped(xs, func(v float64) float64 { return math.Ldexp(v, kx) })
			scaledY := mapped(ys, func(v float64) float64 { return math.Ldexp(v, ky) })
			var f curve.Exponential
			var g curve.Shifted
			what := fmt.Sprintf("2^%d, 2^%d", kx, ky)
			if err := errors.Join(f.Fit(scaledX, scaledY), g.Fit(scaledX, scaledY, groups)); err != nil {
				t.Errorf("%s: %v", what, err)
				continue
			}
			agree(t, what+": A", math.Ldexp(f.A, -ky), e.A, 1e-9)
			agree(t, what+": B", math.Ldexp(f.B, -ky), e.B, 1e-9)
			agree(t, what+": C", math.Ldexp(f.C, kx), e.C, 1e-9)
			agree(t, what+": A of both", math.Ldexp(g.A, -ky), s.A, 1e-9)
			agree(t, what+": C of both", math.Ldexp(g.C, kx), s.C, 1e-9)
			agree(t, what+": shift", math.Ldexp(g.Shifts[1], -kx), s.Shifts[1], 1e-9)
		}
	}
	// Residuals that cannot be squared are refused.
	if err := e.Fit(xs, mapped(ys, func(v float64) float64 { return math.Ldexp(v, 600) })); !errors.Is(err, curve.ErrInput) {
		t.Errorf("ys of 2^600: %v", err)
	}
	// The unit of the weights does not matter either.
	ws := []float64{1, 2, 1, 1, 3, 1, 1}
	succeeds(t, e.FitWeighted(xs, ys, ws))
	for _, k := range []int{-400, -1, 1, 400} {
		var f curve.Exponential
		if err := f.FitWeighted(xs, ys, mapped(ws, func(v float64) float64 { return math.Ldexp(v, k) })); err != nil {
			t.Errorf("weights times 2^%d: %v", k, err)
			continue
		}
		agree(t, "A", f.A, e.A, 1e-12)
		agree(t, "C", f.C, e.C, 1e-12)
		agree(t, "RSS", math.Ldexp(f.RSS(), -k), e.RSS(), 1e-9)
	}
}

// D: a rise that is small beside the level, and a bend that is small beside the
// slope, are found as long as the digits hold them.
func TestExponentialFaint(t *testing.T) {
	for _, c := range []struct{ level, rise, rate, tol float64 }{
		{5, 1e-6, 3, 1e-6}, {5, 1e-9, -3, 1e-3}, {-100, 1e-4, 6, 1e-6},
		{0, 1, 0.3, 1e-9}, {0, 1, 0.01, 1e-7}, {0, 1, -0.003, 1e-6}, {0, 1, 1e-4, 1e-3},
	} {
		var xs, ys []float64
		for i := range 9 {
			x := float64(i) / 8
			xs, ys = append(xs, x), append(ys, c.level+c.rise*math.Expm1(c.rate*x)/math.Expm1(math.Abs(c.rate)))
		}
		var e curve.Exponential
		if err := e.Fit(xs, ys); err != nil {
			t.Errorf("%+v: %v", c, err)
			continue
		}
		if !(math.Abs(e.C/c.rate-1) <= c.tol) {
			t.Errorf("%+v: rate %v", c, e.C)
		}
	}
	// Two groups: not below a scaled rate of 0.02, which is said.
	for rate, ok := range map[float64]bool{0.5: true, 0.05: true, 0.03: true, -0.03: true, 0.01: false, -0.01: false} {
		var xs, ys []float64
		var groups []int
		for i := range 16 {
			x := float64(i/2) / 7
			g := i % 2
			xs, groups = append(xs, x), append(groups, g)
			ys = append(ys, math.Expm1(rate*x)/rate*(1+0.25*float64(g))+0.25*float64(g)/rate)
		}
		var s curve.Shifted
		err := s.Fit(xs, ys, groups)
		if ok && (err != nil || !(math.Abs(s.C/rate-1) <= 1e-3)) {
			t.Errorf("scaled rate %v: %v, %v", rate, s.C, err)
		}
		if !ok && !errors.Is(err, curve.ErrUndetermined) {
			t.Errorf("scaled rate %v: %v, %v", rate, s.C, err)
		}
	}
}

// The words of the errors count from 1 and name what was found.
func TestFaultsInWords(t *testing.T) {
	xs, ys := []float64{1, 2, math.NaN(), 4, 5, 6, 7, 8}, []float64{1, 2, 3, math.Inf(1), 5, 6, 7, 9}
	ws := []float64{1, 1, 1, 1, 0, 1, -1, 1}
	for _, r := range []regression{&curve.Exponential{}, &curve.Polynomial{}, &curve.BrokenLine{}, &curve.ThreeLine{}} {
		err := r.FitWeighted(xs, ys, ws)
		for _, want := range []string{"point 3: found (NaN, 3)", "point 4: found (4, +Inf)", "weight 5: found 0", "weight 7: found -1"} {
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("%T: %v does not say %q", r, err, want)
			}
		}
		if err != nil && strings.Count(err.Error(), "found") != 4 {
			t.Errorf("%T: %v", r, err)
		}
	}
	var s curve.Shifted
	for _, c := range []struct {
		groups []int
		want   string
	}{
		{[]int{0, 0, 0, 6, 0, 0}, "point 4: found group 6, want 0 to 5"},
		{[]int{0, 0, -1, 1, 0, 0}, "point 3: found group -1"},
		{[]int{0, 0, 2, 2, 0, 0}, "no point of group 1"},
	} {
		err := s.Fit([]float64{1, 2, 3, 1, 2, 3}[:len(c.groups)], []float64{1, 2, 3, 4, 5, 7}, c.groups)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v does not say %q", c.groups, err, c.want)
		}
	}
	if err := s.Fit([]float64{1, 2, 3, 4}, []float64{1, 2, 4, 8}, []int{0, 1, 2, 2}); err == nil || !strings.Contains(err.Error(), "found 4 points in 3 groups, want at least 5") {
		t.Error(err)
	}
}
