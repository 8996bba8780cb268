package curve_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
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
		if testing.Short() && k > 0 {
			break
		}
		weights := stated(pair.ys)
		var c curve.ConvexShifted
		if err := c.FitWeighted(pair.xs, pair.ys, weights, pair.groups); err != nil {
			t.Fatal(err)
		}
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
		if err := errors.Join(c.FitWeighted(pair.xs, pair.ys, stated(pair.ys), pair.groups), s.FitSampled(pair.xs, pair.ys, stated(pair.ys), pair.groups)); err != nil {
			t.Fatal(err)
		}
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

// drawPair draws two tests of one curve.
func drawPair(t *rapid.T) (xs, ys, weights []float64, groups []int) {
	for g := range 2 {
		x, y, w := drawRising(t)
		if g == 1 { // of the same range of x, about
			lo, rng := xs[0], xs[len(xs)-1]-xs[0]
			from, scale := x[0], rng/(x[len(x)-1]-x[0])
			for i := range x {
				x[i] = lo + (x[i]-from)*scale
			}
		}
		xs, ys, weights = append(xs, x...), append(ys, y...), append(weights, w...)
		for range x {
			groups = append(groups, g)
		}
	}
	return xs, ys, weights, groups
}

// alike compares two posteriors, the second shifted by d and stretched by k.
func alike(t *rapid.T, what string, p, q curve.ShiftPosterior, k, d float64) {
	t.Helper()
	tol := 2e-3 * p.StdDev()
	for _, at := range []float64{0.02, 0.05, 0.25, 0.5, 0.75, 0.95, 0.98} {
		from := at
		if k < 0 {
			from = 1 - at
		}
		if a, b := p.Quantile(from), (q.Quantile(at)-d)/k; !(math.Abs(a-b) <= tol+1e-9*math.Abs(d)) {
			t.Fatalf("%s: quantile %v is %v, want %v ± %v", what, at, b, a, tol)
		}
	}
}

// Kind D: a test moved by δ, groups that change places, another order of points, other
// units.
func TestPropConvexShifted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs, ys, weights, groups := drawPair(t)
		var c, m curve.ConvexShifted
		if err := c.FitWeighted(xs, ys, weights, groups); err != nil {
			t.Skip(err)
		}
		p := c.Shift(1)
		if lo, hi := p.Quantile(0.05), p.Quantile(0.95); !(lo < p.Mean() && p.Mean() < hi && p.StdDev() > 0) {
			t.Fatalf("%v ± %v, quantiles %v and %v", p.Mean(), p.StdDev(), lo, hi)
		}
		rng := xs[len(xs)-1] - xs[0]
		fit := func(xs, ys, weights []float64, groups []int) curve.ShiftPosterior {
			t.Helper()
			if err := m.FitWeighted(xs, ys, weights, groups); err != nil {
				t.Fatal(err)
			}
			return m.Shift(1)
		}
		d := rng * rapid.Float64Range(-0.3, 0.3).Draw(t, "d")
		moved := slices.Clone(xs)
		swapped := slices.Clone(groups)
		for i, g := range groups {
			moved[i] += d * float64(g)
			swapped[i] = 1 - g
		}
		// The prior's ends do not move by as much: only if no weight lies near them.
		if p.CDF(-rng/2)+p.Survival(rng/2) < 1e-5 {
			alike(t, "moved", p, fit(moved, ys, weights, groups), 1, d)
		}
		alike(t, "swapped", p, fit(xs, ys, weights, swapped), -1, 0)
		perm := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 0)).Perm(len(xs))
		xs2, ys2, w2, g2 := slices.Clone(xs), slices.Clone(ys), slices.Clone(weights), slices.Clone(groups)
		for i, k := range perm {
			xs2[i], ys2[i], w2[i], g2[i] = xs[k], ys[k], weights[k], groups[k]
		}
		alike(t, "reordered", p, fit(xs2, ys2, w2, g2), 1, 0)
		kx, ky := rapid.Float64Range(0.01, 100).Draw(t, "kx"), rapid.Float64Range(0.01, 100).Draw(t, "ky")
		for i := range xs2 {
			xs2[i] *= kx
			ys2[i] = ky*ys2[i] + 3
			w2[i] /= ky * ky
		}
		m.Tilt = 0.2 * ky
		alike(t, "in other units", p, fit(xs2, ys2, w2, g2), kx, 0)
	})
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
			if err := c.FitWeighted(xs, ys, weights, two(7, 7)); err != nil {
				t.Fatal(err)
			}
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
		var xs, ys []float64
		var groups []int
		for g := range k {
			for i := range 6 {
				x := 1.10 + 0.07*float64(i)
				y := 1 + 7*math.Exp(14*(x-0.01*float64(g)-1.45)) + 0.2*rng.NormFloat64()
				xs, ys, groups = append(xs, x), append(ys, y), append(groups, g)
			}
		}
		var c curve.ConvexShifted
		if err := c.Fit(xs, ys, groups); err != nil {
			t.Fatal(err)
		}
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
	if err := c.Fit(pair.xs, pair.ys, pair.groups); err != nil {
		t.Fatal(err)
	}
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
	const k = 10
	var xs, ys, truth []float64
	var groups []int
	for g := range k {
		truth = append(truth, 0.005*float64(g))
		for i := range 6 {
			x := 1.10 + 0.07*float64(i)
			y := 1 + 7*math.Exp(14*(x-truth[g]-1.45))
			y += math.Hypot(0.2, 0.03*y) * rng.NormFloat64()
			xs, ys, groups = append(xs, x), append(ys, y), append(groups, g)
		}
	}
	var c, r curve.ConvexShifted
	reversed := slices.Clone(groups)
	for i, g := range groups {
		reversed[i] = k - 1 - g
	}
	if err := errors.Join(c.Fit(xs, ys, groups), r.Fit(xs, ys, reversed)); err != nil {
		t.Fatal(err)
	}
	first := r.Shift(k - 1)
	for g := 1; g < k; g++ {
		p := c.Shift(g)
		if !(math.Abs(p.Mean()-truth[g]) <= 4*p.StdDev() && p.StdDev() < 0.008) {
			t.Errorf("test %d: %.4f ± %.4f, want %v", g, p.Mean(), p.StdDev(), truth[g])
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

// Bits depend neither on what was fitted before nor on fits at the same time.
func TestConvexShiftedSameBits(t *testing.T) {
	three := slices.Concat(shiftPairs[1].groups, []int{2, 2, 2, 2, 2, 2})
	xs3, ys3 := append(slices.Clone(shiftPairs[1].xs), even(6, 1.1, 1.45)...), append(slices.Clone(shiftPairs[1].ys), 1.2, 1.1, 1.5, 3.2, 5.6, 8.1)
	read := func() (out [6]float64) {
		var c curve.ConvexShifted
		for k, pair := range shiftPairs[:2] {
			if err := c.Fit(pair.xs, pair.ys, pair.groups); err != nil {
				t.Error(err)
				return out
			}
			out[k], out[k+2] = c.Shift(1).Quantile(0.05), c.Shift(1).Mean()
		}
		if err := c.Fit(xs3, ys3, three); err != nil {
			t.Error(err)
			return out
		}
		out[4], out[5] = c.Shift(1).Quantile(0.95), c.Shift(2).Mean()
		return out
	}
	want := read()
	var wg sync.WaitGroup
	for range 4 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			if got := read(); got != want {
				t.Errorf("%v, and %v before", got, want)
			}
		}()
	}
	wg.Wait()
}

func TestConvexShiftedRefuses(t *testing.T) {
	six := even(6, 1, 2)
	xs := append(slices.Clone(six), six...)
	rising := []float64{1, 1.1, 1.3, 2, 4, 8, 1, 1, 1.2, 1.8, 3.4, 7}
	flat := make([]float64, 12)
	for _, c := range []struct {
		name   string
		xs, ys []float64
		groups []int
		is     error
	}{
		{"no points", nil, nil, nil, curve.ErrInput},
		{"one group", xs, rising, make([]int, 12), curve.ErrInput},
		{"a gap in the groups", xs, rising, append(two(6, 5), 3), curve.ErrInput},
		{"too few groups", xs, rising, two(6, 5), curve.ErrInput},
		{"not a number", append(slices.Clone(xs[:11]), math.NaN()), rising, two(6, 6), curve.ErrInput},
		{"immense", xs, append(slices.Clone(rising[:11]), 1e300), two(6, 6), curve.ErrInput},
		{"flat", xs, flat, two(6, 6), curve.ErrUndetermined},
		{"one x in each", []float64{1, 1, 1, 2, 2, 2}, []float64{1, 2, 3, 4, 5, 6}, two(3, 3), curve.ErrUndetermined},
		{"a straight line", xs, []float64{1, 2, 3, 4, 5, 6, 1, 2, 3, 4, 5, 6}, two(6, 6), nil},
	} {
		s := new(curve.ConvexShifted)
		err := s.Fit(c.xs, c.ys, c.groups)
		if c.is == nil {
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		if !errors.Is(err, c.is) || s.Groups() != 0 || s.DegreesOfFreedom() != 0 {
			t.Errorf("%s: %v, want %v; %d groups", c.name, err, c.is, s.Groups())
		}
	}
}

// Two tests that hardly share a range of lactate are far from certain; nothing is not
// a number.
func TestConvexShiftedHardlyOverlap(t *testing.T) {
	truth := func(x float64) float64 { return 1 + 7*math.Exp(14*(x-1.45)) }
	var whole float64
	for _, c := range []struct{ lo1, hi1, lo2, hi2 float64 }{
		{1.10, 1.45, 1.10, 1.45},
		{1.10, 1.25, 1.30, 1.45},
		{1.30, 1.45, 1.10, 1.25},
		{1.10, 1.20, 1.44, 1.45},
		{1.10, 1.12, 1.10, 1.12},
	} {
		var ys []float64
		xs := append(even(5, c.lo1, c.hi1), even(5, c.lo2, c.hi2)...)
		for i, x := range xs {
			ys = append(ys, truth(x)+0.1*math.Sin(7*float64(i)))
		}
		var s curve.ConvexShifted
		err := s.Fit(xs, ys, two(5, 5))
		if errors.Is(err, curve.ErrUndetermined) {
			t.Logf("%v: %v", c, err)
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		p := s.Shift(1)
		lo, hi := p.Quantile(0.05), p.Quantile(0.95)
		if math.IsNaN(lo) || math.IsNaN(hi) || !(lo < p.Mean() && p.Mean() < hi) || !(p.StdDev() > 0) {
			t.Errorf("%v: %v to %v about %v", c, lo, hi, p.Mean())
		}
		below, above := s.Open(1)
		t.Logf("%v: %.4f (%.4f to %.4f), open %v %v", c, p.Mean(), lo, hi, below, above)
		if whole == 0 {
			whole = hi - lo
		} else if !(hi-lo >= 1.5*whole) {
			t.Errorf("%v: %.4f wide, want at least 1.5 times %.4f", c, hi-lo, whole)
		}
	}
}

func TestConvexShiftedAllocs(t *testing.T) {
	pair := shiftPairs[0]
	moved := slices.Clone(pair.xs)
	moved[3] += 0.001
	weights := stated(pair.ys)
	var c curve.ConvexShifted
	var d [1]float64
	refit := func() {
		if err := errors.Join(c.Fit(pair.xs, pair.ys, pair.groups), c.Fit(moved, pair.ys, pair.groups), c.FitWeighted(pair.xs, pair.ys, weights, pair.groups)); err != nil {
			t.Fatal(err)
		}
		p := c.Shift(1).Plus(0.01)
		p.Quantile(0.05)
		p.Survival(0)
		c.Draw(d[:], 0.3)
	}
	refit()
	if n := testing.AllocsPerRun(20, refit); n != 0 {
		t.Errorf("%v allocations, want 0", n)
	}
}

// Any points in any groups: as FuzzShifted.
func FuzzConvexShifted(f *testing.F) {
	f.Add(uint8(0), rawBytes(sevenStages...), []byte{0, 1, 0, 1, 0, 1, 0}, 4.0, 0.2)
	f.Add(uint8(0), rawBytes(1e300, 1, -1e300, 2, 5e-324, 9, 1, 4, 3, 3), []byte{0, 1}, 4.0, 0.2)
	f.Add(uint8(1), []byte{1, 2, 2, 3, 3, 9, 1, 3, 2, 5, 3, 30, 9, 9, 8, 8, 7, 2}, []byte{0, 0, 0, 1, 1, 1, 2}, -1.0, 1e-9)
	f.Add(uint8(2), []byte{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13}, []byte{1, 0}, math.Inf(1), 1e9)
	f.Fuzz(func(t *testing.T, kind uint8, data, group []byte, weight, tilt float64) {
		values := numbers(kind, data)
		var xs, ys []float64
		var groups []int
		for ; len(values) >= 2 && len(xs) < 9; values = values[2:] {
			g := 0
			if i := len(xs); i < len(group) {
				g = int(int8(group[i])) % 3
			}
			xs, ys, groups = append(xs, values[0]), append(ys, values[1]), append(groups, g)
		}
		c := curve.ConvexShifted{Weight: weight, Tilt: tilt}
		if err := c.Fit(xs, ys, groups); err != nil {
			if !errors.Is(err, curve.ErrInput) && !errors.Is(err, curve.ErrUndetermined) {
				t.Fatal(err)
			}
			if c.Groups() != 0 {
				t.Fatalf("after %v there are %d groups", err, c.Groups())
			}
			return
		}
		d := make([]float64, c.Groups()-1)
		c.Draw(d, 0.5)
		for g := range d {
			p := c.Shift(g + 1)
			lo, hi, tail := p.Quantile(0.05), p.Quantile(0.95), p.Plus(1).Survival(0)
			if !(lo <= hi && p.StdDev() >= 0 && tail >= 0 && tail <= 1) || math.IsNaN(p.Mean()+d[g]) || math.IsInf(lo, 0) || math.IsInf(hi, 0) {
				t.Fatalf("group %d: %v ± %v, %v to %v, drawn %v, tail %v", g+1, p.Mean(), p.StdDev(), lo, hi, d[g], tail)
			}
		}
	})
}

func BenchmarkConvexShifted(b *testing.B) {
	for _, k := range []int{2, 3, 10} {
		var xs, ys []float64
		var groups []int
		for g := range k {
			for i, y := range []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9} {
				xs, ys, groups = append(xs, 1.10+0.07*float64(i)+0.003*float64(g)), append(ys, y+0.1*math.Sin(float64(7*(g+i)))), append(groups, g)
			}
		}
		b.Run(map[int]string{2: "groups=2", 3: "groups=3", 10: "groups=10"}[k], func(b *testing.B) {
			var c curve.ConvexShifted
			b.ReportAllocs()
			for b.Loop() {
				if err := c.Fit(xs, ys, groups); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("quantile=plus", func(b *testing.B) {
		var c curve.ConvexShifted
		if err := c.Fit(shiftPairs[0].xs, shiftPairs[0].ys, shiftPairs[0].groups); err != nil {
			b.Fatal(err)
		}
		p := c.Shift(1).Plus(0.01)
		b.ReportAllocs()
		for b.Loop() {
			p.Quantile(0.05)
		}
	})
}
