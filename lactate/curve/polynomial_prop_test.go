package curve_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate/curve"
	"pgregory.net/rapid"
)

// Evidence C: the QR decomposition of gonum/mat v0.17.0, on powers of x scaled
// to −1 to 1.
func TestPolynomialIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs, ys := drawPoints(t)
		degree := rapid.IntRange(1, 5).Draw(t, "degree")
		p := curve.Polynomial{Degree: degree}
		succeeds(t, p.Fit(xs, ys))
		lo, hi := bounds(xs)
		var powers []func(float64) float64
		for k := range degree + 1 {
			powers = append(powers, func(x float64) float64 {
				return math.Pow((2*x-lo-hi)/(hi-lo), float64(k))
			})
		}
		if want := leastSquares(xs, ys, powers...); !near(p.RSS(), want, 1e-9*want+1e-20*sumOfSquares(ys)) {
			t.Fatalf("degree %d: RSS %v, want %v", degree, p.RSS(), want)
		}
	})
}

// Evidence D: points of a polynomial give it back, through Predict and through
// Coefficients.
func TestPolynomialRecoversItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		degree := rapid.IntRange(1, 8).Draw(t, "degree")
		b := make([]float64, degree+1)
		for k := range b {
			b[k] = float64(rapid.IntRange(-9, 9).Draw(t, "b"))
		}
		value := func(x float64) (y float64) {
			for k := degree; k >= 0; k-- {
				y = y*x + b[k]
			}
			return y
		}
		var xs, ys []float64
		for i := range degree + 1 + rapid.IntRange(0, 5).Draw(t, "more") {
			x := float64(i - 4) // so small that the ys are exact
			xs, ys = append(xs, x), append(ys, value(x))
		}
		p := curve.Polynomial{Degree: degree}
		succeeds(t, p.Fit(xs, ys))
		got := p.Coefficients()
		top := math.Sqrt(sumOfSquares(ys))
		tol := 1e-14 * top
		for k := range b {
			if !near(got[k], b[k], tol) {
				t.Errorf("coefficient %d: got %v, want %v", k, got[k], b[k])
			}
		}
		lo, hi := bounds(xs)
		x := math.Floor(lo + (hi-lo)*rapid.Float64Range(0, 1).Draw(t, "x"))
		if !near(p.Predict(x), value(x), tol) {
			t.Errorf("at %v: got %v, want %v", x, p.Predict(x), value(x))
		}
	})
}

// drawPolynomial draws a curve with as many bends as its degree allows.
func drawPolynomial(t *rapid.T) (p *curve.Polynomial, lo, hi float64) {
	degree := rapid.IntRange(1, 7).Draw(t, "degree")
	first := rapid.Float64Range(-100, 100).Draw(t, "first")
	step := rapid.Float64Range(0.01, 10).Draw(t, "step")
	var xs, ys []float64
	for i := range degree + 1 + rapid.IntRange(0, 3).Draw(t, "more") {
		xs = append(xs, first+step*float64(i))
		ys = append(ys, rapid.Float64Range(0, 10).Draw(t, "y"))
	}
	p = &curve.Polynomial{Degree: degree}
	succeeds(t, p.Fit(xs, ys))
	a := rapid.Float64Range(-0.1, 0.4).Draw(t, "lo")
	b := rapid.Float64Range(0.6, 1.1).Draw(t, "hi")
	width := xs[len(xs)-1] - first
	return p, first + a*width, first + b*width
}

const dense = 2000 // places of a dense search

func place(lo, hi float64, i int) float64 { return lo + (hi-lo)*float64(i)/dense }

// swing is the largest absolute value and slope in an interval.
func swing(p *curve.Polynomial, lo, hi float64) (y, slope float64) {
	for i := range dense + 1 {
		x := place(lo, hi, i)
		y, slope = max(y, math.Abs(p.Predict(x))), max(slope, math.Abs(p.PredictDerivative(x)))
	}
	return y, slope
}

// Evidence D: what Upcrossing finds is a crossing, and a dense search finds
// none higher.
func TestPolynomialUpcrossing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, lo, hi := drawPolynomial(t)
		level := rapid.Float64Range(0, 10).Draw(t, "level")
		top, steepest := swing(p, lo, hi)
		tol := 1e-11*(top+level) + 1e-11*steepest*(hi-lo)
		x, ok := p.Upcrossing(level, lo, hi)
		if !ok {
			x = lo
		} else {
			if !(x >= lo && x <= hi) {
				t.Fatalf("%v is outside %v to %v", x, lo, hi)
			}
			if y := p.Predict(x); !near(y, level, tol) {
				t.Fatalf("level at %v: got %v, want %v", x, y, level)
			}
			if s := p.PredictDerivative(x); !(s >= -1e-6*steepest) {
				t.Fatalf("slope at %v: %v", x, s)
			}
		}
		for i := range dense {
			a, b := place(lo, hi, i), place(lo, hi, i+1)
			if a > x && p.Predict(a) < level-tol && p.Predict(b) > level+tol {
				t.Fatalf("crosses between %v and %v; got %v, %v", a, b, x, ok)
			}
		}
	})
}

// Evidence D: a dense search finds no point farther below.
func TestPolynomialFarthestBelow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, lo, hi := drawPolynomial(t)
		slope := (p.Predict(hi) - p.Predict(lo)) / (hi - lo)
		if rapid.Bool().Draw(t, "other slope") {
			slope *= rapid.Float64Range(-2, 2).Draw(t, "factor")
		}
		depth := func(x float64) float64 { return slope*(x-lo) - p.Predict(x) }
		top, steepest := swing(p, lo, hi)
		tol := 1e-11 * (top + (steepest+math.Abs(slope))*(hi-lo))
		end := max(depth(lo), depth(hi))
		x, ok := p.FarthestBelow(slope, lo, hi)
		found := end
		if ok {
			if !(x > lo && x < hi) {
				t.Fatalf("%v is not inside %v to %v", x, lo, hi)
			}
			found = depth(x)
			if !(found >= end-tol) {
				t.Fatalf("an end lies farther below: %v, %v", end, found)
			}
			if !near(p.PredictDerivative(x), slope, 1e-7*(steepest+math.Abs(slope))) {
				t.Fatalf("slope at %v: got %v, want %v", x, p.PredictDerivative(x), slope)
			}
		}
		for i := range dense + 1 {
			if a := place(lo, hi, i); !(depth(a) <= found+tol) {
				t.Fatalf("%v lies farther below than %v, %v", a, x, ok)
			}
		}
	})
}

// Evidence D: a dense search finds no lower point.
func TestPolynomialMinimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, lo, hi := drawPolynomial(t)
		top, steepest := swing(p, lo, hi)
		tol := 1e-11 * (top + steepest*(hi-lo))
		x, y := p.Minimum(lo, hi)
		if !(x >= lo && x <= hi) || !near(y, p.Predict(x), tol) {
			t.Fatalf("got (%v, %v) in %v to %v, but the curve is at %v", x, y, lo, hi, p.Predict(x))
		}
		for i := range dense + 1 {
			if a := place(lo, hi, i); !(p.Predict(a) >= y-tol) {
				t.Fatalf("%v is lower than %v", a, x)
			}
		}
	})
}
