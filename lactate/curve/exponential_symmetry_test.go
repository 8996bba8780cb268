package curve_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/steptest/lactate/curve"
)

// cloud draws points of one of four kinds: a curve that bends upward, one that
// bends downward, either with noise, and anything at all.
func cloud(rng *rand.Rand, kind int) (xs, ys []float64) {
	n := 5 + rng.IntN(7)
	rate := 1 + 9*rng.Float64()
	if kind%2 == 1 {
		rate = -rate
	}
	for i := range n {
		x := (float64(i) + 0.7*rng.Float64()) / float64(n)
		y := 1 + 3*math.Exp(rate*x)/(1+math.Exp(rate)) + 0.05*rng.NormFloat64()
		if kind > 2 {
			y = rng.NormFloat64()
		}
		xs, ys = append(xs, x), append(ys, y)
	}
	return xs, ys
}

func mapped(vs []float64, f func(float64) float64) []float64 {
	out := make([]float64, len(vs))
	for i, v := range vs {
		out[i] = f(v)
	}
	return out
}

func agree(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*max(1, math.Abs(want))) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// D: the fit of the mirror image is the mirror image of the fit, along either
// axis and with weights: rising and falling rates are treated alike.
func TestExponentialMirror(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	fitted := 0
	for i := range 200 {
		xs, ys := cloud(rng, i%4)
		var ws []float64
		if i%3 == 0 {
			ws = mapped(xs, func(float64) float64 { return 0.2 + rng.Float64() })
		}
		var e, m, u curve.Exponential
		err := e.FitWeighted(xs, ys, ws)
		minus := func(v float64) float64 { return -v }
		err2 := m.FitWeighted(mapped(xs, minus), ys, ws)
		err3 := u.FitWeighted(xs, mapped(ys, minus), ws)
		if (err == nil) != (err2 == nil) || (err == nil) != (err3 == nil) {
			t.Errorf("%v: %v, mirrored %v, upside down %v", i, err, err2, err3)
			continue
		}
		if err != nil {
			continue
		}
		fitted++
		agree(t, "RSS mirrored", m.RSS(), e.RSS(), 1e-11)
		agree(t, "RSS upside down", u.RSS(), e.RSS(), 1e-11)
		for _, x := range xs {
			agree(t, fmt.Sprint(i, " mirrored"), m.Predict(-x), e.Predict(x), 1e-6)
			agree(t, fmt.Sprint(i, " upside down"), -u.Predict(x), e.Predict(x), 1e-6)
		}
	}
	if fitted < 120 {
		t.Errorf("%d fitted", fitted)
	}
}

// D: a point of weight 3 is three points, and the residual sum of squares is
// that of the weighted residuals; a fit with weights does not remember one
// without, nor the other way round.
func TestExponentialWeights(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	var reused curve.Exponential
	for i := range 60 {
		xs, ys := cloud(rng, i%2)
		var ws, xr, yr []float64
		for k := range xs {
			w := 1 + rng.IntN(3)
			ws = append(ws, float64(w))
			for range w {
				xr, yr = append(xr, xs[k]), append(yr, ys[k])
			}
		}
		var weighted, repeated, plain curve.Exponential
		if err := weighted.FitWeighted(xs, ys, ws); err != nil {
			continue
		}
		succeeds(t, repeated.Fit(xr, yr))
		sum := 0.0
		for k, x := range xs {
			r := ys[k] - weighted.Predict(x)
			sum += ws[k] * r * r
			agree(t, "repeated", repeated.Predict(x), weighted.Predict(x), 1e-7)
		}
		agree(t, "RSS repeated", repeated.RSS(), weighted.RSS(), 1e-11)
		agree(t, "RSS of the residuals", sum, weighted.RSS(), 1e-11)
		if got := weighted.DegreesOfFreedom(); got != len(xs)-3 {
			t.Errorf("%d degrees of freedom of %d points", got, len(xs))
		}
		if plain.Fit(xs, ys) != nil {
			continue
		}
		// The same curve, fitted again and again to the same xs.
		for range 2 {
			if err := reused.Fit(xs, ys); err != nil || reused.A != plain.A || reused.B != plain.B || reused.C != plain.C {
				t.Errorf("%d: refit %v %v %v (%v), want %v %v %v", i, reused.A, reused.B, reused.C, err, plain.A, plain.B, plain.C)
			}
			if err := reused.FitWeighted(xs, ys, ws); err != nil || reused.A != weighted.A || reused.C != weighted.C {
				t.Errorf("%d: refit with weights %v %v (%v), want %v %v", i, reused.A, reused.C, err, weighted.A, weighted.C)
			}
		}
	}
}

// D: known curves come back however near the end point its neighbour lies, up
// to where it sees no more of the rise, and however flat they are.
func TestExponentialSteepEnds(t *testing.T) {
	for _, gap := range []float64{0.3, 0.05, 1e-3, 1e-5} {
		for _, seen := range []float64{0.05, 0.5, 2, 7} { // rate times gap
			rate := seen / gap
			if rate < 0.05 {
				continue
			}
			for _, sign := range []float64{1, -1} {
				var xs, ys []float64
				for _, x := range []float64{0, 0.21, 0.46, 0.7, 1 - 2.3*gap, 1 - gap, 1} {
					x *= sign
					xs, ys = append(xs, x), append(ys, 1.5+4*math.Exp(rate*(sign*x-1)))
				}
				var e curve.Exponential
				if err := e.Fit(xs, ys); err != nil {
					if rate < 600 { // beyond, B at x = 0 leaves the numbers
						t.Errorf("gap %v, rate %v: %v", gap, sign*rate, err)
					}
					continue
				}
				agree(t, fmt.Sprintf("gap %v, rate %v: rate", gap, sign*rate), e.C/rate/sign, 1, 1e-6)
				agree(t, "A", e.A, 1.5, 1e-6)
				agree(t, "RSS", e.RSS(), 0, 1e-20)
			}
		}
	}
}

// D: three thousand points, more than the fit keeps exponentials of, on a known
// curve, in any order.
func TestExponentialManyPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for _, rate := range []float64{6, -3} {
		var xs, ys []float64
		for range 3000 {
			x := 2 + rng.Float64()
			xs, ys = append(xs, x), append(ys, 0.5+2*math.Exp(rate*(x-2)))
		}
		var e curve.Exponential
		succeeds(t, e.Fit(xs, ys))
		agree(t, "rate", e.C, rate, 1e-9)
		agree(t, "A", e.A, 0.5, 1e-9)
		agree(t, "B", e.B, 2*math.Exp(-2*rate), 1e-9)
		groups := make([]int, len(xs))
		for i := range xs {
			if groups[i] = i % 2; groups[i] == 1 {
				ys[i] = 0.5 + 2*math.Exp(rate*(xs[i]-2.25))
			}
		}
		var s curve.Shifted
		succeeds(t, s.Fit(xs, ys, groups))
		agree(t, "shared rate", s.C, rate, 1e-7)
		agree(t, "shift", s.Shifts[1], 0.25, 1e-7)
		agree(t, "RSS", s.RSS(), 0, 1e-12)
		if got := s.DegreesOfFreedom(); got != 3000-4 {
			t.Errorf("%d degrees of freedom", got)
		}
	}
}

// D: y = 1 + 2·exp(3x) crosses 1 + 2·exp(3k) at k, has slope s at log(s/6)/3,
// and is lowest at the lower end; a falling curve crosses nothing upward; a
// curve that bends down lies below no line.
func TestExponentialPoints(t *testing.T) {
	e := &curve.Exponential{A: 1, B: 2, C: 3}
	level := func(x float64) float64 { return 1 + 2*math.Exp(3*x) }
	slope := func(x float64) float64 { return 6 * math.Exp(3*x) }
	falling, saturating := &curve.Exponential{A: 1, B: 2, C: -3}, &curve.Exponential{A: 1, B: -2, C: -3}
	type found struct {
		x  float64
		ok bool
	}
	get := func(x float64, ok bool) found { return found{x, ok} }
	for _, c := range []struct {
		name string
		got  found
		want found
	}{
		{"inside", get(e.Upcrossing(level(0.4), 0, 1)), found{0.4, true}},
		{"at the lower end", get(e.Upcrossing(level(0), 0, 1)), found{0, true}},
		{"at the upper end", get(e.Upcrossing(level(1), 0, 1)), found{1, true}},
		{"just below the lower end", get(e.Upcrossing(level(-1e-9), 0, 1)), found{0, false}},
		{"just above the upper end", get(e.Upcrossing(level(1+1e-9), 0, 1)), found{0, false}},
		{"below the asymptote", get(e.Upcrossing(0.5, 0, 1)), found{0, false}},
		{"falling", get(falling.Upcrossing(2, 0, 1)), found{0, false}},
		{"saturating", get(saturating.Upcrossing(1-2*math.Exp(-3*0.4), 0, 1)), found{0.4, true}},
		{"flat", get((&curve.Exponential{A: 1}).Upcrossing(1, 0, 1)), found{0, false}},
		{"slope inside", get(e.FarthestBelow(slope(0.4), 0, 1)), found{0.4, true}},
		{"slope at the lower end", get(e.FarthestBelow(slope(-1e-9), 0, 1)), found{-1e-9, false}},
		{"slope at the upper end", get(e.FarthestBelow(slope(1+1e-9), 0, 1)), found{1 + 1e-9, false}},
		{"falling slope", get(falling.FarthestBelow(-6*math.Exp(-3*0.4), 0, 1)), found{0.4, true}},
		{"bends down", get(saturating.FarthestBelow(6*math.Exp(-3*0.4), 0, 1)), found{0, false}},
	} {
		if c.got.ok != c.want.ok || c.want.ok && !(math.Abs(c.got.x-c.want.x) <= 1e-12) {
			t.Errorf("%s: got %v, want %v", c.name, c.got, c.want)
		}
	}
	for _, c := range []struct {
		e *curve.Exponential
		x float64
	}{{e, 0.2}, {falling, 0.9}, {saturating, 0.2}, {&curve.Exponential{A: 1, B: -2, C: 3}, 0.9}, {&curve.Exponential{A: 1}, 0.2}} {
		if x, y := c.e.Minimum(0.2, 0.9); x != c.x || y != c.e.Predict(c.x) {
			t.Errorf("%v: lowest %v at %v, want at %v", c.e, y, x, c.x)
		}
	}
	// The slope is that of the curve: central differences are good to h².
	for _, c := range []*curve.Exponential{e, falling, saturating} {
		for _, x := range []float64{0, 0.5, 1} {
			const h = 1e-5
			agree(t, "slope", c.PredictDerivative(x), (c.Predict(x+h)-c.Predict(x-h))/(2*h), 1e-8)
		}
	}
}

// What leaves the rate open, or cannot be fitted, and how it is said.
func TestExponentialRefuses(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range []struct {
		name       string
		xs, ys, ws []float64
		is         error
	}{
		{"nothing", nil, nil, nil, curve.ErrInput},
		{"two xs", []float64{1, 2, 2, 1}, []float64{1, 2, 3, 4}, nil, curve.ErrUndetermined},
		{"one x", []float64{2, 2, 2}, []float64{1, 2, 3}, nil, curve.ErrUndetermined},
		{"level", []float64{1, 2, 3, 4}, []float64{5, 5, 5, 5}, nil, curve.ErrUndetermined},
		{"level but for rounding", []float64{1, 2, 3, 4}, []float64{5, 5, 5 + 4e-15, 5}, nil, curve.ErrUndetermined},
		{"straight", []float64{1, 2, 3, 4}, []float64{5, 7, 9, 11}, nil, curve.ErrUndetermined},
		{"spike at the end", []float64{1, 2, 3, 4, 5}, []float64{1, 1, 1, 1, 9}, nil, curve.ErrUndetermined},
		{"spike at the start", []float64{1, 2, 3, 4, 5}, []float64{9, 1, 1, 1, 1}, nil, curve.ErrUndetermined},
		{"lengths", []float64{1, 2, 3}, []float64{1, 2}, nil, curve.ErrInput},
		{"lengths of weights", []float64{1, 2, 3}, []float64{1, 2, 5}, []float64{1, 1}, curve.ErrInput},
		{"NaN", []float64{1, 2, nan}, []float64{1, 2, 5}, nil, curve.ErrInput},
		{"infinite y", []float64{1, 2, 3}, []float64{1, 2, inf}, nil, curve.ErrInput},
		{"weight of zero", []float64{1, 2, 3}, []float64{1, 2, 5}, []float64{1, 0, 1}, curve.ErrInput},
		{"infinite weight", []float64{1, 2, 3}, []float64{1, 2, 5}, []float64{1, inf, 1}, curve.ErrInput},
		{"range of xs", []float64{-math.MaxFloat64, 0, math.MaxFloat64}, []float64{1, 2, 5}, nil, curve.ErrInput},
		{"B leaves the numbers", []float64{1e6, 1e6 + 1, 1e6 + 2, 1e6 + 3}, []float64{1, 2, 4, 8.1}, nil, curve.ErrInput},
	} {
		e := curve.Exponential{A: 1, B: 2, C: 3}
		if err := e.FitWeighted(c.xs, c.ys, c.ws); !errors.Is(err, c.is) {
			t.Errorf("%s: got %v, want %v", c.name, err, c.is)
		}
		if e.A != 0 || e.B != 0 || e.C != 0 || e.RSS() != 0 || e.DegreesOfFreedom() != 0 {
			t.Errorf("%s: the curve is %v", c.name, e.A)
		}
	}
	// Three points are enough, and a fourth on the same line is not the reason
	// to refuse a bend.
	var e curve.Exponential
	succeeds(t, e.Fit([]float64{1, 2, 3}, []float64{1, 2, 4}))
	// D: 2^x/2.
	agree(t, "rate", e.C, math.Ln2, 1e-12)
	agree(t, "A", e.A, 0, 1e-12)
	agree(t, "B", e.B, 0.5, 1e-12)
}
