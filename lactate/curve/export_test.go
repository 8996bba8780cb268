package curve

// Shape returns f(u) of one shape of Convex's dictionary and its prior; ok is false
// beyond the last shape.
func Shape(shape int, u float64) (f, prior float64, ok bool) {
	d := shapes()
	if shape >= len(d.prior) {
		return 0, 0, false
	}
	c := bent{rng: 1, s: 1}
	c.f, c.slope = d.row(shape)
	f, _ = c.at(u)
	return f, d.prior[shape], true
}

// FitSampled is FitWeighted by the method for more than two groups, whatever their number.
func (c *ConvexShifted) FitSampled(xs, ys, weights []float64, groups []int) error {
	c.sampled = true
	return c.FitWeighted(xs, ys, weights, groups)
}
