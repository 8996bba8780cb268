package curve

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

var errIllShifts = fmt.Errorf("curve: the points hardly tell the shifts apart: %w", ErrUndetermined)

// shiftSample is a weighted sample of the joint posterior of several shifts.
type shiftSample struct {
	lo, hi       []float64 // bounds of the shifts
	step         []float64 // about their standard deviations
	mode, trial  []float64
	gradient     *mat.VecDense
	curvature    *mat.SymDense // minus the second derivatives of the log density
	chol         mat.Cholesky
	move         *mat.VecDense
	forward      []float64
	shifts       []float64 // [draw*n+group−1]
	logs, weight []float64
	cumul        []float64
	pair         shiftEvidence
	xs, ys, w    []float64
	group        []int
	z            []float64
	source       *rand.PCG
	rng          *rand.Rand
	effective    float64
}

const (
	sampleDraws = 1024
	sampleDof   = 6   // of the proposal's Student's t
	sampleWiden = 1.1 // its scale beside the curvature's
)

func (c *ConvexShifted) fitMany() error {
	n := len(c.joint.lo) - 1
	m := c.many
	if m == nil {
		m = &shiftSample{source: rand.NewPCG(0, 0)}
		m.rng = rand.New(m.source)
		c.many = m
	}
	if m.curvature == nil || m.curvature.SymmetricDim() != n {
		m.gradient, m.move = mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
		m.curvature, c.cov = mat.NewSymDense(n, nil), mat.NewSymDense(n, nil)
	}
	share(n, &m.lo, &m.hi, &m.step, &m.mode, &m.trial, &m.forward, &m.z)
	for g := 1; g <= n; g++ {
		if err := c.startPair(g); err != nil {
			return err
		}
	}
	c.shift[0] = 0
	if err := c.climb(); err != nil {
		return err
	}
	c.choose()
	c.look(m.mode)
	for k := range n {
		for _, d := range [...]float64{-2, 2} {
			copy(m.trial, m.mode)
			m.trial[k] = min(max(m.trial[k]+d*m.step[k], m.lo[k]), m.hi[k])
			c.look(m.trial)
		}
	}
	c.gather()
	if err := c.sample(); err != nil {
		return err
	}
	return nil
}

// startPair finds where a group lies from group 0 without the others.
func (c *ConvexShifted) startPair(g int) error {
	m, e := c.many, &c.joint
	m.xs, m.ys, m.w, m.group = m.xs[:0], m.ys[:0], m.w[:0], m.group[:0]
	for i, k := range e.group {
		if k != 0 && k != g {
			continue
		}
		m.xs, m.ys, m.w = append(m.xs, e.xs[i]), append(m.ys, e.ys[i]), append(m.w, e.w[i])
		m.group = append(m.group, min(k, 1))
	}
	if err := m.pair.set(m.xs, m.ys, m.w, m.group, 2, Convex{Weight: c.Weight, Tilt: c.Tilt}); err != nil {
		return err
	}
	if err := c.grid.survey(&m.pair, thinShapes(), g, c.shift[:2]); err != nil {
		return err
	}
	p := &c.post[g-1]
	c.grid.posterior(p)
	m.lo[g-1], m.hi[g-1] = p.edges[0], p.edges[len(p.edges)-1]
	m.mode[g-1], m.step[g-1] = p.mean, p.own
	return c.ends(g, &c.grid)
}

// look adds the shapes that have weight at some shifts to the choice.
func (c *ConvexShifted) look(shifts []float64) {
	copy(c.shift[1:], shifts)
	c.weighAll()
}

// value returns the log density at shifts, over the chosen shapes.
func (c *ConvexShifted) value(shifts []float64) float64 {
	for k, v := range shifts {
		if !(v >= c.many.lo[k] && v <= c.many.hi[k]) {
			return math.Inf(-1)
		}
		c.shift[k+1] = v
	}
	return c.joint.log(c.shapes, c.shift)
}

// climb finds the mode of the joint posterior and the curvature there, by Newton's method on
// differences.
func (c *ConvexShifted) climb() error {
	m := c.many
	n := len(m.mode)
	for round := range 8 {
		c.choose()
		c.look(m.mode)
		c.gather()
		top := c.value(m.mode)
		if math.IsInf(top, -1) {
			return fmt.Errorf("curve: no convex curve rises through all groups: %w", ErrUndetermined)
		}
		c.differences(top)
		ok := m.chol.Factorize(m.curvature)
		if !ok { // not yet near the top: along each axis alone
			for a := range n {
				for b := a; b < n; b++ {
					if a != b {
						m.curvature.SetSym(a, b, 0)
					} else if v := m.curvature.At(a, a); !(v > 0) {
						m.curvature.SetSym(a, a, 1/(m.step[a]*m.step[a]))
					}
				}
			}
			m.chol.Factorize(m.curvature)
		}
		if err := m.chol.SolveVecTo(m.move, m.gradient); err != nil {
			_ = err // ill conditioned: the step is tried all the same
		}
		size, t := math.Sqrt(max(mat.Dot(m.move, m.gradient), 0)), 1.0
		for ; t > 1e-3; t /= 2 {
			for k := range n {
				m.trial[k] = m.mode[k] + t*m.move.AtVec(k)
			}
			if v := c.value(m.trial); v > top {
				copy(m.mode, m.trial)
				break
			}
		}
		// The next differences are taken at the scale found.
		var inv mat.SymDense
		m.chol.InverseTo(&inv)
		for k := range n {
			if v := math.Sqrt(inv.At(k, k)); v > 0 && v < 10*m.step[k] {
				m.step[k] = v
			}
		}
		if ok && (size < 0.3 || t <= 1e-3) && round > 0 {
			return nil
		}
	}
	return nil
}

// differences sets gradient and curvature at the mode.
func (c *ConvexShifted) differences(top float64) {
	m := c.many
	n := len(m.mode)
	const part = 0.7 // of a standard deviation
	copy(m.trial, m.mode)
	for k := range n {
		h := part * m.step[k]
		m.trial[k] = m.mode[k] - h
		back := max(c.value(m.trial), top-gridSteepest)
		m.trial[k] = m.mode[k] + h
		m.forward[k] = max(c.value(m.trial), top-gridSteepest)
		m.trial[k] = m.mode[k]
		m.gradient.SetVec(k, (m.forward[k]-back)/(2*h))
		m.curvature.SetSym(k, k, (2*top-m.forward[k]-back)/(h*h))
	}
	for a := range n {
		ha := part * m.step[a]
		for b := a + 1; b < n; b++ {
			hb := part * m.step[b]
			// A step along a and back along b stays near the ridge: shifts go together.
			m.trial[a], m.trial[b] = m.mode[a]+ha, m.mode[b]+hb
			both := max(c.value(m.trial), top-gridSteepest)
			m.trial[a], m.trial[b] = m.mode[a], m.mode[b]
			m.curvature.SetSym(a, b, -(both-m.forward[a]-m.forward[b]+top)/(ha*hb))
		}
	}
}

// sample draws about the mode and weighs the draws.
func (c *ConvexShifted) sample() error {
	m := c.many
	n := len(m.mode)
	m.source.Seed(1, 2)
	share(sampleDraws, &m.logs, &m.weight, &m.cumul)
	m.shifts = resize(m.shifts, sampleDraws*n)
	chi := distuv.ChiSquared{K: sampleDof, Src: m.rng}
	var upper mat.TriDense
	m.chol.UTo(&upper)
	move := m.move
	z := mat.NewVecDense(n, m.z)
	top := math.Inf(-1)
	for i := range sampleDraws {
		at := m.shifts[i*n : (i+1)*n]
		var log float64
		if i%2 == 0 {
			for k := range n {
				m.z[k] = m.rng.NormFloat64()
			}
			scale := sampleWiden * math.Sqrt(sampleDof/chi.Rand())
			for k := range n {
				m.z[k] *= scale
			}
			if err := move.SolveVec(&upper, z); err != nil {
				return errIllShifts
			}
		} else {
			move.ScaleVec(-1, move)
		}
		r2 := 0.0
		for k := range n {
			r2 += m.z[k] * m.z[k]
			at[k] = m.mode[k] + move.AtVec(k)
		}
		r2 /= sampleWiden * sampleWiden
		log = float64(sampleDof+n) / 2 * math.Log1p(r2/sampleDof)
		m.logs[i] = c.value(at) + log
		top = max(top, m.logs[i])
	}
	if math.IsInf(top, -1) {
		return fmt.Errorf("curve: no convex curve rises through all groups: %w", ErrUndetermined)
	}
	total, squares := 0.0, 0.0
	for i, v := range m.logs {
		w := math.Exp(v - top)
		m.weight[i] = w
		total += w
		squares += w * w
	}
	m.effective = total * total / squares
	sum := 0.0
	for i := range m.weight {
		m.weight[i] /= total
		sum += m.weight[i]
		m.cumul[i] = sum
	}
	for a := range n {
		c.post[a].mean = 0
		for i, w := range m.weight {
			c.post[a].mean += w * m.shifts[i*n+a]
		}
	}
	for a := range n {
		for b := a; b < n; b++ {
			v := 0.0
			for i, w := range m.weight {
				v += w * (m.shifts[i*n+a] - c.post[a].mean) * (m.shifts[i*n+b] - c.post[b].mean)
			}
			c.cov.SetSym(a, b, v)
		}
		c.post[a].smooth(m.shifts[a:], n, m.weight, c.post[a].mean, math.Sqrt(c.cov.At(a, a)), m.effective)
	}
	return nil
}

// draw is [ConvexShifted.Draw].
func (m *shiftSample) draw(dst []float64, at float64) {
	i := min(sort.SearchFloat64s(m.cumul, at), len(m.cumul)-1)
	copy(dst, m.shifts[i*len(dst):])
}

// smooth makes the distribution of a weighted sample, every stride-th of values.
func (p *ShiftPosterior) smooth(values []float64, stride int, weights []float64, mean, sd, effective float64) {
	const (
		parts = 160
		reach = 6.
	)
	p.edges, p.below = resize(p.edges, parts+1), resize(p.below, parts+1)
	for k := range p.edges {
		p.edges[k] = mean + sd*reach*(2*float64(k)/parts-1)
	}
	clear(p.below)
	width := 2 * reach * sd / parts
	// Half the rule of thumb for densities: distribution functions want less.
	band := 0.5 * sd * math.Pow(max(effective, 4), -0.2)
	shrink := math.Sqrt(1 - band*band/(sd*sd))
	for i, w := range weights {
		x := mean + shrink*(values[i*stride]-mean)
		k := min(max(int((x-4*band-p.edges[0])/width), 0), parts-1)
		before := 0.0
		for ; before < 1; k++ {
			now := 1.0
			if z := (p.edges[k+1] - x) / band; z < 4 && k < parts-1 {
				now = distuv.UnitNormal.CDF(z)
			}
			p.below[k+1] += w * (now - before)
			before = now
		}
	}
	for k := range parts {
		p.below[k+1] += p.below[k]
	}
	for k := range p.below {
		p.below[k] /= p.below[parts]
	}
	p.moments()
}
