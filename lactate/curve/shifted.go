package curve

import (
	"fmt"
	"math"
)

// Shifted is one exponential-plus-constant shape that several groups of points
// share, each moved along the x axis:
//
//	y = A + B·exp(C·(x − Shifts[g]))
//
// for a point of group g. Group 0 is where the others are measured from:
// Shifts[0] is 0. For step tests a group is a test, and a positive shift says
// that the curve has moved to the right: more intensity for the same lactate.
//
// The zero value predicts 0 everywhere. Fit overwrites the receiver and must
// not run concurrently with any other method of it.
type Shifted struct {
	A, B, C float64
	Shifts  []float64

	rss    float64
	dof    int
	groups []int
	search shiftSearch
}

// Fit finds the least-squares curve. groups[i] is the group of point i,
// numbered from 0 without gaps.
//
// B·exp(−C·Shifts[g]) is one more linear coefficient for each group, so that
// the fit is the search over C alone that [Exponential.Fit] makes, with its
// promises: global optimum, no start values, repeated and unsorted xs, no
// allocation when as many points are fitted again.
//
// The error wraps [ErrInput], or [ErrUndetermined] where the points leave the
// rate or a shift open.
func (s *Shifted) Fit(xs, ys []float64, groups []int) error {
	s.A, s.B, s.C, s.rss, s.dof = 0, 0, 0, 0, 0
	s.Shifts = s.Shifts[:0]
	s.groups = s.groups[:0]
	if err := checkPoints(xs, ys, nil); err != nil {
		return err
	}
	n, err := countGroups(groups, len(xs))
	if err != nil {
		return err
	}
	f := &s.search
	if err := f.prepare(xs, groups, n); err != nil {
		return err
	}
	c, err := f.run(ys)
	if err != nil {
		return err
	}
	// Coefficients belong to the exponential anchored at its steep end.
	anchor := f.max
	if c < 0 {
		anchor = f.max - f.rng
	}
	rate := c / f.rng
	b0 := f.coef[0]
	b := b0 * f.unit * math.Exp(-rate*anchor)
	if !(math.Abs(b) >= 0x1p-1000 && math.Abs(b) <= 0x1p1000 && finite(f.unit*f.level)) {
		return fmt.Errorf("curve: B·exp(C·x) with rate %g leaves the range of numbers at x = 0; shift the xs nearer to zero: %w", rate, ErrInput)
	}
	s.Shifts = append(s.Shifts, 0)
	for _, bg := range f.coef[1:] {
		if !(bg/b0 > 0) {
			s.Shifts = s.Shifts[:0]
			return fmt.Errorf("curve: the groups do not rise in the same sense, so that no shift turns one into the other: %w", ErrUndetermined)
		}
		s.Shifts = append(s.Shifts, -math.Log(bg/b0)/rate)
	}
	s.A, s.B, s.C = f.mean+f.unit*f.level, b, rate
	s.rss, s.dof = f.rss*f.unit*f.unit, len(xs)-n-2
	s.groups = append(s.groups, groups...)
	return nil
}

// Predict returns the curve of a group at x.
func (s *Shifted) Predict(x float64, group int) float64 {
	if len(s.Shifts) == 0 {
		return 0
	}
	return s.A + s.B*math.Exp(s.C*(x-s.Shifts[group]))
}

// RSS returns the residual sum of squares of the last fit.
func (s *Shifted) RSS() float64 { return s.rss }

// DegreesOfFreedom returns the number of points of the last fit less its
// parameters: A, C and one coefficient for each group.
func (s *Shifted) DegreesOfFreedom() int { return s.dof }

func countGroups(groups []int, points int) (int, error) {
	if len(groups) != points {
		return 0, fmt.Errorf("curve: found %d groups for %d points: %w", len(groups), points, ErrInput)
	}
	n := 0
	for i, g := range groups {
		if g < 0 || g >= points {
			return 0, fmt.Errorf("curve: point %d: found group %d, expected 0 to %d: %w", i+1, g, points-1, ErrInput)
		}
		n = max(n, g+1)
	}
	return n, nil
}

// A shiftSearch is the search over the scaled rate for several groups.
//
// For a rate with anchored exponentials e (see [design]) the model is
// y = level + coef[g]·e. Per group the best coefficient follows from the level,
// and the level from all groups; what the rate explains is
//
//	Σ_g p_g² + N²/D,  p_g = Σ ê·y,  N = Σ_g (Σ y − E_g·p_g),  D = Σ_g (n_g − E_g²)
//
// with ê the exponential normalised within its group and E_g its sum. All but
// p and N depend on the xs alone and are kept for the grid of rates.
type shiftSearch struct {
	design     // for the scaled distances and the ends of the grid
	group      []int
	count      []float64 // points in each group
	unitRows   []float64 // rates × points: ê
	sums       []float64 // rates × groups: E
	den        []float64 // rates: D
	u          []float64
	unit, mean float64
	score      []float64
	e          []float64
	p, see, se []float64
	coef       []float64
	level, rss float64
}

// nearStraight is the scaled rate nearest to zero that is searched; below it
// the points lie on parallel straight lines.
const nearStraight = 0.02

func (f *shiftSearch) prepare(xs []float64, groups []int, n int) error {
	if f.same(xs, nil) && equalInts(f.group, groups) {
		return nil
	}
	f.group = f.group[:0]
	f.xs = f.xs[:0]
	if err := f.scale(xs); err != nil {
		return err
	}
	f.count = resize(f.count, n)
	clear(f.count)
	for _, g := range groups {
		f.count[g]++
	}
	for g, c := range f.count {
		if c == 0 {
			return fmt.Errorf("curve: found no point of group %d, expected groups numbered without gaps: %w", g, ErrInput)
		}
	}
	if points := len(xs); points < n+2 {
		return fmt.Errorf("curve: found %d points in %d groups, expected at least %d: %w", points, n, n+2, ErrUndetermined)
	}
	f.p, f.see, f.se, f.coef = resize(f.p, n), resize(f.see, n), resize(f.se, n), resize(f.coef, n)
	f.e, f.u = resize(f.e, len(xs)), resize(f.u, len(xs))
	// Zero itself makes the exponential a constant; its place is taken by
	// the nearest rates on either side.
	zero := f.zero
	f.rates[zero] = -nearStraight
	f.rates = append(f.rates, 0)
	copy(f.rates[zero+2:], f.rates[zero+1:])
	f.rates[zero+1] = nearStraight
	f.score = resize(f.score, len(f.rates))
	f.unitRows = resize(f.unitRows, len(f.rates)*len(xs))
	f.sums = resize(f.sums, len(f.rates)*n)
	f.den = resize(f.den, len(f.rates))
	for j, c := range f.rates {
		row := f.unitRows[j*len(xs) : (j+1)*len(xs)]
		f.design.at(c, row)
		sums := f.sums[j*n : (j+1)*n]
		clear(f.see)
		for i, e := range row {
			f.see[groups[i]] += e * e
		}
		clear(sums)
		for i := range row {
			// A group far from the steep end may vanish altogether.
			row[i] /= math.Sqrt(max(f.see[groups[i]], math.SmallestNonzeroFloat64))
			sums[groups[i]] += row[i]
		}
		d := 0.0
		for g, s := range sums {
			d += f.count[g] - s*s
		}
		f.den[j] = d
	}
	f.xs = append(f.xs, xs...)
	f.group = append(f.group[:0], groups...)
	return nil
}

func equalInts(a, b []int) bool {
	if len(a) != len(b) {
		return false
	}
	for i, v := range a {
		if v != b[i] {
			return false
		}
	}
	return true
}

// run finds the scaled rate and leaves level, coef and rss for it.
func (f *shiftSearch) run(ys []float64) (float64, error) {
	large := 0.0
	for _, y := range ys {
		large = max(large, math.Abs(y))
	}
	_, exp := math.Frexp(large)
	f.unit = math.Ldexp(1, min(max(exp, -1000), 1000))
	mean := 0.0
	for i, y := range ys {
		f.u[i] = y / f.unit
		mean += f.u[i] / float64(len(ys))
	}
	spread := 0.0
	for i := range f.u {
		f.u[i] -= mean
		spread = max(spread, math.Abs(f.u[i]))
	}
	f.mean = mean * f.unit
	if !(spread > 1e-14) {
		return 0, fmt.Errorf("curve: all ys are %g, which leaves the rate open: %w", ys[0], ErrUndetermined)
	}
	best := f.scan()
	last := len(f.rates) - 1
	top := f.score[best]
	rate, rss := 0.0, math.Inf(1)
	for j, v := range f.score {
		if v < lookInto*top || !isPeak(f.score, j) || j == 0 || j == last {
			continue
		}
		if c, r := f.polish(j); r < rss {
			rate, rss = c, r
		}
	}
	if best == 0 || best == last || math.IsInf(rss, 1) {
		return 0, fmt.Errorf("curve: an end point stands alone, which leaves the rate open: %w", ErrUndetermined)
	}
	if math.Abs(rate) <= nearStraight*(1+1e-9) {
		return 0, fmt.Errorf("curve: the points lie on parallel straight lines, which have no rate: %w", ErrUndetermined)
	}
	f.rss = f.at(rate)
	return rate, nil
}

func (f *shiftSearch) scan() int {
	n, k := len(f.u), len(f.count)
	best := 0
	for j := range f.rates {
		row, sums := f.unitRows[j*n:(j+1)*n], f.sums[j*k:(j+1)*k]
		clear(f.p)
		for i, e := range row {
			f.p[f.group[i]] += e * f.u[i]
		}
		// The us sum to zero over all groups.
		v, num := 0.0, 0.0
		for g, p := range f.p {
			v += p * p
			num -= sums[g] * p
		}
		f.score[j] = v + num*num/f.den[j]
		if f.score[j] > f.score[best] {
			best = j
		}
	}
	return best
}

// at solves the linear part at rate c and returns the residual sum of squares.
func (f *shiftSearch) at(c float64) float64 {
	f.design.at(c, f.e)
	clear(f.p)
	clear(f.see)
	clear(f.se)
	for i, e := range f.e {
		g := f.group[i]
		f.p[g] += e * f.u[i]
		f.see[g] += e * e
		f.se[g] += e
	}
	num, den := 0.0, 0.0
	for g, q := range f.see {
		q = max(q, math.SmallestNonzeroFloat64)
		num -= f.se[g] * f.p[g] / q
		den += f.count[g] - f.se[g]*f.se[g]/q
	}
	f.level = num / den
	for g, q := range f.see {
		f.coef[g] = (f.p[g] - f.level*f.se[g]) / max(q, math.SmallestNonzeroFloat64)
	}
	rss := 0.0
	for i, e := range f.e {
		r := f.u[i] - f.level - f.coef[f.group[i]]*e
		rss += r * r
	}
	return rss
}

// slope returns the derivative by c of the residual sum of squares: the linear
// parameters are at their best, so that only the basis moves.
func (f *shiftSearch) slope(c float64) float64 {
	f.at(c)
	sum := 0.0
	for i, e := range f.e {
		b := f.coef[f.group[i]]
		r := f.u[i] - f.level - b*e
		d := -f.d[i]
		if c < 0 {
			d = 1 + d
		}
		sum -= r * b * d * e
	}
	return sum
}

// polish finds the best rate between the neighbours of grid rate j by the
// secant method on the slope, kept inside a shrinking bracket.
func (f *shiftSearch) polish(j int) (rate, rss float64) {
	lo, hi := f.rates[j-1], f.rates[j+1]
	if lo < 0 && hi > 0 {
		// Next to the straight line: stay on the side of the peak.
		if f.rates[j] > 0 {
			lo = f.rates[j]
		} else {
			hi = f.rates[j]
		}
	}
	c := vertex(f.rates, f.score, j)
	c = min(max(c, lo), hi)
	step := (hi - lo) * 1e-3
	prev := c - step
	if prev < lo {
		prev = c + step
	}
	sp := f.slope(prev)
	for range 100 {
		s := f.slope(c)
		if s < 0 {
			lo = max(lo, c)
		} else {
			hi = min(hi, c)
		}
		next := c - s*(c-prev)/(s-sp)
		scale := max(1, math.Abs(c))
		near := math.Abs(next-c) <= 1e-10*scale
		if near && next >= lo-1e-9*scale && next <= hi+1e-9*scale {
			c = next
			break
		}
		if !(next > lo && next < hi) {
			next = lo/2 + hi/2
		}
		prev, sp, c = c, s, next
		if hi-lo <= 1e-14*scale {
			break
		}
	}
	return c, f.at(c)
}
