package between

import (
	"math"
	"time"

	"example.com/steptest/lactate"
	"gonum.org/v1/gonum/mat"
)

// Straight returns a model in which the curve is known to be the line level + slope·u, so
// that all is normal: the tests have the given shifts from the first one, and their
// covariance. Drift is a standard deviation per √week, day that of a day.
func Straight(dates []time.Time, shifts []float64, cov *mat.SymDense, level, slope, drift, day, offset float64, noise lactate.Noise) *Model {
	m := &Model{reference: 1, days: day * day, week: drift * drift, off: offset * offset}
	m.opts, _ = Options{Lactate: lactate.Options{Noise: noise}}.WithDefaults()
	for _, d := range dates {
		m.tests = append(m.tests, lactate.DatedTest{Date: d})
	}
	s := &shape{low: -10, high: 10, step: 20. / (nodes - 1), mean: make([]float64, 2*nodes), shifts: shifts, cov: cov, scale2: 1}
	for k := range nodes {
		s.mean[2*k], s.mean[2*k+1] = level+slope*(s.low+float64(k)*s.step), slope
	}
	m.shape = s
	return m
}

// Bend gives a straight model components of the curve, each a straight line too, and their
// covariance with the shifts.
func (m *Model) Bend(lines [][2]float64, cross *mat.Dense) {
	for _, l := range lines {
		c := make([]float64, 2*nodes)
		for k := range nodes {
			c[2*k], c[2*k+1] = l[0]+l[1]*(m.shape.low+float64(k)*m.shape.step), l[1]
		}
		m.shape.component = append(m.shape.component, c)
	}
	m.shape.cross = cross
	m.shape.lt2by = make([]float64, len(lines))
}

// An Observation is what the filter was told: Σ times·state + noise = value.
type Observation struct {
	At           []int
	Times        []float64
	Value, Noise float64
}

// Known returns the model with its drift taken for known, and no reading doubted: all is
// normal.
func (m *Model) Known() *Model {
	k := *m
	k.prior = [drifts]float64{0, 1, 0}
	k.far = math.Inf(1)
	return &k
}

// Linearised returns the observations of the readings about the answer.
func (c *Course) Linearised() (out []Observation) {
	for _, o := range c.all[stated].samples {
		n := Observation{Value: o.value, Noise: o.noise}
		for _, t := range o.terms {
			n.At, n.Times = append(n.At, t.at), append(n.Times, t.times)
		}
		out = append(out, n)
	}
	return out
}

// Shape returns covariance of shifts and scores, and the shifts, as the tests have them.
func (m *Model) Shape() (shifts []float64, cov *mat.SymDense, cross *mat.Dense, components int) {
	return m.shape.shifts, m.shape.cov, m.shape.cross, len(m.shape.component)
}

// Variances returns those of a week's drift, a day and an offset.
func (m *Model) Variances() (week, day, offset float64) { return m.week, m.days, m.off }

// Likelihood returns the logarithm of the likelihood by the drift as stated, without the
// constant.
func (c *Course) Likelihood() float64 { return c.all[stated].log }
