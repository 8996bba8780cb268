package curve_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/testdata/reference"
	"pgregory.net/rapid"
)

// even returns n xs from lo to hi.
func even(n int, lo, hi float64) []float64 {
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = lo + (hi-lo)*float64(i)/float64(n-1)
	}
	return xs
}

// A convexReading is a threshold read off a curve by its own methods.
type convexReading func(c *curve.Convex, lo, hi float64) float64

func risen(rise float64) convexReading {
	return func(c *curve.Convex, lo, hi float64) float64 {
		_, y := c.Minimum(lo, hi)
		x, ok := c.Upcrossing(y+rise, lo, hi)
		if !ok {
			return math.Inf(1)
		}
		return x
	}
}

func farthest(c *curve.Convex, lo, hi float64) float64 {
	x, ok := c.FarthestBelow((c.Predict(hi)-c.Predict(lo))/(hi-lo), lo, hi)
	if !ok {
		return math.NaN()
	}
	return x
}

var convexReadings = map[string]convexReading{
	"fitted lowest + 0.5": risen(0.5),
	"fitted lowest + 1.5": risen(1.5),
	"Dmax":                farthest,
	"4 mmol/L": func(c *curve.Convex, lo, hi float64) float64 {
		x, _ := c.Upcrossing(4, lo, hi)
		return x
	},
}

// Kind E: a prototype outside the project, with four times as many shapes
// (testdata/reference/robust-curve-golden.csv). Its own digits are good to 2e-4 of
// Monte Carlo error, and fewer shapes move ends by up to 4 % of a width.
func TestRegressConvexGolden(t *testing.T) {
	rows := reference.Rows(t, "robust-curve-golden.csv")
	if len(rows) != 12 {
		t.Fatalf("found %d rows, want 12", len(rows))
	}
	for _, row := range rows {
		var ys []float64
		for s := range strings.FieldsSeq(row["lactates"]) {
			ys = append(ys, reference.Number(t, s))
		}
		xs := even(len(ys), 1.10, 1.45)
		var c, d curve.Convex
		succeeds(t, c.Fit(xs, ys))
		name := row["lactates"] + ", " + row["reading"]
		read := convexReadings[row["reading"]]
		rng := rand.New(rand.NewPCG(1, 2))
		v := make([]float64, 100_000)
		for i := range v {
			c.Draw(&d, (float64(i)+0.5)/float64(len(v)), rng)
			v[i] = read(&d, xs[0], xs[len(xs)-1])
		}
		slices.Sort(v)
		low, median, high := reference.Number(t, row["low"]), reference.Number(t, row["median"]), reference.Number(t, row["high"])
		tol := 5e-4 + 0.02*(high-low)
		for i, want := range []float64{low, median, high} {
			got := v[len(v)*[]int{5, 50, 95}[i]/100]
			if !(math.Abs(got-want) <= tol) {
				t.Errorf("%s: quantile %d is %.4f, want %.4f ± %.4f", name, i, got, want, tol)
			}
		}
		if got := read(&c, xs[0], xs[len(xs)-1]); !(got > low && got < high) {
			t.Errorf("%s: the posterior mean reads %.4f, want %.4f to %.4f", name, got, low, high)
		}
	}
}

// drawRising draws points that rise, on any scale of x.
func drawRising(t *rapid.T) (xs, ys, weights []float64) {
	n := rapid.IntRange(4, 9).Draw(t, "n")
	lo := rapid.Float64Range(0.5, 200).Draw(t, "lo")
	rng := lo * rapid.Float64Range(0.1, 1).Draw(t, "range")
	bend := rapid.Float64Range(0.5, 7).Draw(t, "bend")
	top := rapid.Float64Range(2, 10).Draw(t, "top")
	xs = even(n, lo, lo+rng)
	for i := range xs {
		u := float64(i) / float64(n-1)
		y := 1 + top*math.Expm1(bend*u)/math.Expm1(bend) + rapid.Float64Range(-0.3, 0.3).Draw(t, "error")
		ys = append(ys, y)
		s := math.Hypot(0.2, 0.03*y)
		weights = append(weights, 1/(s*s))
	}
	return xs, ys, weights
}

// Kind D: every draw and the mean are convex, C¹, and answer their own questions, on their whole
// range and on a part of it.
func TestPropConvexReads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs, ys, weights := drawRising(t)
		ys[0] += rapid.Float64Range(0, 2).Draw(t, "dip")
		var c, d curve.Convex
		if err := c.FitWeighted(xs, ys, weights); err != nil {
			t.Skip(err)
		}
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		scale := c.Draw(&d, rapid.Float64Range(0, 1).Draw(t, "at"), rng)
		if !(scale > 0) {
			t.Fatalf("scale %v", scale)
		}
		lo, hi := xs[0], xs[len(xs)-1]
		from := rapid.Float64Range(lo, hi).Draw(t, "from")
		to := rapid.Float64Range(from, hi).Draw(t, "to")
		for _, c := range []*curve.Convex{&c, &d} {
			answers(t, c, lo, hi)
			if to > from {
				answers(t, c, from, to)
			}
		}
	})
}

// answers checks that the slope does not fall from lo to hi, that a crossing has the level, that
// the lowest point is not above any other, and that Dmax has the slope of the chord.
func answers(t *rapid.T, c *curve.Convex, lo, hi float64) {
	span := math.Abs(c.Predict(hi)-c.Predict(lo)) + 1
	xmin, ymin := c.Minimum(lo, hi)
	if y := c.Predict(xmin); !(lo <= xmin && xmin <= hi) || !(math.Abs(y-ymin) <= 1e-9*span) {
		t.Fatalf("Minimum(%v, %v) says %v at %v, where the curve is %v", lo, hi, ymin, xmin, y)
	}
	const steps = 400
	h := (hi - lo) / steps
	for i := range steps {
		x := lo + h*float64(i)
		if y := c.Predict(x); !(y >= ymin-1e-9*span) {
			t.Fatalf("the curve is %v at %v, below its minimum %v", y, x, ymin)
		}
		// The slope is a polygon: that of a chord lies between those of its ends.
		if h < 1e-6*hi {
			continue // chords of rounding
		}
		s, a, b := (c.Predict(x+h)-c.Predict(x))/h, c.PredictDerivative(x), c.PredictDerivative(x+h)
		if !(b >= a-1e-9*span/h) {
			t.Fatalf("the slope falls from %v to %v at %v", a, b, x)
		}
		if !(s >= a-1e-8*span/h && s <= b+1e-8*span/h) {
			t.Fatalf("the chord from %v rises by %v, the curve by %v to %v", x, s, a, b)
		}
	}
	rise := c.Predict(hi) - ymin
	for k := 1; k < 20 && rise > 1e-6; k++ {
		level := ymin + rise*float64(k)/20
		x, ok := c.Upcrossing(level, lo, hi)
		if !ok || !(x >= xmin-1e-12*hi && x <= hi) || !(math.Abs(c.Predict(x)-level) <= 1e-9*span) {
			t.Fatalf("Upcrossing(%v) = %v, %v, where the curve is %v", level, x, ok, c.Predict(x))
		}
	}
	if _, ok := c.Upcrossing(c.Predict(hi)+1e-3, lo, hi); ok {
		t.Fatal("a level above the curve's end is crossed going up")
	}
	if _, ok := c.Upcrossing(ymin-1e-3, lo, hi); ok {
		t.Fatal("a level below the curve is crossed")
	}
	if h < 1e-6*hi {
		return
	}
	slope := (c.Predict(hi) - c.Predict(lo)) / (hi - lo)
	x, ok := c.FarthestBelow(slope, lo, hi)
	if bent := c.PredictDerivative(hi)-c.PredictDerivative(lo) > 1e-6*span/(hi-lo); bent && (!ok || !(math.Abs(c.PredictDerivative(x)-slope) <= 1e-6*(math.Abs(slope)+span/(hi-lo)))) {
		t.Fatalf("FarthestBelow(%v) = %v, %v, where the slope is %v", slope, x, ok, c.PredictDerivative(x))
	}
}

// Kind D: Dmax is where the distribution function of the curvature is one less its mean: it
// depends on the shape alone, not on a, b and s, so that two draws of one shape agree.
func TestConvexDmaxIsOfTheShape(t *testing.T) {
	xs, ys := even(6, 1.10, 1.45), []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9}
	var c, d, e curve.Convex
	succeeds(t, c.Fit(xs, ys))
	for i := range 50 {
		at := (float64(i) + 0.5) / 50
		c.Draw(&d, at, rand.New(rand.NewPCG(1, uint64(i))))
		c.Draw(&e, at, rand.New(rand.NewPCG(2, uint64(i))))
		a, b := farthest(&d, xs[0], xs[5]), farthest(&e, xs[0], xs[5])
		if d.Predict(xs[5]) == e.Predict(xs[5]) || !(math.Abs(a-b) <= 1e-9) {
			t.Errorf("draws of shape %d: Dmax at %v and %v, ends at %v and %v", i, a, b, d.Predict(xs[5]), e.Predict(xs[5]))
		}
	}
}

// Kind D: the posterior predictive distribution is that of draws with noise added.
func TestConvexBelow(t *testing.T) {
	xs, ys := even(6, 1.10, 1.45), []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9}
	var c, d curve.Convex
	succeeds(t, c.Fit(xs, ys))
	rng := rand.New(rand.NewPCG(8, 9))
	const n, x, sd = 60_000, 1.29, 0.2
	for _, y := range []float64{1.2, 1.6, 2.0, 2.6} {
		below := 0
		for i := range n {
			scale := c.Draw(&d, (float64(i)+0.5)/n, rng)
			if d.Predict(x)+scale*sd*rng.NormFloat64() < y {
				below++
			}
		}
		if got, want := c.Below(x, y, sd), float64(below)/n; !(math.Abs(got-want) <= 0.008) {
			t.Errorf("below %v: %.4f, of draws %.4f", y, got, want)
		}
	}
	if p := c.Below(1.5, 2, sd); !math.IsNaN(p) {
		t.Errorf("beyond the points: %v", p)
	}
}

// Whole degrees of freedom are read off sums of their own, others off gonum's Student's t:
// next to each other the answers are.
func TestPropConvexWholeDegrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := even(rapid.IntRange(3, 9).Draw(t, "points"), 1.1, 1.4)
		bend, noise := rapid.Float64Range(2, 40).Draw(t, "bend"), rapid.Float64Range(0, 1.5).Draw(t, "noise")
		rng := rand.New(rand.NewPCG(1, rapid.Uint64().Draw(t, "seed")))
		ys := make([]float64, len(xs))
		for i, x := range xs {
			ys[i] = 1 + 6*math.Exp(bend*(x-1.4)) + noise*rng.NormFloat64()
		}
		weight := float64(rapid.IntRange(1, 70).Draw(t, "weight"))
		whole, broken := curve.Convex{Weight: weight}, curve.Convex{Weight: weight * (1 + 1e-10)}
		if whole.Fit(xs, ys) != nil {
			t.Skip("no curve")
		}
		succeeds(t, broken.Fit(xs, ys))
		x := rapid.Float64Range(1.1, 1.4).Draw(t, "x")
		y := whole.Predict(x)
		if got := broken.Predict(x); !(math.Abs(got-y) <= 1e-7*(1+math.Abs(y))) {
			t.Fatalf("%v, beside gonum's %v", y, got)
		}
		for _, far := range []float64{-30, -2, -0.2, 0, 0.5, 5} {
			a, b := whole.Below(x, y+far, 0.2), broken.Below(x, y+far, 0.2)
			if !(math.Abs(a-b) <= 1e-8) {
				t.Fatalf("%v below %v at %v, beside gonum's %v", a, y+far, x, b)
			}
		}
	})
}

// Kind D: another unit of x or y, another order of the points, a point given twice
// at half its weight, change nothing but the units.
func TestPropConvexUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs, ys, weights := drawRising(t)
		kx, ky := rapid.Float64Range(0.01, 100).Draw(t, "kx"), rapid.Float64Range(0.01, 100).Draw(t, "ky")
		dx := rapid.Float64Range(-10, 10).Draw(t, "dx")
		var xs2, ys2, weights2 []float64
		for i := range xs {
			xs2 = append(xs2, kx*(xs[i]+dx))
			ys2 = append(ys2, ky*ys[i])
			weights2 = append(weights2, weights[i]/(ky*ky))
		}
		i := rapid.IntRange(0, len(xs)-1).Draw(t, "i")
		xs2[0], xs2[i] = xs2[i], xs2[0]
		ys2[0], ys2[i] = ys2[i], ys2[0]
		weights2[0], weights2[i] = weights2[i], weights2[0]
		var c, c2 curve.Convex
		c2.Tilt = 0.2 * ky
		succeeds(t, errors.Join(c.FitWeighted(xs, ys, weights), c2.FitWeighted(xs2, ys2, weights2)))
		lo, hi := xs[0], xs[len(xs)-1]
		for k := range 21 {
			x := lo + (hi-lo)*float64(k)/20
			if a, b := c.Predict(x), c2.Predict(kx*(x+dx))/ky; !(math.Abs(a-b) <= 1e-6*(1+math.Abs(a))) {
				t.Fatalf("%v at %v, and %v in other units", a, x, b)
			}
		}
		a, b := farthest(&c, lo, hi), farthest(&c2, kx*(lo+dx), kx*(hi+dx))/kx-dx
		if !(math.Abs(a-b) <= 1e-6*hi) {
			t.Fatalf("Dmax at %v, and %v in other units", a, b)
		}
	})
}

// Kind D: samples of an exponential without error give it back, as closely as
// the family of shapes can: between its m and ρ, which stand on a grid.
func TestConvexOnExponential(t *testing.T) {
	for _, bend := range []float64{1, 3, 5, 8} {
		truth := func(x float64) float64 { return 1 + 7*math.Exp(bend*(x-1.45)/0.35) }
		xs := even(8, 1.10, 1.45)
		var ys, weights []float64
		for _, x := range xs {
			ys = append(ys, truth(x))
			weights = append(weights, 1e6)
		}
		c := curve.Convex{Weight: math.Inf(1), Tilt: 20}
		succeeds(t, c.FitWeighted(xs, ys, weights))
		for x := 1.10; x < 1.45; x += 0.01 {
			if got, want := c.Predict(x), truth(x); !(math.Abs(got-want) <= 0.01) {
				t.Errorf("bend %v: %v at %.2f, want %v", bend, got, x, want)
			}
		}
	}
}

// Kind D: with the noise certain, the mean of draws is the posterior mean.
func TestConvexMeanOfDraws(t *testing.T) {
	xs, ys := even(6, 1.10, 1.45), []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9}
	c := curve.Convex{Weight: math.Inf(1)}
	succeeds(t, c.Fit(xs, ys))
	const n = 40_000
	rng := rand.New(rand.NewPCG(3, 4))
	var d curve.Convex
	sum := make([]float64, 11)
	for i := range n {
		if s := c.Draw(&d, (float64(i)+0.5)/n, rng); s != 1 {
			t.Fatalf("scale %v, want 1", s)
		}
		for k := range sum {
			sum[k] += d.Predict(1.10+0.035*float64(k)) / n
		}
	}
	for k, got := range sum {
		if want := c.Predict(1.10 + 0.035*float64(k)); !(math.Abs(got-want) <= 0.005) {
			t.Errorf("mean of draws at place %d: %v, want %v", k, got, want)
		}
	}
}

// Kind D: a point given many times, at its share of the weight, is that point, though so
// many points are worked through some at a time.
func TestConvexOfManyPoints(t *testing.T) {
	xs, ys := even(6, 1.10, 1.45), []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9}
	weights := []float64{25, 25, 25, 24, 20, 10}
	const times = 50
	var xs2, ys2, weights2 []float64
	for range times {
		for i := range xs {
			xs2, ys2, weights2 = append(xs2, xs[i]), append(ys2, ys[i]), append(weights2, weights[i]/times)
		}
	}
	c, c2 := curve.Convex{Weight: math.Inf(1)}, curve.Convex{Weight: math.Inf(1)}
	succeeds(t, errors.Join(c.FitWeighted(xs, ys, weights), c2.FitWeighted(xs2, ys2, weights2)))
	for x := 1.10; x < 1.45; x += 0.01 {
		if a, b := c.Predict(x), c2.Predict(x); !(math.Abs(a-b) <= 1e-9) {
			t.Errorf("%v at %v, %v of the many", a, x, b)
		}
	}
}

// RSS is that about the curve, and the points count less a and s; negative Weight is the
// limit of little. After an error nothing is left of either. Kind D.
func TestConvexResiduals(t *testing.T) {
	xs, ys := even(7, 1.10, 1.45), []float64{1.1, 1.2, 1.0, 1.4, 2.1, 3.7, 7.9}
	none, little := curve.Convex{Weight: -1}, curve.Convex{Weight: 1e-9}
	succeeds(t, errors.Join(none.FitWeighted(xs, ys, nil), little.FitWeighted(xs, ys, nil)))
	want := 0.0
	for i, x := range xs {
		r := ys[i] - none.Predict(x)
		want += r * r
		if got, want := none.Predict(x), little.Predict(x); !(math.Abs(got-want) <= 1e-6) {
			t.Errorf("without weight %v at %v, with little %v", got, x, want)
		}
	}
	if got := none.RSS(); !(math.Abs(got-want) <= 1e-12*want) || none.DegreesOfFreedom() != len(xs)-2 {
		t.Errorf("residual sum of squares %v, want %v; %d degrees of freedom", got, want, none.DegreesOfFreedom())
	}
	if err := none.Fit(xs[:2], ys[:2]); err == nil || none.RSS() != 0 || none.DegreesOfFreedom() != 0 {
		t.Errorf("after %v: residual sum of squares %v, %d degrees of freedom", err, none.RSS(), none.DegreesOfFreedom())
	}
}

func TestConvexRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		xs, ys, weights []float64
		want            error
	}{
		"no points":       {nil, nil, nil, curve.ErrUndetermined},
		"two xs":          {[]float64{1, 1, 2}, []float64{1, 1, 2}, nil, curve.ErrUndetermined},
		"flat":            {[]float64{1, 2, 3, 4}, []float64{1, 1, 1, 1}, nil, curve.ErrUndetermined},
		"falls":           {[]float64{1, 2, 3, 4}, []float64{4, 3, 2, 0}, nil, curve.ErrUndetermined},
		"not a number":    {[]float64{1, 2, 3}, []float64{1, math.NaN(), 3}, nil, curve.ErrInput},
		"lengths":         {[]float64{1, 2, 3}, []float64{1, 2}, nil, curve.ErrInput},
		"negative weight": {[]float64{1, 2, 3}, []float64{1, 2, 5}, []float64{1, -1, 1}, curve.ErrInput},
		"immense":         {[]float64{1, 2, 3}, []float64{1, 2, 1e300}, nil, curve.ErrInput},
	} {
		var k curve.Convex
		err := k.FitWeighted(c.xs, c.ys, c.weights)
		if !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
		var d curve.Convex
		if v := k.Draw(&d, 0.5, rand.New(rand.NewPCG(1, 1))); !math.IsNaN(v) || !math.IsNaN(d.Predict(1)) || !math.IsNaN(k.Predict(1)) {
			t.Errorf("%s: a curve after an error", name)
		}
	}
}

func FuzzConvex(f *testing.F) {
	f.Add(1.1, 1.2, 1.3, 1.4, 1.0, 1.1, 1.9, 6.0, 4.0, 0.2)
	f.Add(1.1, 1.1, 1.3, 1.4, 9.0, 1.1, 0.9, 6.0, -1.0, 1e-9)
	f.Add(1e300, -1e300, 0.0, 5e-324, 1e200, 0.0, 1e-200, 6.0, math.Inf(1), 1e9)
	f.Fuzz(func(t *testing.T, x0, x1, x2, x3, y0, y1, y2, y3, weight, tilt float64) {
		xs, ys := []float64{x0, x1, x2, x3}, []float64{y0, y1, y2, y3}
		c := curve.Convex{Weight: weight, Tilt: tilt}
		if err := c.Fit(xs, ys); err != nil {
			return
		}
		var d curve.Convex
		c.Draw(&d, 0.5, rand.New(rand.NewPCG(1, 2)))
		lo, hi := slices.Min(xs), slices.Max(xs)
		for _, x := range []float64{lo, lo/2 + hi/2, hi} {
			if y := c.Predict(x); math.IsNaN(y) || math.IsInf(y, 0) {
				t.Fatalf("%v at %v", y, x)
			}
			if y := d.Predict(x); math.IsNaN(y) {
				t.Fatalf("a draw is %v at %v", y, x)
			}
		}
	})
}

func BenchmarkConvex(b *testing.B) {
	xs, ys := even(6, 1.10, 1.45), []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9}
	var c, d curve.Convex
	if err := c.Fit(xs, ys); err != nil {
		b.Fatal(err)
	}
	b.Run("xs=same", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			c.Fit(xs, ys)
		}
	})
	b.Run("xs=new", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			xs[2] += 1e-9
			c.Fit(xs, ys)
		}
	})
	b.Run("draw", func(b *testing.B) {
		rng := rand.New(rand.NewPCG(1, 2))
		b.ReportAllocs()
		for b.Loop() {
			c.Draw(&d, rng.Float64(), rng)
		}
	})
}
