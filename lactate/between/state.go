package between

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
)

// Places in the state: the place of an average day, the day, and the constants behind them:
// errors of the shifts of tests 1, 2, …, scores of the curve, what offsets share, and the rest of each.
const (
	average = iota
	ofDay
	constants
)

// state is the mean and covariance of all unknowns.
type state struct {
	dim  int
	mean []float64
	cov  []float64 // row by row; both halves are kept
}

func (s *state) row(i int) []float64 { return s.cov[i*s.dim : (i+1)*s.dim] }

// shared is the part of an offset's variance that all kinds of repeats share: they have
// other rests than a test, most of them.
const shared = 0.5

// common is where the state has the part of the offsets that all kinds share; those of
// the kinds follow.
func (m *Model) common() int { return constants + len(m.shape.shifts) + len(m.shape.component) }

// begin is the state before the first day: nothing is known of the place.
func (m *Model) begin(offsets int) *state {
	sh := m.shape
	n, r := len(sh.shifts), len(sh.component)
	s := &state{dim: m.common() + 1 + offsets}
	s.mean, s.cov = make([]float64, s.dim), make([]float64, s.dim*s.dim)
	const vague = 10 // standard deviations of the place, in references
	s.row(average)[average] = vague * vague * m.reference * m.reference
	for a := range n {
		for b := range n {
			s.row(constants + a)[constants+b] = sh.cov.At(a, b)
		}
		for j := range r {
			s.row(constants + a)[constants+n+j] = sh.cross.At(a, j)
			s.row(constants + n + j)[constants+a] = sh.cross.At(a, j)
		}
	}
	for j := range r {
		s.row(constants + n + j)[constants+n+j] = 1
	}
	common := m.common()
	s.row(common)[common] = shared * m.off
	for k := range offsets {
		s.row(common + 1 + k)[common+1+k] = (1 - shared) * m.off
	}
	return s
}

// next goes on to another day.
func (s *state) next(drift, days float64) {
	for i := range s.dim {
		s.row(i)[ofDay] = 0
	}
	clear(s.row(ofDay))
	s.row(average)[average] += drift
	s.row(ofDay)[ofDay] = days
	s.mean[ofDay] = 0
}

func vector(v []float64) blas64.Vector { return blas64.Vector{N: len(v), Data: v, Inc: 1} }

func square(m []float64, dim int) blas64.General {
	return blas64.General{Rows: dim, Cols: dim, Data: m, Stride: dim}
}

// term is one part of what is observed.
type term struct {
	at    int
	times float64
}

// observed is an observation, a sum of terms and noise, and what the filter made of it.
type observed struct {
	terms              []term
	value, noise       float64
	innovation, spread float64   // and its variance
	gain               []float64 // Kalman's
}

// update is the step of Kalman's filter. It does nothing if the observation is certain
// already.
func (s *state) update(o *observed) {
	o.innovation, o.spread = o.value, o.noise
	for i, t := range o.terms {
		o.innovation -= t.times * s.mean[t.at]
		if i == 0 {
			floats.ScaleTo(o.gain, t.times, s.row(t.at))
		} else {
			floats.AddScaled(o.gain, t.times, s.row(t.at))
		}
	}
	for _, t := range o.terms {
		o.spread += t.times * o.gain[t.at]
	}
	if !(o.spread > 0) {
		o.spread = math.Inf(1)
	}
	blas64.Ger(-1/o.spread, vector(o.gain), vector(o.gain), square(s.cov, s.dim))
	floats.Scale(1/o.spread, o.gain)
	floats.AddScaled(s.mean, o.innovation, o.gain)
}

// backward is the state of the smoother of Durbin & Koopman: r and N.
type backward struct {
	dim  int
	r, n []float64
	work []float64
}

func (b *backward) row(i int) []float64 { return b.n[i*b.dim : (i+1)*b.dim] }

func newBackward(dim int) *backward {
	return &backward{dim, make([]float64, dim), make([]float64, dim*dim), make([]float64, dim)}
}

// past goes back over an observation; second asks for N too.
func (b *backward) past(o *observed, second bool) {
	f := o.innovation/o.spread - floats.Dot(o.gain, b.r)
	for _, t := range o.terms {
		b.r[t.at] += t.times * f
	}
	if !second {
		return
	}
	// N − z·wᵀ − w·zᵀ with w = N·gain − z·(gainᵀ·N·gain + 1/spread)/2, and z the terms.
	w := b.work
	blas64.Gemv(blas.NoTrans, 1, square(b.n, b.dim), vector(o.gain), 0, vector(w))
	within := floats.Dot(w, o.gain)
	for _, t := range o.terms {
		w[t.at] -= t.times * (within + 1/o.spread) / 2
	}
	for _, t := range o.terms {
		floats.AddScaled(b.row(t.at), -t.times, w)
		for i, v := range w {
			b.n[i*b.dim+t.at] -= t.times * v
		}
	}
}

// before goes back to the end of the day before.
func (b *backward) before() {
	b.r[ofDay] = 0
	for i := range b.dim {
		b.n[i*b.dim+ofDay], b.n[ofDay*b.dim+i] = 0, 0
	}
}
