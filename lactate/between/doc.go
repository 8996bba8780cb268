// Package between follows a lactate curve between two tests, by the lactates that are
// taken in training.
//
// # Model
//
// The shape of the curve comes from the tests, see [curve.ConvexShifted]; its place moves:
//
//	place of an average day    θ(t): a random walk, half, once or twice Options.Drift per √week
//	place of one day           d = θ + η,  η ~ N(0, DayToDay²), shared by all of the day
//	test g                     δ[g] = d − d(first test), with the covariance of its fit
//	reading                    y = F(x − d) + b[kind] + ε
//	offset of a kind           b ~ N(0, Options.Offset²), half of the variance common to all kinds
//
// Intensities x and places are in the tests' unit; drift and days are shares of the LT2
// of the first test. ε is the noise of a sample, with the scale that the tests give it. A
// reading tells of the place as much as the curve is steep there. Tests weigh as they do
// in [lactate.FollowSeason]; without readings and with a drift beyond all measure the
// place on the day of the last test is what the tests alone say.
//
// # Method
//
// F is the mean of draws from the posterior of the shapes, given the shifts, plus the
// first principal components of these draws; their scores, the errors of the shifts and
// the offsets are constant parts of the state, with the covariance of the draws. The
// filter and the smoother are those of Durbin & Koopman (2012), Time Series Analysis by
// State Space Methods, ch. 4; readings are linearised about the smoothed state until it
// stays, which is Gauss–Newton: Bell (1994), SIAM J Optim 4:626–636 (both from memory),
// about the average day, since a day of its own for each reading would bias the offsets.
// Three filters, one for each drift, are weighed by their likelihood (Bayesian averaging).
// The predictive distribution of a reading is integrated over the place of its day.
//
// # Checked
//
// Against a dense normal distribution of all unknowns, against StructTS's filter in R, and
// by simulation: see testdata/README.md. Brackets are normal.
//
// # Not here
//
// Heart rates are kept and not used. A change of the shape between tests, a time of the
// day, or an offset that changes are not modelled. A reading more than 2.5 standard
// deviations from the curve counts for less, and is told ([Told].News).
//
// # JSON
//
// The JSON of [Course], [Due] and [Told] is written for readers of results and not read back.
package between
