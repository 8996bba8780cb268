package rate

import (
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate/curve/internal/points"
	"gonum.org/v1/gonum/floats"
)

// A Shared is the search over the scaled rate of an exponential that several groups share.
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
type Shared struct {
	design
	group      []int
	count      []float64 // points in each group
	gridQ      []float64 // groups × rates: 1/q
	gridS      []float64 // groups × rates: s/q
	gridD      []float64 // rates: 1/D
	gridP      []float64 // groups × rates: p
	u          []float64
	score      []float64
	e          []float64 // exponentials at one rate
	at         []moments // and what they come to in each group
	coef       []float64
	level, rss float64
}

// A SharedSolution is a fitted exponential that groups share, in a form that stays accurate
// for every scaled rate:
//
//	y = Mean + Unit·(Level + Coef[g]·exp(Rate·(x − Anchor)/Range))
//
// Its residual sum of squares is RSS·Unit². Coef holds until the next fit.
type SharedSolution struct {
	Rate, Mean, Unit, Level, RSS float64
	Coef                         []float64
	Max, Range                   float64 // of the xs
	Anchor                       float64 // the steep end of the xs
}

// moments are the sums over one group, with the first three derivatives by the
// rate.
type moments struct{ p, q, s jet }

// nearStraight is the scaled rate nearest to zero that is searched; below it
// the points lie on parallel straight lines.
const nearStraight = 0.02

func (f *Shared) prepare(xs []float64, groups []int, n int) error {
	if f.same(xs, nil) && slices.Equal(f.group, groups) {
		return nil
	}
	f.group = f.group[:0] // not valid until the end
	if len(xs) < n+2 {
		return fmt.Errorf("curve: found %d points in %d groups, want at least %d: %w", len(xs), n, n+2, points.ErrUndetermined)
	}
	var err error
	if f.count, err = points.ByGroup(f.count, groups, n); err != nil {
		return err
	}
	if err := f.design.lay(xs, nil); err != nil {
		return err
	}
	f.at, f.coef = points.Resize(f.at, n), points.Resize(f.coef, n)
	points.Share(len(xs), &f.e, &f.u)
	rates := len(f.rates)
	points.Share(rates, &f.score, &f.gridD)
	points.Share(n*rates, &f.gridQ, &f.gridS, &f.gridP)
	clear(f.gridS)
	for i, g := range groups {
		row, from := f.rowOf(i)
		floats.Add(f.gridS[g*rates+from:][:len(row)], row)
	}
	clear(f.gridD)
	for g, count := range f.count {
		q, s := f.gridQ[g*rates:][:rates], f.gridS[g*rates:][:rates]
		for j := wing; j < f.zero; j++ {
			q[j] = inverseOf(s[j-wing])
		}
		for j := f.zero + 1; j < rates-wing; j++ {
			q[j] = inverseOf(s[j+wing])
		}
		for j := wing; j < rates-wing; j++ {
			f.gridD[j] += count - s[j]*s[j]*q[j]
			s[j] *= q[j]
		}
	}
	for j := wing; j < rates-wing; j++ {
		f.gridD[j] = 1 / f.gridD[j]
	}
	f.group = append(f.group, groups...)
	return nil
}

// inverseOf returns 1/q, and zero for a group so far from the steep end that its
// exponentials vanish.
func inverseOf(q float64) float64 {
	if q < 0x1p-500 {
		return 0
	}
	return 1 / q
}

// Fit fits y = A + B[g]·exp(C·x) to points that have been checked, in groups 0 to n−1.
func (f *Shared) Fit(xs, ys []float64, groups []int, n int) (SharedSolution, error) {
	if err := f.prepare(xs, groups, n); err != nil {
		return SharedSolution{}, err
	}
	unit, mean, err := centre(f.u, &f.design, ys)
	if err != nil {
		return SharedSolution{}, err
	}
	best := f.scan()
	first, last := wing, len(f.rates)-1-wing
	if best == first || best == last {
		return SharedSolution{}, fmt.Errorf("curve: an end point stands alone, which leaves the rate open: %w", points.ErrUndetermined)
	}
	rate, rss, standing := 0.0, math.Inf(1), 0.0
	look := func(lo, hi, from float64) {
		standing = f.polish(lo, hi, from)
		if f.rss < rss {
			rate, rss = standing, f.rss
		}
	}
	for j := first + 1; j < last; j++ {
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
	if rate != standing {
		f.basis(rate)
		f.solve(rate)
	}
	if math.Abs(rate) <= nearStraight*(1+1e-9) {
		return SharedSolution{}, fmt.Errorf("curve: the points lie on parallel straight lines, which have no rate: %w", points.ErrUndetermined)
	}
	anchor := f.max
	if rate < 0 {
		anchor = f.max - f.rng
	}
	return SharedSolution{
		Rate: rate, Mean: mean, Unit: unit, Level: f.level, RSS: f.rss, Coef: f.coef,
		Max: f.max, Range: f.rng, Anchor: anchor,
	}, nil
}

// scan scores every rate of the grid and returns the index of the best.
func (f *Shared) scan() int {
	rates := len(f.rates)
	clear(f.gridP)
	for i, g := range f.group {
		row, from := f.rowOf(i)
		at := g*rates + from
		floats.AddScaled(f.gridP[at:at+len(row)], f.u[i], row)
	}
	clear(f.score)
	f.score[f.zero] = f.parallel()
	best, most := f.zero, f.score[f.zero]
	for j := wing; j < rates-wing; j++ {
		if j == f.zero {
			continue
		}
		v, num := 0.0, 0.0
		for k := j; k < len(f.gridP); k += rates {
			p := f.gridP[k]
			v += p * p * f.gridQ[k]
			num -= f.gridS[k] * p
		}
		v += num * num * f.gridD[j]
		f.score[j] = v
		if v > most {
			best, most = j, v
		}
	}
	return best
}

// parallel returns what parallel straight lines explain.
func (f *Shared) parallel() float64 {
	v, dot, norm := 0.0, 0.0, 0.0
	clear(f.at)
	for i, g := range f.group {
		m := &f.at[g]
		m.p.a += f.u[i]
		m.s.a += f.below[i]
	}
	for g := range f.at {
		m := &f.at[g]
		v += m.p.a * m.p.a / f.count[g]
		m.s.a /= f.count[g]
	}
	for i, g := range f.group {
		d := f.below[i] - f.at[g].s.a
		dot += d * f.u[i]
		norm += d * d
	}
	if norm > 0 {
		v += dot * dot / norm
	}
	return v
}

// polish finds the best rate between lo and hi by Halley's method on the slope
// of the explained sum of squares, kept inside a shrinking bracket, and leaves
// level, coef and rss for it.
func (f *Shared) polish(lo, hi, from float64) float64 {
	c := min(max(from, lo), hi)
	f.basis(c)
	bend := 0.0
	for range 100 {
		e := f.explainedAt(c)
		if e.b > 0 {
			lo = max(lo, c)
		} else {
			hi = min(hi, c)
		}
		bend = 2 * e.c
		step := -2 * e.b * bend / (2*bend*bend - 6*e.b*e.d)
		scale := max(1, math.Abs(c))
		if bend < 0 && math.Abs(step) <= 2e-5*scale {
			// The next step would be as small as this one's cube.
			c = f.move(c, step)
			break
		}
		if !(bend < 0) || !(c+step > lo && c+step < hi) {
			step = lo/2 + hi/2 - c
		}
		if hi-lo <= 1e-15*scale {
			break
		}
		c = f.move(c, step)
	}
	// Near zero the explained sum of squares is a small difference of large
	// numbers: the residuals have the last word.
	for tries := 3; ; tries-- {
		step := -2 * f.solve(c) / bend
		if tries == 0 || !(bend < 0) || math.Abs(step) <= 1e-12*max(1, math.Abs(c)) || !(c+step >= lo && c+step <= hi) {
			return c
		}
		c = f.move(c, step)
	}
}

// basis computes the exponentials at rate c.
func (f *Shared) basis(c float64) {
	for i, v := range f.reach(c) {
		f.e[i] = math.Exp(c * v)
	}
}

// move takes the exponentials from rate c to c + step, which it returns.
func (f *Shared) move(c, step float64) float64 {
	if math.Abs(step) > nudgeLimit {
		f.basis(c + step)
	} else {
		nudge(f.e, f.reach(c), step)
	}
	return c + step
}

// explainedAt returns the explained sum of squares at rate c, the rate of the
// exponentials in place.
func (f *Shared) explainedAt(c float64) jet {
	clear(f.at)
	reach := f.reach(c)
	for i, e := range f.e {
		m, v := &f.at[f.group[i]], reach[i]
		x := f.u[i] * e
		y := e * e
		m.p.a += x
		m.s.a += e
		m.q.a += y
		e *= v
		x *= v
		y *= v
		m.p.b += x
		m.s.b += e
		m.q.b += y
		e *= v
		x *= v
		y *= v
		m.p.c += x
		m.s.c += e
		m.q.c += y
		m.p.d += x * v
		m.s.d += e * v
		m.q.d += y * v
	}
	var sum, num, den jet
	for g := range f.at {
		m := &f.at[g]
		den.a += f.count[g]
		if m.q.a < 0x1p-500 {
			continue
		}
		// From sums of powers of v to coefficients of the powers of the step.
		p := jet{m.p.a, m.p.b, m.p.c / 2, m.p.d / 6}
		s := jet{m.s.a, m.s.b, m.s.c / 2, m.s.d / 6}
		q := jet{m.q.a, 2 * m.q.b, 2 * m.q.c, m.q.d * (4. / 3)}
		r := q.inverse()
		pr := p.times(r)
		sum = sum.plus(p.times(pr))
		num = num.plus(s.times(pr))
		den = den.minus(s.times(s.times(r)))
	}
	return sum.plus(num.times(num).times(den.inverse()))
}

// solve finds level, coef and rss at rate c, the rate of the exponentials in
// place, and returns minus half the derivative by c of the residual sum of
// squares. The linear parameters are at their best: only the basis moves.
func (f *Shared) solve(c float64) float64 {
	clear(f.at)
	for i, e := range f.e {
		m := &f.at[f.group[i]]
		m.p.a += e * f.u[i]
		m.q.a += e * e
		m.s.a += e
	}
	num, den := 0.0, 0.0
	for g := range f.at {
		m := &f.at[g]
		m.q.b = 1 / max(m.q.a, 0x1p-1000)
		num -= m.s.a * m.p.a * m.q.b
		den += f.count[g] - m.s.a*m.s.a*m.q.b
	}
	f.level = num / den
	for g := range f.at {
		m := &f.at[g]
		f.coef[g] = (m.p.a - f.level*m.s.a) * m.q.b
	}
	f.rss = 0
	slope := 0.0
	reach := f.reach(c)
	for i, e := range f.e {
		be := f.coef[f.group[i]] * e
		r := f.u[i] - f.level - be
		f.rss += r * r
		slope += r * be * reach[i]
	}
	return slope
}
