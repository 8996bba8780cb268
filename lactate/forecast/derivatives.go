package forecast

import (
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/uncertain"
)

// derivatives are those of the curve by its parameters at the stages of one test,
// and of two, and what follows for the covariance of the parameters. The zero value
// is ready to use; it keeps its memory.
type derivatives struct{ one, two uncertain.Sandwich }

// fit readies the covariance of A, β = P − A and C times the scale, of
// A + β·exp(C·(x − ref)) by least squares through the stages. ok is false if they do
// not determine it.
func (d *derivatives) fit(c candidate, stages []lactate.Stage, noise lactate.Noise, scale float64) (ok bool) {
	d.one.Begin(3)
	for _, st := range stages {
		u, rise, sd := c.at(st, noise)
		d.one.Add(sd, 1, u, rise*(st.Intensity-c.ref)/scale)
	}
	return d.one.Solve(1) == nil
}

// shift returns the standard error of the shift between two tests of one shape,
// y = A + β·exp(C·(x − δ·after − ref)).
func (d *derivatives) shift(c candidate, before, after []lactate.Stage, noise lactate.Noise) (sd float64, ok bool) {
	d.two.Begin(4)
	for i, stages := range [2][]lactate.Stage{before, after} {
		for _, st := range stages {
			u, rise, sd := c.at(st, noise)
			d.two.Add(sd, 1, u, rise*(st.Intensity-c.ref)*c.c, -rise*float64(i)) // by C and δ in units of 1/C
		}
	}
	if d.two.Solve(1) != nil {
		return 0, false
	}
	v := d.two.Covariance(3, 3)
	return math.Sqrt(v) / c.c, !math.IsNaN(v)
}

// at returns exp(C·(x − ref)) and (P − A) times that at a stage, and the standard
// deviation of its sample.
func (c candidate) at(st lactate.Stage, noise lactate.Noise) (u, rise, sd float64) {
	u = math.Exp(c.c * (st.Intensity - c.ref))
	rise = (c.p - c.a) * u
	return u, rise, noise.Stage(st, c.a+rise, c.c*rise)
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
