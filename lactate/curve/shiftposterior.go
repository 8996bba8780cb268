package curve

import "example.com/steptest/lactate/curve/internal/shift"

// ShiftPosterior is the posterior distribution of a shift along x: a density that is
// even within each of some hundred small intervals, and a normal variable of mean zero
// added to it where [ShiftPosterior.Plus] said one. It is only read and may be
// copied; it holds until the next fit of the curve that it comes from.
type ShiftPosterior struct{ shift shift.Posterior }

// Plus returns the distribution of the shift with an independent normal variable of
// mean zero added to it, as day differs from day. If sd is negative or not
// a number, nothing is known of the sum: it is the zero value.
func (p ShiftPosterior) Plus(sd float64) ShiftPosterior { return ShiftPosterior{p.shift.Plus(sd)} }

// Mean returns the mean.
func (p ShiftPosterior) Mean() float64 { return p.shift.Mean() }

// StdDev returns the standard deviation.
func (p ShiftPosterior) StdDev() float64 { return p.shift.StdDev() }

// CDF returns the probability that the shift is at most d.
func (p ShiftPosterior) CDF(d float64) float64 { return p.shift.CDF(d) }

// Survival returns the probability that the shift is larger than d.
func (p ShiftPosterior) Survival(d float64) float64 { return 1 - p.CDF(d) }

// Quantile returns the shift below which the probability is q. It is NaN unless q is
// from 0 to 1.
func (p ShiftPosterior) Quantile(q float64) float64 { return p.shift.Quantile(q) }
