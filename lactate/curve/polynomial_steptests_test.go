package curve_test

import (
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate/curve"
)

// Evidence C: R 4.2.2, lm for the cubic of invented step tests, uniroot for
// the levels, optimize for the distance from the chord (testdata/README.md).
// What is a matter of package lactate, such as where a chord begins, is tested
// there.
func TestPolynomialStepTests(t *testing.T) {
	xs, ys := map[string][]float64{}, map[string][]float64{}
	_, rows := table(t, "step-tests.csv")
	for _, r := range rows {
		xs[r[0]] = append(xs[r[0]], number(t, r[2]))
		ys[r[0]] = append(ys[r[0]], number(t, r[3]))
	}
	curves := map[string]*curve.Polynomial{}
	for test := range xs {
		p := new(curve.Polynomial)
		if err := p.Fit(xs[test], ys[test]); err != nil {
			t.Fatal(err)
		}
		curves[test] = p
	}
	checked := map[string]int{}
	_, rows = table(t, "step-tests-expected.csv")
	for _, r := range rows {
		test, method := r[0], r[2]
		if r[1] != "cubic" {
			continue
		}
		p, x, y := curves[test], xs[test], ys[test]
		lo, hi := bounds(x)
		wantX, wantY := number(t, r[3]), number(t, r[4])
		var got float64
		var ok bool
		switch {
		case method == "residual_sum_of_squares":
			if !near(p.RSS(), wantY, 1e-6*wantY) {
				t.Errorf("%s: residual sum of squares: got %.7g, want %.7g", test, p.RSS(), wantY)
			}
			checked[method]++
			continue
		case strings.HasPrefix(method, "fixed_"):
			got, ok = p.Upcrossing(number(t, strings.TrimPrefix(method, "fixed_")), lo, hi)
		case strings.HasPrefix(method, "fitted_lowest_plus_"):
			_, lowest := p.Minimum(lo, hi)
			got, ok = p.Upcrossing(lowest+number(t, strings.TrimPrefix(method, "fitted_lowest_plus_")), lo, hi)
		case method == "max_distance_fitted_ends":
			got, ok = p.FarthestBelow((p.Predict(hi)-p.Predict(lo))/(hi-lo), lo, hi)
		case method == "max_distance_measured_ends":
			n := len(y)
			got, ok = p.FarthestBelow((y[n-1]-y[0])/(x[n-1]-x[0]), lo, hi)
		default:
			continue
		}
		checked[method]++
		if !ok || !near(got, wantX, 1e-6*wantX) {
			t.Errorf("%s: %s: got %.9g, %v, want %.9g", test, method, got, ok, wantX)
		}
		if v := p.Predict(got); !near(v, wantY, 1e-6*wantY) {
			t.Errorf("%s: %s: level %.7g, want %.7g", test, method, v, wantY)
		}
	}
	// A level that a test does not reach has no row.
	for _, method := range []string{"residual_sum_of_squares", "max_distance_fitted_ends"} {
		if checked[method] != len(xs) {
			t.Errorf("%s: found %d rows, want one for each of %d tests", method, checked[method], len(xs))
		}
	}
	for _, method := range []string{"fixed_2", "fixed_3", "fitted_lowest_plus_1"} {
		if checked[method] == 0 {
			t.Errorf("%s: found no row", method)
		}
	}
}

// Evidence D, constructed: y = 1 + 2·(x − 1.1) + 40·(x − 1.1)³. A chord from
// 1.1 to 1.6 has slope 12; the slope of the curve is 12 at 1.1 + √(10/120).
func TestPolynomialConstructed(t *testing.T) {
	var xs, ys []float64
	for i := range 6 {
		v := 0.1 * float64(i)
		xs = append(xs, 1.1+v)
		ys = append(ys, 1+2*v+40*v*v*v)
	}
	var p curve.Polynomial
	if err := p.Fit(xs, ys); err != nil {
		t.Fatal(err)
	}
	want := 1.1 + math.Sqrt(10.0/120)
	x, ok := p.FarthestBelow(12, 1.1, 1.6)
	if !ok || !near(x, want, 1e-13) {
		t.Errorf("FarthestBelow: got %v, %v, want %v", x, ok, want)
	}
	if gap := ys[0] + 12*(x-1.1) - p.Predict(x); !near(gap, 1.924501, 5e-7) {
		t.Errorf("distance: got %v, want 1.924501", gap)
	}
	if x, y := p.Minimum(1.1, 1.6); x != 1.1 || !near(y, 1, 1e-14) {
		t.Errorf("Minimum: got (%v, %v), want (1.1, 1)", x, y)
	}
	// 1 + 2·0.3 + 40·0.027 = 2.68
	if x, ok := p.Upcrossing(2.68, 1.1, 1.6); !ok || !near(x, 1.4, 1e-14) {
		t.Errorf("Upcrossing: got %v, %v, want 1.4", x, ok)
	}
}

// Evidence D, constructed: the exact cubic of seven invented stages, by
// rational arithmetic: 555 5/9·v³ − 2106 4/21·v² + 2660 7/9·v − …
func TestPolynomialAmbiguous(t *testing.T) {
	xs := []float64{1.20, 1.25, 1.30, 1.35, 1.40, 1.45, 1.50}
	ys := []float64{1.2, 1.1, 1.3, 1.6, 2.5, 4.6, 8.4}
	var p curve.Polynomial
	if err := p.Fit(xs, ys); err != nil {
		t.Fatal(err)
	}
	for k, want := range []float64{-1118.8738095238, 2660.7777777778, -2106.1904761905, 555.5555555556} {
		if got := p.Coefficients()[k]; !near(got, want, 1e-9) {
			t.Errorf("coefficient %d: got %.10f, want %.10f", k, got, want)
		}
	}
	// It dips from 1.24524 at 1.25 to 1.23095 at 1.3, yet is lowest at 1.2.
	if x, y := p.Minimum(1.2, 1.5); x != 1.2 || !near(y, 1.14524, 5e-6) {
		t.Errorf("Minimum: got (%v, %v), want (1.2, 1.14524)", x, y)
	}
	if x, y := p.Minimum(1.22, 1.5); !(x > 1.25 && x < 1.3 && y < 1.23095) {
		t.Errorf("Minimum: got (%v, %v), want inside, below 1.23095", x, y)
	}
	for _, c := range []struct{ level, want float64 }{{4, 1.437418}, {2, 1.379519}} {
		if x, ok := p.Upcrossing(c.level, 1.2, 1.5); !ok || !near(x, c.want, 5e-7) {
			t.Errorf("Upcrossing(%v): got %v, %v, want %v", c.level, x, ok, c.want)
		}
	}
	fitted := (p.Predict(1.5) - p.Predict(1.2)) / (1.5 - 1.2)
	for _, c := range []struct{ slope, want float64 }{{(8.4 - 1.2) / 0.3, 1.385809}, {fitted, 1.385965}} {
		if x, ok := p.FarthestBelow(c.slope, 1.2, 1.5); !ok || !near(x, c.want, 5e-7) {
			t.Errorf("FarthestBelow(%v): got %v, %v, want %v", c.slope, x, ok, c.want)
		}
	}
}

// Evidence D: y = x³ − 3x has a peak of 2 at −1, a trough of −2 at 1, and is
// 0 at −√3, 0 and √3. It is fitted by cubic and by quintic, so that both
// evaluations are seen.
func TestPolynomialCrossings(t *testing.T) {
	var xs, ys []float64
	for i := -3; i <= 3; i++ {
		x := float64(i)
		xs, ys = append(xs, x), append(ys, x*x*x-3*x)
	}
	root3 := math.Sqrt(3)
	tests := []struct {
		name          string
		level, lo, hi float64
		want          float64
		ok            bool
	}{
		{"the highest of three", 0, -3, 3, root3, true},
		{"the lowest, the others being outside", 0, -3, -0.5, -root3, true},
		{"downward only", 0, -1.5, 1.5, 0, false},
		{"level never reached", 20, -3, 3, 0, false},
		{"level always passed", -20, -3, 3, 0, false},
		{"above the level at lo", -10, -2, 3, 0, false},
		{"leaves the level at lo", 2, 2, 3, 2, true},
		{"arrives at the level at hi", 18, 0, 3, 3, true},
		{"arrives at hi, crosses earlier", 0, -3, root3, root3, true},
		{"a peak below the level", 2.5, -3, 0, 0, false},
		{"rising through a trough at lo", -2, 1, 3, 1, true},
		{"rising to a peak at hi", 2, -3, -1, -1, true},
		{"no interval", 0, 2, 2, 0, false},
		{"turned round", 0, 3, -3, 0, false},
		{"NaN level", math.NaN(), -3, 3, 0, false},
		{"NaN end", 0, math.NaN(), 3, 0, false},
		{"infinite end", 0, -3, math.Inf(1), 0, false},
	}
	for _, degree := range []int{3, 5} {
		p := curve.Polynomial{Degree: degree}
		if err := p.Fit(xs, ys); err != nil {
			t.Fatal(err)
		}
		for _, c := range tests {
			x, ok := p.Upcrossing(c.level, c.lo, c.hi)
			// At a trough or peak the crossing is a double root: half the digits.
			tol := 1e-13
			if c.lo == 1 || c.hi == -1 {
				tol = 1e-7
			}
			if ok != c.ok || !near(x, c.want, tol) {
				t.Errorf("degree %d, %s: got %v, %v, want %v, %v", degree, c.name, x, ok, c.want, c.ok)
			}
		}
		if x, y := p.Minimum(-2.5, 3); x != -2.5 || !near(y, -8.125, 1e-13) {
			t.Errorf("degree %d: Minimum: got (%v, %v), want (−2.5, −8.125)", degree, x, y)
		}
		if x, y := p.Minimum(-1.5, 3); !near(x, 1, 1e-13) || !near(y, -2, 1e-13) {
			t.Errorf("degree %d: Minimum: got (%v, %v), want (1, −2)", degree, x, y)
		}
		if x, y := p.Minimum(3, -3); !math.IsNaN(x) || !math.IsNaN(y) {
			t.Errorf("degree %d: Minimum of no interval: got (%v, %v), want NaN", degree, x, y)
		}
		// 3x² − 3 = 9 at ±2; only at 2 does the curve bend upward.
		if x, ok := p.FarthestBelow(9, -1.5, 3); !ok || !near(x, 2, 1e-13) {
			t.Errorf("degree %d: FarthestBelow: got %v, %v, want 2", degree, x, ok)
		}
		// From −3 on, slope 9 is farthest below at −3 itself: 9·(−3) + 18 < 16 is
		// false for 2, so the end loses; from −6 on it wins.
		if x, ok := p.FarthestBelow(9, -3, 3); !ok || !near(x, 2, 1e-13) {
			t.Errorf("degree %d: FarthestBelow: got %v, %v, want 2", degree, x, ok)
		}
		if x, ok := p.FarthestBelow(9, -6, 3); ok {
			t.Errorf("degree %d: FarthestBelow with an end that is farther: got %v", degree, x)
		}
		if x, ok := p.FarthestBelow(-5, -3, 3); ok && !(p.Predict(x)+5*x <= p.Predict(3)+15) {
			t.Errorf("degree %d: FarthestBelow of a slope the curve does not have: got %v", degree, x)
		}
		if _, ok := p.FarthestBelow(math.NaN(), -3, 3); ok {
			t.Errorf("degree %d: FarthestBelow of NaN: got ok", degree)
		}
	}
}
