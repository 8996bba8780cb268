package curve

import "example.com/steptest/lactate/curve/internal/shape"

// Shape returns f(u) of one shape of Convex's dictionary and its prior; ok is false
// beyond the last shape.
func Shape(j int, u float64) (f, prior float64, ok bool) {
	d := shape.All()
	if j >= len(d.Prior) {
		return 0, 0, false
	}
	c := shape.Curve{Rng: 1, S: 1}
	c.F, c.Slope = d.Row(j)
	f, _ = c.At(u)
	return f, d.Prior[j], true
}

// FitSampled is FitWeighted by the method for more than two groups, whatever their number.
func (c *ConvexShifted) FitSampled(xs, ys, weights []float64, groups []int) error {
	c.sampled = true
	return c.FitWeighted(xs, ys, weights, groups)
}
