package curve_test

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"example.com/steptest/lactate/curve"
)

// Eight invented points that every curve of this package can be fitted to.
var (
	eightXs = []float64{1, 2, 3, 4, 5, 6, 7, 8}
	eightYs = []float64{1.2, 1.1, 1.3, 1.4, 2.2, 2.9, 5, 7.8}
)

func with(s []float64, i int, v float64) []float64 {
	s = slices.Clone(s)
	s[i] = v
	return s
}

func TestRegressionErrors(t *testing.T) {
	ones := []float64{1, 1, 1, 1, 1, 1, 1, 1}
	line := []float64{1, 3, 5, 7, 9, 11, 13, 15}
	tests := []struct {
		name       string
		xs, ys, ws []float64
		want       error
		says       string
		only       string // a single curve; empty for all
	}{
		{"no points", nil, nil, nil, curve.ErrUndetermined, "0 different xs", ""},
		{"more xs", eightXs, eightYs[:7], nil, curve.ErrInput, "8 xs and 7 ys", ""},
		{"more ys", eightXs[:7], eightYs, nil, curve.ErrInput, "7 xs and 8 ys", ""},
		{"fewer weights", eightXs, eightYs, ones[:3], curve.ErrInput, "3 weights for 8 points", ""},
		{"NaN x", with(eightXs, 2, math.NaN()), eightYs, nil, curve.ErrInput, "point 3", ""},
		{"infinite x", with(eightXs, 2, math.Inf(1)), eightYs, nil, curve.ErrInput, "point 3", ""},
		{"NaN y", eightXs, with(eightYs, 0, math.NaN()), nil, curve.ErrInput, "point 1", ""},
		{"infinite y", eightXs, with(eightYs, 7, math.Inf(-1)), nil, curve.ErrInput, "point 8", ""},
		{"zero weight", eightXs, eightYs, with(ones, 4, 0), curve.ErrInput, "weight 5", ""},
		{"negative weight", eightXs, eightYs, with(ones, 4, -1), curve.ErrInput, "weight 5", ""},
		{"NaN weight", eightXs, eightYs, with(ones, 4, math.NaN()), curve.ErrInput, "weight 5", ""},
		{"infinite weight", eightXs, eightYs, with(ones, 4, math.Inf(1)), curve.ErrInput, "weight 5", ""},
		{"one x", ones, eightYs, nil, curve.ErrUndetermined, "found 1 different xs", ""},
		{"three xs", []float64{1, 2, 3, 1, 2, 3}, eightYs[:6], nil, curve.ErrUndetermined, "found 3 different xs", "cubic"},
		{"five xs", []float64{1, 2, 3, 4, 5, 3}, eightYs[:6], nil, curve.ErrUndetermined, "found 5 different xs", "quintic"},
		{"three xs", []float64{1, 2, 3, 1, 2, 3}, eightYs[:6], nil, curve.ErrUndetermined, "found 3 different xs", "broken line"},
		{"five xs", []float64{1, 2, 3, 4, 5, 3}, eightYs[:6], nil, curve.ErrUndetermined, "found 5 different xs", "three lines"},
		{"all ys equal", eightXs, ones, nil, curve.ErrUndetermined, "one straight line", "broken line"},
		{"straight line", eightXs, line, nil, curve.ErrUndetermined, "one straight line", "broken line"},
		{"straight line", eightXs, line, nil, curve.ErrUndetermined, "two straight lines", "three lines"},
		{"two lines", eightXs, []float64{1, 2, 3, 4, 6, 8, 10, 12}, nil, curve.ErrUndetermined, "two straight lines", "three lines"},
	}
	for _, c := range tests {
		for _, r := range regressions {
			if c.only != "" && c.only != r.name {
				continue
			}
			t.Run(c.name+"/"+r.name, func(t *testing.T) {
				f := r.make()
				succeeds(t, f.Fit(eightXs, eightYs))
				err := f.FitWeighted(c.xs, c.ys, c.ws)
				if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.says) || !strings.HasPrefix(err.Error(), "curve: ") {
					t.Errorf("got %v, want %v that says %q", err, c.want, c.says)
				}
				// Nothing of the fit before is left.
				if f.RSS() != 0 || f.DegreesOfFreedom() != 0 || f.Predict(3) == f.Predict(3) && f.Predict(3) != 0 {
					t.Errorf("after the error: RSS %v, degrees of freedom %v, Predict(3) %v", f.RSS(), f.DegreesOfFreedom(), f.Predict(3))
				}
			})
		}
	}
}

func TestPolynomialDegree(t *testing.T) {
	for _, degree := range []int{-1, 31, math.MaxInt} {
		p := curve.Polynomial{Degree: degree}
		err := p.Fit(eightXs, eightYs)
		if !errors.Is(err, curve.ErrInput) || !strings.Contains(err.Error(), strconv.Itoa(degree)) || !strings.Contains(err.Error(), "1 to 30") {
			t.Errorf("degree %d: got %v, want ErrInput that says 1 to 30", degree, err)
		}
	}
	// Evidence D: the degree can change from fit to fit, and a cubic through
	// points of a cubic has no higher powers.
	var ys []float64
	for _, x := range eightXs {
		ys = append(ys, 2-x+x*x*x)
	}
	var p curve.Polynomial
	for _, degree := range []int{0, 6, 4, 1, 2, 7, 3} {
		p.Degree = degree
		succeeds(t, p.Fit(eightXs, ys))
		want := max(degree, 3*(1-min(degree, 1)))
		b := p.Coefficients()
		if len(b) != want+1 {
			t.Fatalf("degree %d: got %d coefficients", degree, len(b))
		}
		if want < 3 {
			continue
		}
		for k, w := range []float64{2, -1, 0, 1, 0, 0, 0, 0}[:len(b)] {
			if !near(b[k], w, 1e-11) {
				t.Errorf("degree %d: coefficient %d: got %v, want %v", degree, k, b[k], w)
			}
		}
	}
	// Changing the field does not change the fit.
	before := p.Predict(2.5)
	p.Degree = 9
	if got := p.Predict(2.5); got != before {
		t.Errorf("got %v after the field changed, want %v", got, before)
	}
}

func TestPolynomialUnfitted(t *testing.T) {
	var p curve.Polynomial
	if !math.IsNaN(p.Predict(1)) || !math.IsNaN(p.PredictDerivative(1)) || p.Coefficients() != nil {
		t.Error("an unfitted polynomial has values")
	}
	if _, ok := p.Upcrossing(0, 0, 1); ok {
		t.Error("an unfitted polynomial has a crossing")
	}
	if _, ok := p.FarthestBelow(0, 0, 1); ok {
		t.Error("an unfitted polynomial has a farthest point")
	}
	if x, y := p.Minimum(0, 1); !math.IsNaN(x) || !math.IsNaN(y) {
		t.Error("an unfitted polynomial has a minimum")
	}
}

// Evidence D: the literal is the curve, and the side at a join is the left
// one.
func TestLinesByHand(t *testing.T) {
	b := curve.BrokenLine{Join: 2, Level: 5, Left: 1, Right: 3}
	for _, c := range []struct{ x, y, slope float64 }{{0, 3, 1}, {2, 5, 1}, {math.Nextafter(2, 3), 5, 3}, {4, 11, 3}} {
		if y, s := b.Predict(c.x), b.PredictDerivative(c.x); !near(y, c.y, 1e-14) || s != c.slope {
			t.Errorf("broken line at %v: got %v and %v, want %v and %v", c.x, y, s, c.y, c.slope)
		}
	}
	l := curve.ThreeLine{Lower: 2, Upper: 4, Level: 5, Left: 1, Middle: 3, Right: -2}
	for _, c := range []struct{ x, y, slope float64 }{{0, 3, 1}, {2, 5, 1}, {3, 8, 3}, {4, 11, 3}, {math.Nextafter(4, 5), 11, -2}, {6, 7, -2}} {
		if y, s := l.Predict(c.x), l.PredictDerivative(c.x); !near(y, c.y, 1e-14) || s != c.slope {
			t.Errorf("three lines at %v: got %v and %v, want %v and %v", c.x, y, s, c.y, c.slope)
		}
	}
}

// Sizes at the ends of the range of numbers give a fit of finite numbers, or
// an error.
func TestRegressionExtremes(t *testing.T) {
	sizes := []float64{1e-320, 1e-300, 1e-200, 1e-100, 1, 1e100, 1e200, 1e300, 2.2e307}
	for _, r := range regressions {
		fits := 0
		for _, kx := range sizes {
			for _, ky := range sizes {
				for _, shift := range []float64{0, 1, -5} {
					var xs, ys, ws []float64
					for i := range eightXs {
						xs = append(xs, kx*(eightXs[i]+shift))
						ys = append(ys, ky*(eightYs[i]+shift))
						ws = append(ws, []float64{1e-300, 1, 1e300}[i%3])
					}
					for _, w := range [][]float64{nil, ws} {
						f := r.make()
						if err := f.FitWeighted(xs, ys, w); err != nil {
							if !errors.Is(err, curve.ErrInput) && !errors.Is(err, curve.ErrUndetermined) {
								t.Errorf("%s: x·%v y·%v: unexpected error %v", r.name, kx, ky, err)
							}
							continue
						}
						if w == nil {
							fits++
						}
						assertFinite(t, f, xs)
					}
				}
			}
		}
		if fits < 50 {
			t.Errorf("%s: only %d unweighted fits of %d", r.name, fits, 3*len(sizes)*len(sizes))
		}
		t.Logf("%s: %d fits", r.name, fits)
	}
}

// assertFinite fails if a fit has a number that is not finite.
func assertFinite(t *testing.T, f regression, xs []float64) {
	t.Helper()
	finite := func(what string, v float64) {
		t.Helper()
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("%T of %v: %s is %v", f, xs, what, v)
		}
	}
	finite("RSS", f.RSS())
	for _, x := range xs {
		finite("Predict", f.Predict(x))
	}
	switch f := f.(type) {
	case *curve.Polynomial:
		for _, b := range f.Coefficients() {
			finite("coefficient", b)
		}
		lo, hi := bounds(xs)
		x, ok := f.Upcrossing(f.Predict((lo+hi)/2), lo, hi)
		finite("Upcrossing", x)
		if ok && !(x >= lo && x <= hi) {
			t.Errorf("Upcrossing at %v, outside %v to %v", x, lo, hi)
		}
		x, _ = f.FarthestBelow(f.PredictDerivative(lo), lo, hi)
		finite("FarthestBelow", x)
		x, y := f.Minimum(lo, hi)
		finite("Minimum", x)
		finite("Minimum", y)
	case *curve.BrokenLine:
		for _, v := range []float64{f.Join, f.Level, f.Left, f.Right} {
			finite("parameter", v)
		}
	case *curve.ThreeLine:
		for _, v := range []float64{f.Lower, f.Upper, f.Level, f.Left, f.Middle, f.Right} {
			finite("parameter", v)
		}
	}
}

// Inputs are neither kept nor changed.
func TestRegressionInputs(t *testing.T) {
	for _, r := range regressions {
		xs := []float64{8, 1, 7, 2, 6, 3, 5, 4}
		ys := slices.Clone(eightYs)
		ws := []float64{1, 2, 3, 4, 5, 6, 7, 8}
		x0, y0, w0 := slices.Clone(xs), slices.Clone(ys), slices.Clone(ws)
		f := r.make()
		succeeds(t, f.FitWeighted(xs, ys, ws))
		if !slices.Equal(xs, x0) || !slices.Equal(ys, y0) || !slices.Equal(ws, w0) {
			t.Errorf("%s: the input was changed", r.name)
		}
		want := f.Predict(3.3)
		clear(xs)
		clear(ys)
		clear(ws)
		if got := f.Predict(3.3); got != want {
			t.Errorf("%s: the input was kept", r.name)
		}
	}
}

// A fitted curve may be read by many at once (for the race detector).
func TestRegressionConcurrent(t *testing.T) {
	for _, r := range regressions {
		f := r.make()
		succeeds(t, f.Fit(eightXs, eightYs))
		want := f.Predict(4.5)
		var wg sync.WaitGroup
		for range 4 {
			wg.Add(1)
			go func() {
				defer wg.Done()
				assertFinite(t, f, eightXs)
				if got := f.Predict(4.5); got != want {
					t.Errorf("%s: got %v, want %v", r.name, got, want)
				}
			}()
		}
		wg.Wait()
	}
}

// Refits do not allocate, nor do the searches on the curve.
func TestRegressionAllocs(t *testing.T) {
	ws := []float64{1, 2, 3, 4, 5, 6, 7, 8}
	for _, r := range regressions {
		f := r.make()
		succeeds(t, f.Fit(eightXs, eightYs))
		n := testing.AllocsPerRun(100, func() {
			if f.Fit(eightXs, eightYs) != nil || f.Fit(eightXs[:7], eightYs[:7]) != nil || f.FitWeighted(eightXs, eightYs, ws) != nil {
				t.Error("no fit")
			}
			f.Predict(3)
			f.PredictDerivative(3)
			if p, ok := f.(*curve.Polynomial); ok {
				p.Upcrossing(3, 1, 8)
				p.FarthestBelow(1, 1, 8)
				p.Minimum(1, 8)
			}
		})
		if n != 0 {
			t.Errorf("%s: %v allocations, want 0", r.name, n)
		}
	}
}
