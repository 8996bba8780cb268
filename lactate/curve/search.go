package curve

import (
	"fmt"
	"math"
)

// A solution is a fitted exponential in a form that stays accurate for every
// scaled rate: y = top + beta·expm1(−rate·d), with d as in [design].
type solution struct {
	rate, top, beta, rss float64
}

// A search finds the scaled rate that leaves the smallest residual sum of
// squares. It holds the work space.
type search struct {
	u  []float64 // ys about their mean, in units of a power of two
	wu []float64 // and times the weights
	// Basis at a rate, and its first three derivatives by the rate.
	g, g1, g2, g3 []float64

	score      []float64
	unit, mean float64
}

// Below this scaled rate the points lie on a straight line as far as numbers
// can tell, and A and B grow without bound.
const straight = 1e-6

// Grid maxima that explain less than this share of what the best one does not
// leave are not looked into further.
const lookInto = 0.9

func (s *search) run(g *design, ys []float64) (solution, error) {
	if err := s.centre(g, ys); err != nil {
		return solution{}, err
	}
	best := s.scan(g)
	last := len(g.rates) - 1
	top := s.score[best]
	var sol solution
	found := false
	spike := false
	for j, v := range s.score {
		if v < lookInto*top || !isPeak(s.score, j) {
			continue
		}
		if j == 0 || j == last {
			// The grid ends where the end point stands alone.
			spike = spike || j == best
			continue
		}
		if c := s.polish(g, j); !found || c.rss < sol.rss {
			sol, found = c, true
		}
	}
	total := 0.0
	for i, u := range s.u {
		total += u * s.wu[i]
	}
	if !found || spike && total-top < sol.rss {
		end := "highest"
		if best == 0 {
			end = "lowest"
		}
		return solution{}, fmt.Errorf("curve: the point at the %s x stands alone, which leaves the rate open: %w", end, ErrUndetermined)
	}
	if math.Abs(sol.rate) < straight {
		return solution{}, fmt.Errorf("curve: the points lie on a straight line, which has no rate: %w", ErrUndetermined)
	}
	sol.top = s.mean + s.unit*sol.top
	sol.beta *= s.unit
	sol.rss *= s.unit * s.unit
	if !finite(sol.top) || !finite(sol.beta) || !finite(sol.rss) {
		return solution{}, fmt.Errorf("curve: the ys are too large to square: %w", ErrInput)
	}
	return sol, nil
}

// centre takes the mean off the ys and scales them by a power of two, so that
// no square of them overflows.
func (s *search) centre(g *design, ys []float64) error {
	n := len(ys)
	s.u, s.wu = resize(s.u, n), resize(s.wu, n)
	s.g, s.g1, s.g2, s.g3 = resize(s.g, n), resize(s.g1, n), resize(s.g2, n), resize(s.g3, n)
	large := 0.0
	for _, y := range ys {
		large = max(large, math.Abs(y))
	}
	_, exp := math.Frexp(large)
	s.unit = math.Ldexp(1, min(max(exp, -1000), 1000))
	inv := 1 / s.unit
	mean := 0.0
	for i, y := range ys {
		u := y * inv
		s.u[i] = u
		if g.ws != nil {
			u *= g.ws[i] / g.total
		} else {
			u /= g.total
		}
		mean += u
	}
	spread := 0.0
	for i, u := range s.u {
		u -= mean
		s.u[i] = u
		spread = max(spread, math.Abs(u))
		if g.ws != nil {
			u *= g.ws[i]
		}
		s.wu[i] = u
	}
	s.mean = mean * s.unit
	if !(spread > 1e-14) {
		return fmt.Errorf("curve: all ys are %g, which leaves the rate open: %w", ys[0], ErrUndetermined)
	}
	return nil
}

// scan scores every rate of the grid by the sum of squares it explains and
// returns the index of the best.
func (s *search) scan(g *design) int {
	s.score = resize(s.score, len(g.rates))
	return g.explained(s.score, s.wu)
}

// polish finds the best rate between the neighbours of grid rate j, by Halley's
// method on the slope of log(explained sum of squares), kept inside a shrinking
// bracket. From a grid of √2 it takes two or three evaluations.
func (s *search) polish(g *design, j int) solution {
	lo, hi := g.rates[j-1], g.rates[j+1]
	c := vertex(g.rates, s.score, j)
	for range 100 {
		slope, bend, third := s.slope(g, c)
		if slope > 0 {
			lo = c
		} else {
			hi = c
		}
		step := -2 * slope * bend / (2*bend*bend - slope*third)
		scale := max(1, math.Abs(c))
		if bend < 0 && math.Abs(step) <= 2e-5*scale {
			// The next step would be as small as this one's cube: move the
			// basis by its Taylor series instead of computing it anew.
			for i := range s.g {
				s.g[i] += step * (s.g1[i] + step/2*(s.g2[i]+step/3*s.g3[i]))
			}
			return s.solve(g, c, c+step)
		}
		if !(bend < 0) || !(c+step > lo && c+step < hi) {
			// The step leads away from the maximum; halve the bracket.
			step = lo/2 + hi/2 - c
		}
		if hi-lo <= 1e-15*scale {
			break
		}
		c += step
	}
	s.slope(g, c)
	return s.solve(g, c, c)
}

// isPeak reports whether score[j] is not below its neighbours.
func isPeak(score []float64, j int) bool {
	return (j == 0 || score[j-1] <= score[j]) && (j == len(score)-1 || score[j+1] < score[j])
}

// vertex returns the rate at the top of the parabola through the scores of
// grid rates j−1, j, j+1, taken as equally spaced.
func vertex(rates, score []float64, j int) float64 {
	a, b, c := score[j-1], score[j], score[j+1]
	shift := 0.0
	if bend := a - 2*b + c; bend < 0 {
		shift = (a - c) / (2 * bend)
	}
	if shift < 0 {
		return rates[j] + shift*(rates[j]-rates[j-1])
	}
	return rates[j] + shift*(rates[j+1]-rates[j])
}

// basis fills g, g1, g2, g3 with a function that spans the same curves as
// exp(−c·d) together with a constant, and its first three derivatives by c.
// Beyond |c| = √2 it is the exponential anchored at its steep end; near zero it
// is expm1(−c·d)/c, which passes smoothly through the straight line at c = 0.
func (s *search) basis(g *design, c float64) {
	switch {
	case c > math.Sqrt2:
		for i, d := range g.d {
			e := math.Exp(-c * d)
			s.g[i], s.g1[i], s.g2[i], s.g3[i] = e, -d*e, d*d*e, -d*d*d*e
		}
	case c < -math.Sqrt2:
		for i, d := range g.d {
			t := 1 - d
			e := math.Exp(c * t)
			s.g[i], s.g1[i], s.g2[i], s.g3[i] = e, t*e, t*t*e, t*t*t*e
		}
	default:
		for i, d := range g.d {
			p, p1, p2, p3 := phi(-c * d)
			s.g[i], s.g1[i], s.g2[i], s.g3[i] = -d*p, d*d*p1, -d*d*d*p2, d*d*d*d*p3
		}
	}
}

// phi returns (exp(z)−1)/z = Σ zᵏ/(k+1)! and its first three derivatives, for
// |z| ≤ √2, where twenty terms reach the last bit.
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

// slope returns the first three derivatives by c of the logarithm of the
// explained sum of squares s²/q, where s = Σ w·u·g and q = Σ w·(g − ḡ)². It
// leaves the basis at c in place.
func (s *search) slope(g *design, c float64) (first, second, third float64) {
	s.basis(g, c)
	var s0, s1, s2, s3, m0, m1, m2, m3, q0, q1, q2, q3 float64
	for i, b := range s.g {
		b1, b2, b3, wu := s.g1[i], s.g2[i], s.g3[i], s.wu[i]
		s0 += wu * b
		s1 += wu * b1
		s2 += wu * b2
		s3 += wu * b3
		if g.ws != nil {
			w := g.ws[i]
			m0 += w * b
			m1 += w * b1
			m2 += w * b2
			m3 += w * b3
			q0 += w * b * b
			q1 += w * b * b1
			q2 += w * (b1*b1 + b*b2)
			q3 += w * (3*b1*b2 + b*b3)
			continue
		}
		m0 += b
		m1 += b1
		m2 += b2
		m3 += b3
		q0 += b * b
		q1 += b * b1
		q2 += b1*b1 + b*b2
		q3 += 3*b1*b2 + b*b3
	}
	q0 -= m0 * m0 / g.total
	q1 = 2 * (q1 - m0*m1/g.total)
	q2 = 2 * (q2 - (m1*m1+m0*m2)/g.total)
	q3 = 2 * (q3 - (3*m1*m2+m0*m3)/g.total)
	s1, s2, s3 = s1/s0, s2/s0, s3/s0
	q1, q2, q3 = q1/q0, q2/q0, q3/q0
	return 2*s1 - q1,
		2*(s2-s1*s1) - (q2 - q1*q1),
		2*(s3-3*s2*s1+2*s1*s1*s1) - (q3 - 3*q2*q1 + 2*q1*q1*q1)
}

// solve computes the linear parameters and the residuals for the basis in
// place, which was chosen for rate from and stands at rate c.
func (s *search) solve(g *design, from, c float64) solution {
	var mean, dot, norm float64
	for i, b := range s.g {
		if g.ws != nil {
			b *= g.ws[i]
		}
		mean += b
	}
	mean /= g.total
	for i, b := range s.g {
		b -= mean
		dot += s.wu[i] * b
		if g.ws != nil {
			norm += g.ws[i] * b * b
		} else {
			norm += b * b
		}
	}
	beta := dot / norm
	rss := 0.0
	for i, b := range s.g {
		r := s.u[i] - beta*(b-mean)
		if g.ws != nil {
			rss += g.ws[i] * r * r
		} else {
			rss += r * r
		}
	}
	// From u = beta·(g − mean) to top + β·expm1(−c·d): the basis is
	// exp(−c·d), exp(c)·exp(−c·d) or expm1(−c·d)/c.
	switch sol := (solution{rate: c, rss: rss}); {
	case from > math.Sqrt2:
		sol.beta = beta
		sol.top = beta * (1 - mean)
		return sol
	case from < -math.Sqrt2:
		sol.beta = beta * math.Exp(c)
		sol.top = sol.beta - beta*mean
		return sol
	default:
		sol.beta = beta / c
		sol.top = -beta * mean
		return sol
	}
}
