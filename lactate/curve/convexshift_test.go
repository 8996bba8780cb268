package curve_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Pairs of invented tests, 1.10 to 1.45 m/s.
var shiftPairs = []struct {
	name   string
	xs, ys []float64
	groups []int
}{
	{"exponential", append(even(6, 1.10, 1.45), even(6, 1.10, 1.45)...), []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9, 1.2, 1.0, 1.3, 1.9, 3.1, 6.6}, two(6, 6)},
	{"two lines", append(even(6, 1.10, 1.45), even(7, 1.12, 1.48)...), []float64{1.2, 1.1, 1.4, 3.6, 5.9, 8.3, 1.1, 1.3, 1.1, 2.2, 4.3, 6.2, 8.6}, two(6, 7)},
	{"low", append(even(5, 1.10, 1.40), even(6, 1.15, 1.45)...), []float64{1.3, 1.1, 1.3, 1.7, 2.6, 1.2, 1.4, 1.2, 1.6, 2.0, 3.3}, two(5, 6)},
}

// two numbers the points of two groups.
func two(first, second int) []int {
	g := make([]int, first+second)
	for i := range second {
		g[first+i] = 1
	}
	return g
}

// stated returns weights for 0.2 mmol/L and 3 %.
func stated(ys []float64) []float64 {
	w := make([]float64, len(ys))
	for i, y := range ys {
		w[i] = 1 / (0.2*0.2 + 0.03*0.03*y*y)
	}
	return w
}

// movedTests draws k tests of six stages on one exponential, each step to the right of the
// one before, with an error of 0.2 mmol/L and 3 %.
func movedTests(rng *rand.Rand, k int, step float64) (xs, ys []float64, groups []int) {
	for g := range k {
		for i := range 6 {
			x := 1.10 + 0.07*float64(i)
			y := 1 + 7*math.Exp(14*(x-step*float64(g)-1.45))
			y += math.Hypot(0.2, 0.03*y) * rng.NormFloat64()
			xs, ys, groups = append(xs, x), append(ys, y), append(groups, g)
		}
	}
	return xs, ys, groups
}

// bruteForce returns the log posterior density of a shift of group 1, by the normal
// equations of every shape.
func bruteForce(xs, ys, weights []float64, groups []int, shift float64) float64 {
	const nu0, tilt = 4, 0.2
	n := len(xs)
	u := make([]float64, n)
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, x := range xs {
		u[i] = x - shift*float64(groups[i])
		lo, hi = min(lo, u[i]), max(hi, u[i])
	}
	var own [2][2]float64
	for g := range own {
		own[g] = [2]float64{2, -1}
	}
	for i, g := range groups {
		u[i] = (u[i] - lo) / (hi - lo)
		own[g] = [2]float64{min(own[g][0], u[i]), max(own[g][1], u[i])}
	}
	rows := mat.NewDense(n+1, 3, nil)
	rhs := mat.NewVecDense(n+1, nil)
	for i, y := range ys {
		w := math.Sqrt(weights[i])
		rows.SetRow(i, []float64{w, w * u[i], 0})
		rhs.SetVec(i, w*y)
	}
	rows.SetRow(n, []float64{0, 1 / tilt, 0})
	nu := float64(nu0 + n - 2)
	var logs []float64
	for j := 0; ; j++ {
		_, prior, ok := curve.Shape(j, 0)
		if !ok {
			break
		}
		for i := range xs {
			f, _, _ := curve.Shape(j, u[i])
			rows.Set(i, 2, math.Sqrt(weights[i])*f)
		}
		var a mat.SymDense
		a.SymOuterK(1, rows.T())
		var chol mat.Cholesky
		if !chol.Factorize(&a) {
			continue
		}
		var right, coef, fitted mat.VecDense
		right.MulVec(rows.T(), rhs)
		if err := chol.SolveVecTo(&coef, &right); err != nil {
			continue
		}
		if !(coef.AtVec(2) > 0) {
			continue
		}
		fitted.MulVec(rows, &coef)
		fitted.SubVec(rhs, &fitted)
		rss := mat.Dot(&fitted, &fitted)
		rise := 0.0
		for _, ends := range own {
			from, _, _ := curve.Shape(j, ends[0])
			to, _, _ := curve.Shape(j, ends[1])
			rise += (to - from) * (to - from) / 2
		}
		logs = append(logs, math.Log(prior)+math.Log(rise)/2-chol.LogDet()/2-nu/2*math.Log(nu0+rss))
	}
	top := slices.Max(logs)
	sum := 0.0
	for _, v := range logs {
		sum += math.Exp(v - top)
	}
	return top + math.Log(sum)
}

// Kind D: the posterior of a shift is that of the normal equations of every shape, on
// a dense grid.
func TestConvexShiftedBruteForce(t *testing.T) {
	for k, pair := range shiftPairs {
		if k > 1 && *simulate == 0 || k > 0 && testing.Short() {
			break
		}
		weights := stated(pair.ys)
		var c curve.ConvexShifted
		succeeds(t, c.FitWeighted(pair.xs, pair.ys, weights, pair.groups))
		p := c.Shift(1)
		const steps = 160
		lo, h := p.Mean()-10*p.StdDev(), 20*p.StdDev()/steps
		var at, mass []float64
		for i := range steps + 1 {
			at = append(at, lo+h*float64(i))
			mass = append(mass, bruteForce(pair.xs, pair.ys, weights, pair.groups, at[i]))
		}
		top := slices.Max(mass)
		total := 0.0
		for i, v := range mass {
			mass[i] = math.Exp(v - top)
			total += mass[i]
		}
		width := p.Quantile(0.95) - p.Quantile(0.05)
		// The distribution function at the middles between places, by the trapezoidal
		// rule with all its mass at the places.
		sum := 0.0
		for i, v := range mass {
			sum += v / total
			want, got := sum, p.CDF(at[i]+h/2)
			if !(math.Abs(got-want) <= 0.004) {
				t.Errorf("%s: below %.4f: probability %.4f, want %.4f", pair.name, at[i]+h/2, got, want)
			}
		}
		mean, sd := stat.PopMeanStdDev(at, mass)
		if !(math.Abs(p.Mean()-mean) <= 0.003*width && math.Abs(p.StdDev()-sd) <= 0.02*sd) {
			t.Errorf("%s: %.5f ± %.5f, want %.5f ± %.5f", pair.name, p.Mean(), p.StdDev(), mean, sd)
		}
	}
}

// Kind D: for two groups the sample says what the grid does.
func TestConvexShiftedSampled(t *testing.T) {
	for _, pair := range shiftPairs {
		var c, s curve.ConvexShifted
		succeeds(t, errors.Join(c.FitWeighted(pair.xs, pair.ys, stated(pair.ys), pair.groups), s.FitSampled(pair.xs, pair.ys, stated(pair.ys), pair.groups)))
		p, q := c.Shift(1), s.Shift(1)
		width := p.Quantile(0.95) - p.Quantile(0.05)
		for _, at := range []float64{0.05, 0.25, 0.5, 0.75, 0.95} {
			if got, want := q.Quantile(at), p.Quantile(at); !(math.Abs(got-want) <= 0.05*width) {
				t.Errorf("%s: quantile %v of the sample is %.5f, want %.5f ± %.5f", pair.name, at, got, want, 0.05*width)
			}
		}
		if !(math.Abs(q.Mean()-p.Mean()) <= 0.02*width && math.Abs(q.StdDev()-p.StdDev()) <= 0.05*p.StdDev()) {
			t.Errorf("%s: sample %.5f ± %.5f, want %.5f ± %.5f", pair.name, q.Mean(), q.StdDev(), p.Mean(), p.StdDev())
		}
	}
}

// Kind D: the shift of two exponentials without error is found, whatever the noise is said to be.
func TestConvexShiftedOnExponential(t *testing.T) {
	for _, shift := range []float64{-0.05, -0.02, 0, 0.01, 0.04} {
		for _, sd := range []float64{1, 0.1, 0.01} {
			var xs, ys, weights []float64
			for g := range 2 {
				for i := range 7 {
					x := 1.10 + 0.35*float64(i)/6 + 0.013*float64(g)
					y := 1 + 7*math.Exp(14*(x-shift*float64(g)-1.45))
					xs, ys, weights = append(xs, x), append(ys, y), append(weights, 1/(sd*sd*(0.2*0.2+0.03*0.03*y*y)))
				}
			}
			c := curve.ConvexShifted{Weight: math.Inf(1)}
			succeeds(t, c.FitWeighted(xs, ys, weights, two(7, 7)))
			p := c.Shift(1)
			if !(math.Abs(p.Mean()-shift) <= 0.15*p.StdDev()+2e-4 && p.StdDev() < 0.006*sd+1e-4) {
				t.Errorf("shift %v, noise %v: %.5f ± %.5f", shift, sd, p.Mean(), p.StdDev())
			}
		}
	}
}

// Kind D: draws have the distribution that the quantiles and the covariance say.
func TestConvexShiftedDraws(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, k := range []int{2, 4} {
		var c curve.ConvexShifted
		succeeds(t, c.Fit(movedTests(rng, k, 0.01)))
		if c.Groups() != k || c.DegreesOfFreedom() != 6*k-1-k {
			t.Errorf("%d groups, %d degrees of freedom", c.Groups(), c.DegreesOfFreedom())
		}
		const n = 20_000
		all := mat.NewDense(n, k-1, nil)
		for i := range n {
			c.Draw(all.RawRowView(i), (float64(i)+0.5)/n)
		}
		var cov, want mat.SymDense
		stat.CovarianceMatrix(&cov, all, nil)
		c.Covariance(&want)
		for a := range k - 1 {
			p := c.Shift(a + 1)
			v := mat.Col(nil, a, all)
			slices.Sort(v)
			for _, q := range []float64{0.05, 0.5, 0.95} {
				// One group: the same density. More: that of 1,024 draws is smoothed.
				tol := 1e-3 * p.StdDev()
				if k > 2 {
					tol = 0.15 * p.StdDev()
				}
				if got, want := v[int(q*n)], p.Quantile(q); !(math.Abs(got-want) <= tol) {
					t.Errorf("%d groups: quantile %v of the draws of %d is %.5f, want %.5f", k, q, a+1, got, want)
				}
			}
			if got, want := stat.Mean(v, nil), p.Mean(); !(math.Abs(got-want) <= 0.01*p.StdDev()) {
				t.Errorf("%d groups: mean of the draws of %d is %.5f, want %.5f", k, a+1, got, want)
			}
			for b := range a + 1 {
				if got, want := cov.At(a, b), want.At(a, b); !(math.Abs(got-want) <= 0.02*p.StdDev()*p.StdDev()) {
					t.Errorf("%d groups: covariance %d, %d of the draws is %g, want %g", k, a, b, got, want)
				}
			}
			if got, want := p.StdDev(), math.Sqrt(want.At(a, a)); !(math.Abs(got-want) <= 0.01*want) {
				t.Errorf("%d groups: standard deviation %g, want %g", k, got, want)
			}
		}
	}
}

// Kind D: an independent normal variable added is a convolution: quantiles invert
// the distribution function, the variances add up, and a wide one leaves a normal distribution.
func TestShiftPosteriorPlus(t *testing.T) {
	pair := shiftPairs[1]
	var c curve.ConvexShifted
	succeeds(t, c.Fit(pair.xs, pair.ys, pair.groups))
	p := c.Shift(1)
	rng := rand.New(rand.NewPCG(3, 4))
	for _, sd := range []float64{0, 0.0001, 0.005, 0.02, 1} {
		q := p.Plus(sd)
		if !(math.Abs(q.Mean()-p.Mean()) <= 1e-15 && math.Abs(q.StdDev()-math.Hypot(p.StdDev(), sd)) <= 1e-12) {
			t.Errorf("%v added: %v ± %v", sd, q.Mean(), q.StdDev())
		}
		for _, at := range []float64{0.001, 0.05, 0.5, 0.9, 0.999} {
			x := q.Quantile(at)
			if got := q.CDF(x); !(math.Abs(got-at) <= 1e-6) || !(math.Abs(q.Survival(x)-(1-at)) <= 1e-6) {
				t.Errorf("%v added: CDF(Quantile(%v)) = %v", sd, at, got)
			}
			if sd == 1 {
				if want := p.Mean() + sd*distuv.UnitNormal.Quantile(at); !(math.Abs(x-want) <= 1e-3) {
					t.Errorf("%v added: quantile %v is %v, want %v", sd, at, x, want)
				}
			}
		}
		const n = 100_000
		hits := 0
		var d [1]float64
		at := p.Mean() + p.StdDev()
		for i := range n {
			c.Draw(d[:], (float64(i)+0.5)/n)
			if d[0]+sd*rng.NormFloat64() <= at {
				hits++
			}
		}
		if got, want := q.CDF(at), float64(hits)/n; !(math.Abs(got-want) <= 0.006) {
			t.Errorf("%v added: CDF(%v) = %v, want %v", sd, at, got, want)
		}
	}
}

// Kind D: ten tests of one curve, in any order of the groups.
func TestConvexShiftedSeason(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	const k, step = 10, 0.005
	xs, ys, groups := movedTests(rng, k, step)
	var c, r curve.ConvexShifted
	reversed := slices.Clone(groups)
	for i, g := range groups {
		reversed[i] = k - 1 - g
	}
	succeeds(t, errors.Join(c.Fit(xs, ys, groups), r.Fit(xs, ys, reversed)))
	first := r.Shift(k - 1)
	for g := 1; g < k; g++ {
		p := c.Shift(g)
		if truth := step * float64(g); !(math.Abs(p.Mean()-truth) <= 4*p.StdDev() && p.StdDev() < 0.008) {
			t.Errorf("test %d: %.4f ± %.4f, want %v", g, p.Mean(), p.StdDev(), truth)
		}
		other := -first.Mean()
		if g < k-1 {
			q := r.Shift(k - 1 - g)
			other = q.Mean() - first.Mean()
		}
		if !(math.Abs(p.Mean()-other) <= 0.15*p.StdDev()) {
			t.Errorf("test %d: %.5f, and %.5f with the groups reversed", g, p.Mean(), other)
		}
	}
	var cov mat.SymDense
	c.Covariance(&cov)
	var chol mat.Cholesky
	if !chol.Factorize(&cov) {
		t.Error("the covariance is not positive definite")
	}
}
