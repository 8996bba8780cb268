// Package rate knows how to find the rate of exponentials through points, by variable
// projection (Golub & Pereyra 1973, SIAM J Numer Anal 10:413–432): of one exponential, and
// of one that several groups of points share, each with a coefficient of its own.
package rate

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
)

// A Solution is a fitted exponential in a form that stays accurate for every
// scaled rate: y = Top + Beta·expm1(Rate·(x − max)/rng), see [Search.Span].
type Solution struct {
	Rate, Top, Beta, RSS float64
}

// A Search finds the scaled rate that leaves the smallest residual sum of
// squares. It holds the work space.
type Search struct {
	design design
	u      []float64 // ys about their mean, see centre
	wu     []float64 // and times the weights

	kind       basisKind
	g          []float64 // the basis at a rate
	reach      []float64 // of an exponential: distances from its steep end
	g1, g2, g3 []float64 // of straightened: the first three derivatives by the rate

	score []float64
}

// Fit fits y = A + B·exp(C·x) to points that have been checked.
func (s *Search) Fit(xs, ys, weights []float64) (Solution, error) {
	g := &s.design
	if err := g.prepare(xs, weights); err != nil {
		return Solution{}, err
	}
	points.Share(len(ys), &s.u, &s.wu, &s.g, &s.g1, &s.g2, &s.g3)
	unit, mean, err := centre(s.u, g, ys)
	if err != nil {
		return Solution{}, err
	}
	for i, u := range s.u {
		s.wu[i] = u * g.ws[i]
	}
	s.score = points.Resize(s.score, len(g.rates))
	best := g.explained(s.score, s.wu)
	first, last := wing, len(g.rates)-1-wing
	top := s.score[best]
	var sol Solution
	found := false
	spike := false
	for j := first; j <= last; j++ {
		if s.score[j] < lookInto*top || !isPeak(s.score, j) {
			continue
		}
		if j == first || j == last {
			// At the end of the grid the end point stands alone.
			spike = spike || j == best
			continue
		}
		if c := s.polish(g, j); !found || c.RSS < sol.RSS {
			sol, found = c, true
		}
	}
	total := 0.0
	for i, u := range s.u {
		total += u * s.wu[i]
	}
	if !found || spike && total-top < sol.RSS {
		end := "highest"
		if best == first {
			end = "lowest"
		}
		return Solution{}, fmt.Errorf("curve: the point at the %s x stands alone, which leaves the rate open: %w", end, points.ErrUndetermined)
	}
	if math.Abs(sol.Rate) < straight {
		return Solution{}, fmt.Errorf("curve: the points lie on a straight line, which has no rate: %w", points.ErrUndetermined)
	}
	sol.Top = mean + unit*sol.Top
	sol.Beta *= unit
	sol.RSS *= unit * unit
	if !points.Finite(sol.Top) || !points.Finite(sol.Beta) || !points.Finite(sol.RSS) {
		return Solution{}, fmt.Errorf("curve: the ys are too large to square: %w", points.ErrInput)
	}
	return sol, nil
}

// Span returns the largest x of the last fit, and the range.
func (s *Search) Span() (max, rng float64) { return s.design.max, s.design.rng }

// A basisKind says which function spans the curves together with a constant.
type basisKind int

const (
	straightened basisKind = iota // expm1(c·below)/c, for rates near zero
	steepAtMax                    // exp(c·below)
	steepAtMin                    // exp(c·above)
)

// Below this scaled rate the points lie on a straight line as far as numbers
// can tell, and A and B grow without bound.
const straight = 1e-6

// Grid maxima that explain less than this share of what the best one explains
// are ignored.
const lookInto = 0.9

// polish finds the best rate between the neighbours of grid rate j, by Halley's
// method on the slope of log(explained sum of squares), kept inside a shrinking
// bracket. From the grid it takes two or three evaluations, the first of which
// alone computes exponentials.
func (s *Search) polish(g *design, j int) Solution {
	lo, hi := g.rates[j-1], g.rates[j+1]
	c := vertex(g.rates, s.score, j)
	s.basis(g, c)
	for range 100 {
		slope, bend, third := s.slope(g)
		if slope > 0 {
			lo = c
		} else {
			hi = c
		}
		step := -2 * slope * bend / (2*bend*bend - slope*third)
		scale := max(1, math.Abs(c))
		if bend < 0 && math.Abs(step) <= 2e-5*scale {
			// The next step would be as small as this one's cube.
			s.move(step)
			return s.solve(g, c+step)
		}
		if !(bend < 0) || !(c+step > lo && c+step < hi) {
			// The step leads away from the maximum; halve the bracket.
			step = lo/2 + hi/2 - c
		}
		if hi-lo <= 1e-15*scale {
			break
		}
		c += step
		if s.kind == straightened || math.Abs(step) > nudgeLimit {
			s.basis(g, c)
		} else {
			s.move(step)
		}
	}
	return s.solve(g, c)
}

// isPeak reports whether score[j] is not below its neighbours.
func isPeak(score []float64, j int) bool {
	return score[j-1] <= score[j] && score[j+1] < score[j]
}

// vertex returns the rate at the top of the parabola through the scores of
// grid rates j−1, j, j+1.
func vertex(rates, score []float64, j int) float64 {
	a, b := rates[j]-rates[j-1], rates[j+1]-rates[j]
	left, right := (score[j-1]-score[j])*b, (score[j+1]-score[j])*a
	if bend := left + right; bend < 0 {
		return rates[j] + (left*b-right*a)/(2*bend)
	}
	return rates[j]
}

// basis fills g with a function that spans the same curves as exp(c·below)
// together with a constant. Beyond |c| = √2 it is the exponential anchored at
// its steep end; near zero it is expm1(c·below)/c, which passes smoothly
// through the straight line at c = 0, with its first three derivatives by c.
func (s *Search) basis(g *design, c float64) {
	if math.Abs(c) > math.Sqrt2 {
		s.kind = steepAtMax
		if c < 0 {
			s.kind = steepAtMin
		}
		s.reach = g.reach(c)
		for i, v := range s.reach {
			s.g[i] = math.Exp(c * v)
		}
		return
	}
	s.kind = straightened
	for i, v := range g.below {
		p, p1, p2, p3 := phi(c * v)
		s.g[i], s.g1[i], s.g2[i], s.g3[i] = v*p, v*v*p1, v*v*v*p2, v*v*v*v*p3
	}
}

// move moves the basis by a step of the rate: at most [nudgeLimit], near zero
// such that the cube of the step vanishes.
func (s *Search) move(step float64) {
	if s.kind != straightened {
		nudge(s.g, s.reach, step)
		return
	}
	for i := range s.g {
		s.g[i] += step * (s.g1[i] + step/2*(s.g2[i]+step/3*s.g3[i]))
	}
}

// Largest step for which [nudge] is exact to the last bit.
const nudgeLimit = 1. / 8

// nudge multiplies e by exp(step·v) for |v| ≤ 1.
func nudge(e, v []float64, step float64) {
	if math.Abs(step) < 1e-4 {
		for i, v := range v {
			z := step * v
			e[i] += e[i] * z * (1 + z*(1./2+z*(1./6)))
		}
		return
	}
	for i, v := range v {
		z := step * v
		e[i] += e[i] * z * (1 + z*(1./2+z*(1./6+z*(1./24+z*(1./120+z*(1./720+z*(1./5040+z*(1./40320+z*(1./362880)))))))))
	}
}

// phi returns (exp(z)−1)/z = Σ zᵏ/(k+1)! and its first three derivatives, for
// |z| ≤ √2: twenty terms reach the last bit.
func phi(z float64) (p, p1, p2, p3 float64) {
	const terms = 20
	for k := terms; k >= 0; k-- {
		p3 = p3*z + 3*p2
		p2 = p2*z + 2*p1
		p1 = p1*z + p
		p = p*z + inverseFactorial[k+1]
	}
	return p, p1, p2, p3
}

// 1/k!, rounded by the compiler from exact constants.
var inverseFactorial = [...]float64{
	1, 1, 1. / 2, 1. / 6, 1. / 24, 1. / 120, 1. / 720, 1. / 5040, 1. / 40320, 1. / 362880,
	1. / 3628800, 1. / 39916800, 1. / 479001600, 1. / 6227020800, 1. / 87178291200,
	1. / 1307674368000, 1. / 20922789888000, 1. / 355687428096000, 1. / 6402373705728000,
	1. / 121645100408832000, 1. / 2432902008176640000, 1. / (2432902008176640000 * 21),
}

// slope returns the first three derivatives by the rate of the logarithm of the
// explained sum of squares s²/q, with s = Σ w·u·g and q = Σ w·(g − ḡ)².
func (s *Search) slope(g *design) (first, second, third float64) {
	var s0, s1, s2, s3, m0, m1, m2, m3, q0, q1, q2, q3 float64
	if s.kind != straightened {
		// The derivatives of g are g times powers of v, those of g² are
		// g² times powers of 2v.
		wu, ws, reach := s.wu[:len(s.g)], g.ws[:len(s.g)], s.reach[:len(s.g)]
		for i, b := range s.g {
			v := reach[i]
			x := wu[i] * b
			y := ws[i] * b
			z := y * b
			s0 += x
			m0 += y
			q0 += z
			x *= v
			y *= v
			z *= v
			s1 += x
			m1 += y
			q1 += z
			x *= v
			y *= v
			z *= v
			s2 += x
			m2 += y
			q2 += z
			s3 += x * v
			m3 += y * v
			q3 += z * v
		}
		q2, q3 = 2*q2, 4*q3
	} else {
		for i, b := range s.g {
			b1, b2, b3, wu, w := s.g1[i], s.g2[i], s.g3[i], s.wu[i], g.ws[i]
			s0 += wu * b
			s1 += wu * b1
			s2 += wu * b2
			s3 += wu * b3
			m0 += w * b
			m1 += w * b1
			m2 += w * b2
			m3 += w * b3
			q0 += w * b * b
			q1 += w * b * b1
			q2 += w * (b1*b1 + b*b2)
			q3 += w * (3*b1*b2 + b*b3)
		}
	}
	per := 1 / g.total
	q0 -= m0 * m0 * per
	q1 = 2 * (q1 - m0*m1*per)
	q2 = 2 * (q2 - (m1*m1+m0*m2)*per)
	q3 = 2 * (q3 - (3*m1*m2+m0*m3)*per)
	per = 1 / s0
	s1, s2, s3 = s1*per, s2*per, s3*per
	per = 1 / q0
	q1, q2, q3 = q1*per, q2*per, q3*per
	return 2*s1 - q1,
		2*(s2-s1*s1) - (q2 - q1*q1),
		2*(s3-3*s2*s1+2*s1*s1*s1) - (q3 - 3*q2*q1 + 2*q1*q1*q1)
}

// solve computes the linear parameters and the residuals for the basis in
// place, which stands at rate c.
func (s *Search) solve(g *design, c float64) Solution {
	var mean, dot, norm float64
	for i, b := range s.g {
		mean += g.ws[i] * b
	}
	mean /= g.total
	for i, b := range s.g {
		b -= mean
		dot += s.wu[i] * b
		norm += g.ws[i] * b * b
	}
	beta := dot / norm
	rss := 0.0
	for i, b := range s.g {
		r := s.u[i] - beta*(b-mean)
		rss += g.ws[i] * r * r
	}
	sol := Solution{Rate: c, RSS: rss}
	// From u = beta·(g − mean) to top + β·expm1(c·below): the basis is
	// exp(c·below), exp(c)·exp(c·below) or expm1(c·below)/c.
	switch s.kind {
	case straightened:
		sol.Beta = beta / c
		sol.Top = -beta * mean
	case steepAtMax:
		sol.Beta = beta
		sol.Top = beta * (1 - mean)
	case steepAtMin:
		sol.Beta = beta * math.Exp(c)
		sol.Top = sol.Beta - beta*mean
	}
	return sol
}
