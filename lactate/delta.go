package lactate

import (
	"errors"
	"fmt"
	"math"

	"example.com/steptest/lactate/internal/uncertain"
)

// DeltaInterval returns the interval of a threshold by the delta method: how each sample moves
// the threshold, by refits with the sample a fiftieth of its standard deviation up and down,
// times the stated noise and the scale that the residuals give, with Student's t.
//
// It is for smooth methods: those that do not pick a stage. It needs no Options.Resamples: it
// costs two refits for each sample instead of thousands, and agrees with the resampled interval
// if the noise is small; if not, believe that one, which knows that a threshold's error is not
// symmetric. On the default curve it leaves out what the shape is uncertain by. The error is
// that of the method.
func (a *Analysis) DeltaInterval(m Method) (Estimate, error) {
	if err := a.check(); err != nil {
		return none(), err
	}
	if m == nil {
		return none(), errors.New("lactate: delta interval: found nil, want a method")
	}
	x, err := m.Locate(a.test, a.Curve)
	if err != nil {
		return none(), err
	}
	md := a.model()
	if !md.scale.Known() {
		return none(), errors.New("lactate: delta interval: the fit leaves no residuals to judge the noise by, and the stated noise has no weight")
	}
	r := a.refitter()
	set := func(i int, y float64) { r.ys[i], r.test.Stages[i].Lactate = y, y }
	for i, y := range md.truth {
		set(i, y)
	}
	const part = 1. / 50
	// effect returns how far the threshold moves for one standard deviation of
	// the sample that move moves.
	effect := func(sigma float64, move func(d float64)) (float64, error) {
		var at [2]float64
		for k, d := range []float64{part * sigma, -part * sigma} {
			move(d)
			err := a.opts.Noise.fit(r.curve, r.xs, r.ys, a.weights)
			if err == nil {
				at[k], err = m.Locate(r.test, r.curve)
			}
			if err != nil {
				return 0, fmt.Errorf("lactate: delta interval: with a sample moved by %.2g mmol/L: %w", d, err)
			}
		}
		move(0)
		return (at[0] - at[1]) / (2 * part), nil
	}
	variance := 0.0
	add := func(sigma float64, move func(d float64)) error {
		g, err := effect(sigma, move)
		variance += g * g
		return err
	}
	for i, y := range md.truth {
		if err := add(md.sigma[i], func(d float64) { set(i, y+d) }); err != nil {
			return none(), err
		}
	}
	if rest := a.test.Rest; rest > 0 {
		if err := add(md.rest, func(d float64) { r.test.Rest = rest + d }); err != nil {
			return none(), err
		}
	}
	for i, s := range a.test.Recovery {
		if err := add(md.recovery[i], func(d float64) { r.test.Recovery[i].Lactate = s.Lactate + d }); err != nil {
			return none(), err
		}
	}
	factor, dof := md.scale.Mean()
	half := uncertain.HalfWidth(dof, a.opts.Confidence) * factor * math.Sqrt(variance)
	if !finite(half) {
		return none(), errImmense
	}
	return Estimate{x, x - half, x + half}, nil
}
