package between

import "math"

// The drift is stated, and known to a factor: its standard deviation is half of what is
// stated, that, or twice it. What tests and readings say weighs the three (Bayesian
// averaging).
const drifts = 3

// driftFactors are those of the variance, with their prior.
func driftFactors() (factor, prior [drifts]float64) {
	return [drifts]float64{0.25, 1, 4}, [drifts]float64{0.2, 0.4, 0.4}
}

// rounded is a weight that is lost in the rounding of a sum of weights.
const rounded = 1e-17

// weigh turns log likelihoods into posterior weights.
func (m *Model) weigh(w *[drifts]float64) {
	top := math.Inf(-1)
	for _, l := range w {
		top = math.Max(top, l)
	}
	sum := 0.0
	for i, l := range w {
		w[i] = m.prior[i] * math.Exp(l-top)
		sum += w[i]
	}
	for i := range w {
		if w[i] /= sum; w[i] < rounded {
			w[i] = 0
		}
	}
}

// mixed returns mean and variance of a mixture.
func mixed(of [drifts]moments, w [drifts]float64) (mean, variance float64) {
	for i, m := range of {
		mean += w[i] * m.mean
	}
	for i, m := range of {
		d := m.mean - mean
		variance += w[i] * (m.variance + d*d)
	}
	return mean, variance
}

// runs are the filters with all drifts.
type runs [drifts]*run

// stated is the run with the drift as it is stated.
const stated = 1

// spread makes the runs with other drifts beside that with the stated one.
func (r *run) spread() (out runs) {
	factors, _ := driftFactors()
	for i, f := range factors {
		out[i] = r
		if i != stated {
			out[i] = r.again(f)
		}
	}
	return out
}

// weights of the drifts after all.
func (rs runs) weights() (w [drifts]float64) {
	for i, r := range rs {
		w[i] = r.log
	}
	rs[0].weigh(&w)
	return w
}

// answer returns an answer on a day.
func (rs runs) answer(k, number int) (mean, variance float64) {
	var of [drifts]moments
	for i, r := range rs {
		of[i].mean, of[i].variance = r.answer(k, number)
	}
	return mixed(of, rs.weights())
}
