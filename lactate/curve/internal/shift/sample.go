package shift

import (
	"fmt"
	"math"
	"math/rand/v2"

	"example.com/steptest/lactate/curve/internal/points"
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// sample is a weighted sample of the joint posterior of the shifts of groups 1,
// 2, …, and the search for where to draw it.
type sample struct {
	pair  evidence // of group 0 and one other
	xs, w []float64
	ys    []float64
	group []int

	lo, hi   []float64 // bounds of the shifts
	step     []float64 // about their standard deviations
	centre   []float64 // of the proposal; at first the mode
	trial    []float64
	forward  []float64
	gradient *mat.VecDense
	bend     *mat.SymDense // minus the second derivatives of the log density
	move     *mat.VecDense
	chol     mat.Cholesky

	shifts    []float64 // [draw*n+group−1]
	log       []float64
	weight    []float64
	cumul     []float64
	effective float64       // draws that a sample without weights would have
	cov       *mat.SymDense // weighted; also of the proposal
	z         blas64.Vector
	source    *rand.PCG
	rng       *rand.Rand
}

const (
	sampleDraws  = 1024
	sampleDof    = 6   // of the proposal's Student's t
	sampleWiden  = 1.1 // its scale beside that of the curvature
	sampleRounds = 3
	sampleShapes = 600 // at most
	// The least number of effective draws: after fewer, the proposal is adapted to them.
	sampleEnough = sampleDraws / 5
	sampleLeast  = sampleDraws / 20
)

func newSample(n int) *sample {
	m := &sample{source: rand.NewPCG(0, 0)}
	m.rng = rand.New(m.source)
	m.gradient, m.move = mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	m.bend, m.cov = mat.NewSymDense(n, nil), mat.NewSymDense(n, nil)
	m.z = blas64.Vector{N: n, Inc: 1, Data: make([]float64, n)}
	points.Share(n, &m.lo, &m.hi, &m.step, &m.centre, &m.trial, &m.forward)
	points.Share(sampleDraws, &m.log, &m.weight, &m.cumul)
	m.shifts = make([]float64, sampleDraws*n)
	return m
}

// fitMany finds the posterior of several shifts: where each lies beside group 0 alone,
// with few shapes; the mode of all together, with all shapes that have weight there;
// and a sample about it, with all that have weight along any axis.
func (work *Work) fitMany(j *Joint) error {
	n := len(work.all.lo) - 1
	if work.many == nil || len(work.many.centre) != n {
		work.many = newSample(n)
	}
	m := work.many
	for g := 1; g <= n; g++ {
		if err := work.pair(j, g); err != nil {
			return err
		}
	}
	work.shift[0] = 0
	if err := work.climb(); err != nil {
		return err
	}
	work.choose()
	work.look(m.centre)
	copy(m.trial, m.centre)
	for k, v := range m.centre {
		for _, d := range [...]float64{-2, 2} {
			m.trial[k] = min(max(v+d*m.step[k], m.lo[k]), m.hi[k])
			work.look(m.trial)
		}
		m.trial[k] = v
	}
	work.gather(sampleShapes)
	return work.sample(j)
}

// pair finds where a group lies beside group 0, without the others.
func (work *Work) pair(j *Joint, group int) error {
	m, e := work.many, &work.all
	m.xs, m.ys, m.w, m.group = m.xs[:0], m.ys[:0], m.w[:0], m.group[:0]
	for i, g := range e.group {
		if g == 0 || g == group {
			m.xs, m.ys, m.w = append(m.xs, e.xs[i]), append(m.ys, e.ys[i]), append(m.w, e.w[i])
			m.group = append(m.group, min(g, 1))
		}
	}
	if err := m.pair.set(m.xs, m.ys, m.w, m.group, 2, e.scale.Prior, e.tilt); err != nil {
		return err
	}
	if err := work.grid.survey(&m.pair, thin(), group, work.shift[:2]); err != nil {
		return err
	}
	p, k := &j.post[group-1], group-1
	work.grid.posterior(p)
	m.lo[k], m.hi[k] = p.edges[0], p.edges[len(p.edges)-1]
	m.centre[k], m.step[k] = p.mean, p.own
	return j.ends(group, &work.grid)
}

// look adds the shapes that have weight at some shifts to the choice.
func (work *Work) look(shifts []float64) {
	copy(work.shift[1:], shifts)
	work.weighAll()
}

// density returns the log density at some shifts, over the chosen shapes.
func (work *Work) density(shifts []float64) float64 {
	for k, v := range shifts {
		if !(v >= work.many.lo[k] && v <= work.many.hi[k]) {
			return math.Inf(-1)
		}
		work.shift[k+1] = v
	}
	return work.all.log(work.shapes, work.shift)
}

var (
	errNoCommonShape = fmt.Errorf("curve: no convex curve rises through the points of all groups: %w", points.ErrUndetermined)
	errHardly        = fmt.Errorf("curve: the points hardly tell the shifts apart: %w", points.ErrUndetermined)
)

// climb takes the centre to the mode of the joint posterior, by Newton's method on
// differences, and leaves the factor of the curvature there.
func (work *Work) climb() error {
	m := work.many
	for round := range 8 {
		work.choose()
		work.look(m.centre)
		work.gather(sampleShapes)
		top := work.density(m.centre)
		if math.IsInf(top, -1) {
			return errNoCommonShape
		}
		work.differences(top)
		falls, ok := m.factor()
		if !ok {
			return errHardly
		}
		// An ill-conditioned step is as good a trial as any.
		_ = m.chol.SolveVecTo(m.move, m.gradient)
		size, t := math.Sqrt(max(mat.Dot(m.move, m.gradient), 0)), 1.0
		for ; t > 1e-3; t /= 2 {
			for k, v := range m.centre {
				m.trial[k] = v + t*m.move.AtVec(k)
			}
			if work.density(m.trial) > top {
				copy(m.centre, m.trial)
				break
			}
		}
		_ = m.chol.InverseTo(m.cov)
		for k := range m.step {
			if v := math.Sqrt(m.cov.At(k, k)); v < 10*m.step[k] {
				m.step[k] = max(v, 1e-9*(m.hi[k]-m.lo[k]))
			}
		}
		if round > 0 && falls && (size < 0.3 || t <= 1e-3) {
			break
		}
	}
	return nil
}

// differences sets gradient and curvature at the centre.
func (work *Work) differences(top float64) {
	m := work.many
	const part = 0.7 // of a standard deviation
	floor := top - gridSteepest
	copy(m.trial, m.centre)
	for k, v := range m.centre {
		h := part * m.step[k]
		m.trial[k] = v - h
		back := max(work.density(m.trial), floor)
		m.trial[k] = v + h
		m.forward[k] = max(work.density(m.trial), floor)
		m.trial[k] = v
		m.gradient.SetVec(k, (m.forward[k]-back)/(2*h))
		m.bend.SetSym(k, k, (2*top-m.forward[k]-back)/(h*h))
	}
	for a, va := range m.centre {
		ha := part * m.step[a]
		for b, vb := range m.centre[:a] {
			hb := part * m.step[b]
			m.trial[a], m.trial[b] = va+ha, vb+hb
			both := max(work.density(m.trial), floor)
			m.trial[a], m.trial[b] = va, vb
			m.bend.SetSym(a, b, -(both-m.forward[a]-m.forward[b]+top)/(ha*hb))
		}
	}
}

// factor factorises the curvature. If it has a direction that does not fall, what is
// factorised is the curvature along each axis alone, and falls is false.
func (m *sample) factor() (falls, ok bool) {
	if m.chol.Factorize(m.bend) {
		return true, true
	}
	for a, step := range m.step {
		for b := range a {
			m.bend.SetSym(a, b, 0)
		}
		m.bend.SetSym(a, a, max(m.bend.At(a, a), 1/(step*step)))
	}
	return false, m.chol.Factorize(m.bend)
}

// sample draws from Student's t about the centre and weighs the draws. If only a few of
// them carry the weight, it draws again by their mean and covariance.
func (work *Work) sample(j *Joint) error {
	m := work.many
	n := len(m.centre)
	m.effective = 0
	for round := range sampleRounds {
		if !m.chol.Factorize(m.cov) {
			break
		}
		if !work.propose() {
			return errNoCommonShape
		}
		m.summarise()
		if m.effective >= sampleEnough || round == sampleRounds-1 {
			break
		}
	}
	if !(m.effective >= sampleLeast) {
		return errHardly
	}
	for k := range n {
		j.post[k].smooth(m.shifts[k:], n, m.weight, m.centre[k], math.Sqrt(m.cov.At(k, k)), m.effective)
	}
	if j.cov == nil || j.cov.SymmetricDim() != n {
		j.cov = mat.NewSymDense(n, nil)
	}
	j.cov.CopySym(m.cov)
	j.shifts, j.cumul = append(j.shifts[:0], m.shifts...), append(j.cumul[:0], m.cumul...)
	return nil
}

// propose fills the sample. ok is false if no draw has any weight.
func (work *Work) propose() (ok bool) {
	m := work.many
	n := len(m.centre)
	m.source.Seed(1, 2)
	chi := distuv.ChiSquared{K: sampleDof, Src: m.rng}
	upper := m.chol.RawU().(mat.RawTriangular).RawTriangular()
	top := math.Inf(-1)
	logq := 0.0
	z := m.z.Data
	for i := range sampleDraws {
		at := m.shifts[i*n : (i+1)*n]
		if i%2 == 0 {
			r2 := 0.0
			for k := range z {
				z[k] = m.rng.NormFloat64()
				r2 += z[k] * z[k]
			}
			scale := math.Sqrt(sampleDof / chi.Rand())
			logq = -float64(sampleDof+n) / 2 * math.Log1p(scale*scale*r2/sampleDof)
			blas64.Scal(sampleWiden*scale, m.z)
			blas64.Trmv(blas.Trans, upper, m.z)
		} else { // its mirror image
			blas64.Scal(-1, m.z)
		}
		for k, v := range m.centre {
			at[k] = v + z[k]
		}
		m.log[i] = work.density(at) - logq
		top = max(top, m.log[i])
	}
	for i, v := range m.log {
		m.weight[i] = math.Exp(v - top)
	}
	return points.Finite(top)
}

// summarise normalises the weights, and sets centre and cov to the sample's.
func (m *sample) summarise() {
	n := len(m.centre)
	total, squares := 0.0, 0.0
	for _, w := range m.weight {
		total += w
		squares += w * w
	}
	m.effective = total * total / squares
	sum := 0.0
	clear(m.centre)
	for i, w := range m.weight {
		w /= total
		m.weight[i] = w
		sum += w
		m.cumul[i] = sum
		for k, v := range m.shifts[i*n : (i+1)*n] {
			m.centre[k] += w * v
		}
	}
	for a, ma := range m.centre {
		for b, mb := range m.centre[:a+1] {
			v := 0.0
			for i, w := range m.weight {
				v += w * (m.shifts[i*n+a] - ma) * (m.shifts[i*n+b] - mb)
			}
			m.cov.SetSym(a, b, v)
		}
	}
}
