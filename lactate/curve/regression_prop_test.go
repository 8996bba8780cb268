package curve_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// A regression is a curve that can be fitted, with weights or without.
type regression interface {
	Fit(xs, ys []float64) error
	FitWeighted(xs, ys, weights []float64) error
	Predict(x float64) float64
	PredictDerivative(x float64) float64
	RSS() float64
	DegreesOfFreedom() int
}

// regressions are the curves of this file's properties. Parameters is how many
// each of them estimates.
var regressions = []struct {
	name       string
	parameters int
	smooth     bool // one optimum, that moves smoothly with the points
	make       func() regression
}{
	{"line", 2, true, func() regression { return &curve.Polynomial{Degree: 1} }},
	{"cubic", 4, true, func() regression { return &curve.Polynomial{} }},
	{"quintic", 6, true, func() regression { return &curve.Polynomial{Degree: 5} }},
	{"broken line", 4, false, func() regression { return &curve.BrokenLine{} }},
	{"three lines", 6, false, func() regression { return &curve.ThreeLine{} }},
}

// drawPoints draws 7 to 14 points on any scale of x, some at the same x.
func drawPoints(t *rapid.T) (xs, ys []float64) {
	n := rapid.IntRange(7, 14).Draw(t, "n")
	x := rapid.Float64Range(0.5, 200).Draw(t, "first")
	step := rapid.Float64Range(0.01, 20).Draw(t, "step")
	for range n {
		xs = append(xs, x)
		ys = append(ys, rapid.Float64Range(0.5, 20).Draw(t, "y"))
		x += step * rapid.Float64Range(0.3, 1).Draw(t, "gap")
	}
	for range rapid.IntRange(0, 3).Draw(t, "repeats") {
		xs = append(xs, xs[rapid.IntRange(0, n-1).Draw(t, "of")])
		ys = append(ys, rapid.Float64Range(0.5, 20).Draw(t, "y"))
	}
	return xs, ys
}

func sumOfSquares(ys []float64) float64 {
	s := 0.0
	for _, y := range ys {
		s += y * y
	}
	return s
}

// sameFit compares the sums of squares of two fits of the same points, and
// what they predict if that is well determined. Factor is of y.
func sameFit(t *rapid.T, smooth bool, a, b regression, xa, xb, ys []float64, factor, shift float64) {
	t.Helper()
	if want := a.RSS() * factor * factor; !near(b.RSS(), want, 1e-9*want+1e-18*factor*factor*sumOfSquares(ys)) {
		t.Fatalf("RSS: got %v, want %v", b.RSS(), want)
	}
	if !smooth {
		return
	}
	for i := range xa {
		want := a.Predict(xa[i])*factor + shift
		if got := b.Predict(xb[i]); !near(got, want, 1e-9*(20*math.Abs(factor)+math.Abs(shift))) {
			t.Fatalf("at %v: got %v, want %v", xb[i], got, want)
		}
	}
}

// succeeds fails where there is an error.
func succeeds(t interface {
	Helper()
	Fatal(...any)
}, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func fit(t *rapid.T, r regression, xs, ys, ws []float64) regression {
	t.Helper()
	succeeds(t, r.FitWeighted(xs, ys, ws))
	return r
}

// Evidence D: order does not matter.
func TestRegressionOrder(t *testing.T) {
	for _, r := range regressions {
		t.Run(r.name, rapid.MakeCheck(func(t *rapid.T) {
			xs, ys := drawPoints(t)
			a := fit(t, r.make(), xs, ys, nil)
			bx, by := append([]float64(nil), xs...), append([]float64(nil), ys...)
			rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
			rng.Shuffle(len(bx), func(i, j int) {
				bx[i], bx[j] = bx[j], bx[i]
				by[i], by[j] = by[j], by[i]
			})
			sameFit(t, r.smooth, a, fit(t, r.make(), bx, by, nil), xs, xs, ys, 1, 0)
		}))
	}
}

// Evidence D: scaling and shifting either axis, with x mirrored or not, does
// the same to the curve.
func TestRegressionScale(t *testing.T) {
	for _, r := range regressions {
		t.Run(r.name, rapid.MakeCheck(func(t *rapid.T) {
			xs, ys := drawPoints(t)
			a := fit(t, r.make(), xs, ys, nil)
			kx := math.Pow(10, rapid.Float64Range(-3, 3).Draw(t, "kx"))
			if rapid.Bool().Draw(t, "mirror") {
				kx = -kx
			}
			ky := math.Pow(10, rapid.Float64Range(-3, 3).Draw(t, "ky"))
			dx := kx * rapid.Float64Range(-100, 100).Draw(t, "dx")
			dy := ky * rapid.Float64Range(-100, 100).Draw(t, "dy")
			var bx, by []float64
			for i := range xs {
				bx, by = append(bx, kx*xs[i]+dx), append(by, ky*ys[i]+dy)
			}
			sameFit(t, r.smooth, a, fit(t, r.make(), bx, by, nil), xs, bx, ys, ky, dy)
		}))
	}
}

// Evidence D: powers of two change no digit.
func TestRegressionScaleByTwo(t *testing.T) {
	for _, r := range regressions {
		t.Run(r.name, rapid.MakeCheck(func(t *rapid.T) {
			xs, ys := drawPoints(t)
			a := fit(t, r.make(), xs, ys, nil)
			kx := math.Ldexp(1, rapid.IntRange(-30, 30).Draw(t, "kx"))
			ky := math.Ldexp(1, rapid.IntRange(-30, 30).Draw(t, "ky"))
			var bx, by []float64
			for i := range xs {
				bx, by = append(bx, kx*xs[i]), append(by, ky*ys[i])
			}
			b := fit(t, r.make(), bx, by, nil)
			for i := range xs {
				if got, want := b.Predict(bx[i]), ky*a.Predict(xs[i]); got != want {
					t.Fatalf("at %v: got %v, want %v", bx[i], got, want)
				}
			}
			if got, want := b.RSS(), ky*ky*a.RSS(); got != want {
				t.Fatalf("RSS: got %v, want %v", got, want)
			}
		}))
	}
}

// Evidence D: a weight of k is the point k times, and only the ratios of
// weights matter to the curve.
func TestRegressionWeights(t *testing.T) {
	for _, r := range regressions {
		t.Run(r.name, rapid.MakeCheck(func(t *rapid.T) {
			xs, ys := drawPoints(t)
			var ws, tenth, rx, ry []float64
			for i := range xs {
				k := rapid.IntRange(1, 4).Draw(t, "k")
				ws = append(ws, float64(k))
				tenth = append(tenth, 0.1*float64(k))
				for range k {
					rx, ry = append(rx, xs[i]), append(ry, ys[i])
				}
			}
			repeated := fit(t, r.make(), rx, ry, nil)
			sameFit(t, r.smooth, repeated, fit(t, r.make(), xs, ys, ws), xs, xs, ry, 1, 0)
			light := fit(t, r.make(), xs, ys, tenth)
			if want := 0.1 * repeated.RSS(); !near(light.RSS(), want, 1e-9*want+1e-18*sumOfSquares(ry)) {
				t.Fatalf("RSS at a tenth of the weights: got %v, want %v", light.RSS(), want)
			}
			if got, want := light.DegreesOfFreedom(), len(xs)-r.parameters; got != want {
				t.Fatalf("DegreesOfFreedom: got %d, want %d", got, want)
			}
		}))
	}
}

// Evidence D: RSS is the sum of squares of what Predict leaves.
func TestRegressionRSS(t *testing.T) {
	for _, r := range regressions {
		t.Run(r.name, rapid.MakeCheck(func(t *rapid.T) {
			xs, ys := drawPoints(t)
			var ws []float64
			for range xs {
				ws = append(ws, rapid.Float64Range(0.1, 10).Draw(t, "w"))
			}
			c := fit(t, r.make(), xs, ys, ws)
			want := 0.0
			for i, x := range xs {
				want += ws[i] * (ys[i] - c.Predict(x)) * (ys[i] - c.Predict(x))
			}
			if !near(c.RSS(), want, 1e-9*want+1e-15*sumOfSquares(ys)) {
				t.Fatalf("got %v, want %v", c.RSS(), want)
			}
		}))
	}
}

// Evidence D: the analytic slope is the numeric one.
func TestRegressionSlope(t *testing.T) {
	for _, r := range regressions {
		t.Run(r.name, rapid.MakeCheck(func(t *rapid.T) {
			xs, ys := drawPoints(t)
			c := fit(t, r.make(), xs, ys, nil)
			lo, hi := bounds(xs)
			x := lo + (hi-lo)*rapid.Float64Range(0, 1).Draw(t, "x")
			h := 1e-6 * (hi - lo)
			switch c := c.(type) {
			case *curve.BrokenLine:
				if math.Abs(x-c.Join) <= 2*h {
					t.Skip("at the join there are two slopes")
				}
			case *curve.ThreeLine:
				if math.Abs(x-c.Lower) <= 2*h || math.Abs(x-c.Upper) <= 2*h {
					t.Skip("at a join there are two slopes")
				}
			}
			top := 0.0
			for i := range 101 {
				top = max(top, math.Abs(c.PredictDerivative(lo+(hi-lo)*float64(i)/100)))
			}
			a, b := x-h, x+h // as rounded
			got, want := c.PredictDerivative(x), (c.Predict(b)-c.Predict(a))/(b-a)
			if !near(got, want, 1e-7*top+1e-8*20/(hi-lo)) {
				t.Fatalf("slope at %v: got %v, want %v", x, got, want)
			}
		}))
	}
}

func bounds(xs []float64) (lo, hi float64) {
	lo, hi = xs[0], xs[0]
	for _, x := range xs {
		lo, hi = min(lo, x), max(hi, x)
	}
	return lo, hi
}

// leastSquares returns the residual sum of squares of the best combination of
// the functions, by the QR decomposition of gonum/mat.
func leastSquares(xs, ys []float64, basis ...func(x float64) float64) float64 {
	a := mat.NewDense(len(xs), len(basis), nil)
	for i, x := range xs {
		for j, f := range basis {
			a.Set(i, j, f(x))
		}
	}
	y := mat.NewVecDense(len(ys), ys)
	var qr mat.QR
	qr.Factorize(a)
	var b mat.VecDense
	if err := qr.SolveVecTo(&b, false, y); err != nil {
		return math.Inf(1) // not determined at this place
	}
	var r mat.VecDense
	r.MulVec(a, &b)
	r.SubVec(y, &r)
	return mat.Dot(&r, &r)
}
