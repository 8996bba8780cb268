package curve

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
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
// not run concurrently with any other method of it. A copy shares its work space
// with the original: do not fit both at the same time.
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
//	Σ_g p_g²/q_g + N²/D,  N = −Σ_g s_g·p_g/q_g,  D = Σ_g (n_g − s_g²/q_g)
//
// with p_g = Σ e·y, q_g = Σ e², s_g = Σ e over the group, for ys that sum to
// zero over all groups. All but p depend on the xs alone and are kept for the
// grid of rates.
type shiftSearch struct {
	design
	group      []int
	count      []float64 // points in each group
	gridQ      []float64 // groups × rates: 1/q
	gridS      []float64 // groups × rates: s/q
	gridD      []float64 // rates: 1/D
	gridP      []float64 // groups × rates: p
	u          []float64
	unit, mean float64
	score      []float64
	e          []float64
	p, q, s    []float64 // of each group at one rate
	coef       []float64
	level, rss float64
}

// nearStraight is the scaled rate nearest to zero that is searched; below it
// the points lie on parallel straight lines.
const nearStraight = 0.02

func (f *shiftSearch) prepare(xs []float64, groups []int, n int) error {
	if f.same(xs, nil) && slices.Equal(f.group, groups) {
		return nil
	}
	f.group = f.group[:0] // not valid until the end
	if len(xs) < n+2 {
		return fmt.Errorf("curve: found %d points in %d groups, expected at least %d: %w", len(xs), n, n+2, ErrUndetermined)
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
	if err := f.design.prepare(xs, nil); err != nil {
		return err
	}
	f.p, f.q, f.s, f.coef = resize(f.p, n), resize(f.q, n), resize(f.s, n), resize(f.coef, n)
	f.e, f.u = resize(f.e, len(xs)), resize(f.u, len(xs))
	rates := len(f.rates)
	f.score, f.gridD = resize(f.score, rates), resize(f.gridD, rates)
	f.gridQ, f.gridS, f.gridP = resize(f.gridQ, n*rates), resize(f.gridS, n*rates), resize(f.gridP, n*rates)
	clear(f.gridQ)
	clear(f.gridS)
	for i, g := range groups {
		q, s := f.gridQ[g*rates:(g+1)*rates], f.gridS[g*rates:(g+1)*rates]
		for j, e := range f.rowOf(i) {
			q[j] += e * e
			s[j] += e
		}
	}
	clear(f.gridD)
	for g, c := range f.count {
		for j := range rates {
			k := g*rates + j
			// A group far from the steep end may vanish altogether.
			f.gridQ[k] = 1 / max(f.gridQ[k], 0x1p-1000)
			f.gridD[j] += c - f.gridS[k]*f.gridS[k]*f.gridQ[k]
			f.gridS[k] *= f.gridQ[k]
		}
	}
	for j, d := range f.gridD {
		f.gridD[j] = 1 / d
	}
	f.group = append(f.group, groups...)
	return nil
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
	if best == 0 || best == last {
		return 0, fmt.Errorf("curve: an end point stands alone, which leaves the rate open: %w", ErrUndetermined)
	}
	rate, rss := 0.0, math.Inf(1)
	look := func(lo, hi, from float64) {
		if c, r := f.polish(lo, hi, from); r < rss {
			rate, rss = c, r
		}
	}
	for j := 1; j < last; j++ {
		if f.score[j] < lookInto*f.score[best] || !isPeak(f.score, j) {
			continue
		}
		from := vertex(f.rates, f.score, j)
		lo, hi := f.rates[j-1], f.rates[j+1]
		// Zero itself makes the exponential a constant: look on either side.
		if lo < 0 && hi > 0 || hi == 0 {
			look(lo, min(hi, -nearStraight), from)
		}
		if lo < 0 && hi > 0 || lo == 0 {
			look(max(lo, nearStraight), hi, from)
		}
		if lo > 0 || hi < 0 {
			look(lo, hi, from)
		}
	}
	if math.Abs(rate) <= nearStraight*(1+1e-9) {
		return 0, fmt.Errorf("curve: the points lie on parallel straight lines, which have no rate: %w", ErrUndetermined)
	}
	f.rss = f.solve(rate)
	return rate, nil
}

// scan scores every rate of the grid and returns the index of the best.
func (f *shiftSearch) scan() int {
	rates := len(f.rates)
	clear(f.gridP)
	for i, g := range f.group {
		floats.AddScaled(f.gridP[g*rates:(g+1)*rates], f.u[i], f.rowOf(i))
	}
	for j := range f.score {
		v, num := 0.0, 0.0
		for k := j; k < len(f.gridP); k += rates {
			p := f.gridP[k]
			v += p * p * f.gridQ[k]
			num -= f.gridS[k] * p
		}
		f.score[j] = v + num*num*f.gridD[j]
	}
	f.score[f.zero] = f.parallel()
	return floats.MaxIdx(f.score)
}

// parallel returns what parallel straight lines explain.
func (f *shiftSearch) parallel() float64 {
	clear(f.p)
	clear(f.s)
	for i, g := range f.group {
		f.p[g] += f.u[i]
		f.s[g] += f.d[i]
	}
	v, dot, norm := 0.0, 0.0, 0.0
	for g, p := range f.p {
		v += p * p / f.count[g]
	}
	for i, g := range f.group {
		d := f.d[i] - f.s[g]/f.count[g]
		dot += d * f.u[i]
		norm += d * d
	}
	if norm > 0 {
		v += dot * dot / norm
	}
	return v
}

// solve finds level and coef at rate c and returns the residual sum of squares.
func (f *shiftSearch) solve(c float64) float64 {
	f.at(c, f.e)
	clear(f.p)
	clear(f.q)
	clear(f.s)
	for i, e := range f.e {
		g := f.group[i]
		f.p[g] += e * f.u[i]
		f.q[g] += e * e
		f.s[g] += e
	}
	num, den := 0.0, 0.0
	for g, q := range f.q {
		q = max(q, 0x1p-1000)
		num -= f.s[g] * f.p[g] / q
		den += f.count[g] - f.s[g]*f.s[g]/q
	}
	f.level = num / den
	for g, q := range f.q {
		f.coef[g] = (f.p[g] - f.level*f.s[g]) / max(q, 0x1p-1000)
	}
	rss := 0.0
	for i, e := range f.e {
		r := f.u[i] - f.level - f.coef[f.group[i]]*e
		rss += r * r
	}
	return rss
}

// slope returns half the derivative by c of the residual sum of squares: the
// linear parameters are at their best, so that only the basis moves.
func (f *shiftSearch) slope(c float64) float64 {
	f.solve(c)
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

// polish finds the best rate between lo and hi by the secant method on the
// slope, kept inside a shrinking bracket.
func (f *shiftSearch) polish(lo, hi, from float64) (rate, rss float64) {
	c := min(max(from, lo), hi)
	prev := c - 1e-3*(hi-lo)
	if prev < lo {
		prev = c + 1e-3*(hi-lo)
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
		if math.Abs(next-c) <= 1e-10*scale && next >= lo-1e-9*scale && next <= hi+1e-9*scale {
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
	return c, f.solve(c)
}
