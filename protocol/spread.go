package protocol

import (
	"math"

	"example.com/steptest/lactate"
	"gonum.org/v1/gonum/mat"
)

// spread computes variances of what is read off a least-squares fit. With the
// derivatives J of the curve at the stages by its parameters, a reading whose
// gradient by them is g moves by J·z, where (JᵀJ)·z = g, for each unit that a
// sample moves: its variance is Σ (σ·J·z)², the sandwich of unweighted least
// squares under unequal errors. The zero value is ready to use; it keeps its
// memory.
type spread struct {
	k     int       // parameters
	rows  []float64 // of J, k for each stage
	sigma []float64
	jtj   []float64
	chol  mat.Cholesky
	z     mat.VecDense
}

// begin starts a fit of k parameters.
func (s *spread) begin(k int) {
	s.k, s.rows, s.sigma = k, s.rows[:0], s.sigma[:0]
}

// factorize readies the stages added so far; ok is false where they do not
// determine the parameters.
func (s *spread) factorize() (ok bool) {
	k := s.k
	s.jtj = append(s.jtj[:0], make([]float64, k*k)...)
	for i := range s.sigma {
		row := s.rows[i*k : (i+1)*k]
		for a, v := range row {
			for b, w := range row {
				s.jtj[a*k+b] += v * w
			}
		}
	}
	return s.chol.Factorize(mat.NewSymDense(k, s.jtj))
}

// variance returns the variance of a reading with gradient g.
func (s *spread) variance(g []float64) (v float64, ok bool) {
	s.z.Reset()
	if err := s.chol.SolveVecTo(&s.z, mat.NewVecDense(s.k, g)); err != nil {
		return 0, false
	}
	z := s.z.RawVector().Data
	for i, sd := range s.sigma {
		h := 0.0
		for a, d := range s.rows[i*s.k : (i+1)*s.k] {
			h += d * z[a]
		}
		v += sd * sd * h * h
	}
	return v, !math.IsNaN(v)
}

// curve adds stages to a fit of A + β·exp(C·(x − ref)) with the parameters A,
// β = P − A, and C times the scale, so that all are of like size; and, where
// there is a fourth, a shift of the curve, times C, for stages of a later test.
func (s *spread) curve(c candidate, stages []lactate.Stage, noise lactate.Noise, scale float64, later bool) {
	for _, st := range stages {
		u := math.Exp(c.c * (st.Intensity - c.ref))
		rise := (c.p - c.a) * u
		s.rows = append(s.rows, 1, u, rise*(st.Intensity-c.ref)/scale)
		if s.k == 4 {
			shift := 0.0
			if later {
				shift = -rise
			}
			s.rows = append(s.rows, shift)
		}
		s.sigma = append(s.sigma, deviation(noise, st, c.a+rise, c.c*rise))
	}
}

// shift returns the standard error of the shift between two tests of one shape,
// y = A + β·exp(C·(x − δ·after − ref)).
func (s *spread) shift(c candidate, before, after []lactate.Stage, noise lactate.Noise) (float64, bool) {
	s.begin(4)
	s.curve(c, before, noise, 1/c.c, false)
	s.curve(c, after, noise, 1/c.c, true)
	if !s.factorize() {
		return 0, false
	}
	v, ok := s.variance([]float64{0, 0, 0, 1})
	return math.Sqrt(v) / c.c, ok
}

// gradient returns the derivatives of a threshold by A, β and C times the
// scale, by central differences on the curve. It holds for methods that read
// nothing but the curve and the ends of the test.
func gradient(m lactate.Method, c candidate, t lactate.Test, scale float64) (g [3]float64, err error) {
	const h = 1e-5
	at := func(k int, d float64) (float64, error) {
		e := c
		beta := c.p - c.a
		switch k {
		case 0:
			e.a += d
		case 1:
			beta += d
		case 2:
			e.c += d / scale
		}
		e.p = e.a + beta
		return m.Locate(t, e.curve())
	}
	for k := range g {
		step := h
		if k == 1 {
			step *= c.p - c.a
		}
		up, err := at(k, step)
		if err != nil {
			return g, err
		}
		down, err := at(k, -step)
		if err != nil {
			return g, err
		}
		g[k] = (up - down) / (2 * step)
	}
	return g, nil
}
