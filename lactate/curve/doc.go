// Package curve fits curves through points (x, y), whatever x and y are.
//
// # Curves
//
//   - [Convex]: the posterior over convex shapes, which presumes no formula. Draper 1995;
//     Hoeting and others 1999; the priors are ours.
//   - [Exponential]: y = A + B·exp(C·x), by variable projection. Hughson,
//     Weisiger & Swanson 1987; Golub & Pereyra 1973.
//   - [Polynomial]: least squares on an orthogonal basis. Forsythe 1957.
//   - [BrokenLine]: two straight lines that meet, exact. Hudson 1966.
//   - [ThreeLine]: three that meet, exact over both joins.
//   - [Shifted]: one exponential through several groups of points, each moved
//     along x.
//   - [ConvexShifted]: how far several groups of points on one convex shape lie
//     apart along x.
//
// All but Shifted and ConvexShifted are used through their pointer and satisfy gonum's
// interp.FittablePredictor and interp.DerivativePredictor: they and gonum's own
// interpolators can stand in for one another. They take repeated and unsorted
// xs, and FitWeighted takes a weight for each point.
//
// Convex, Exponential and Polynomial also answer what a reader of thresholds asks, in
// closed form or exactly: Upcrossing, FarthestBelow, Minimum.
//
// # Conventions
//
// Fits minimise Σ w·(y − f(x))², but for Convex and ConvexShifted, which are posteriors. RSS
// is that sum, DegreesOfFreedom the number of points less that of the parameters without a
// prior. Arguments are neither kept
// nor changed. A refit of as many points as before does not allocate.
//
// Fit and FitWeighted change the receiver; everything else only reads it and may
// run concurrently. A copy of a fitted curve shares its work space: do not fit original and
// copy at the same time.
//
// A fit ends with a curve or with an error that wraps [ErrInput] (the points
// cannot be used) or [ErrUndetermined] (they leave a parameter open); never with
// a curve that is not a number.
//
// # Accuracy
//
// Polynomial: twelve digits of the coefficients on NIST's Norris, Pontius, Filip,
// Wampler1 and Wampler4. Exponential and Shifted: all that R's nls printed, seven digits and
// more, on seven loblolly pines, twelve step tests and three pairs of tests;
// no rate of a dense grid ever left a smaller residual on 1200 random data sets. BrokenLine:
// 1e-13 of exact arithmetic on the stagnant band data. Convex: a prototype outside the
// project, on three invented tests, to 2 % of a width; coverage by simulation and on real
// tests, see testdata/README.md.
//
// # Not here
//
// Confidence bands, robust losses, splines (gonum's interp has them), and
// sums of more than one exponential, which step tests do not determine.
//
// # References
//
// From memory, but for titles:
//
//   - Draper D (1995) Assessment and propagation of model uncertainty. J R Stat Soc B
//     57:45-97.
//   - Forsythe GE (1957) Generation and use of orthogonal polynomials for
//     data-fitting with a digital computer. J SIAM 5:74-88.
//   - Golub GH, Pereyra V (1973) The differentiation of pseudo-inverses and
//     nonlinear least squares problems whose variables separate. SIAM J Numer Anal
//     10:413-432.
//   - Hoeting JA, Madigan D, Raftery AE, Volinsky CT (1999) Bayesian model averaging: a
//     tutorial. Stat Sci 14:382-417.
//   - Hudson DJ (1966) Fitting segmented curves whose join points have to be
//     estimated. J Am Stat Assoc 61:1097-1129.
//   - Hughson RL, Weisiger KH, Swanson GD (1987) Blood lactate concentration
//     increases as a continuous function in progressive exercise. J Appl Physiol
//     62:1975-1981.
package curve
