package forecast

import (
	"math"

	"example.com/steptest/lactate"
	"gonum.org/v1/gonum/floats"
)

// normal is the posterior, given one rate, of A, P and the move from the day of the
// last test to that of the forecast: jointly normal. The zero value is none.
type normal struct {
	rate, ref float64 // of the curve A + (P − A)·exp(rate·(x − move − ref))
	n         int     // of unknown parameters: two, or three with the move
	mean      [3]float64
	cov       [3][3]float64
	log       float64 // of the prior of the rate times the likelihood of the samples, but for a constant
}

// fresh is the prior of a test that ends at ref, sd being that of P.
func fresh(rate, ref, sd, log float64) normal {
	s := normal{rate: rate, ref: ref, n: 2, mean: [3]float64{asymptoteMean, finalMean}, log: log}
	s.cov[0][0], s.cov[1][1] = asymptoteSD*asymptoteSD, sd*sd
	return s
}

// update takes samples of a curve that is moved by the mean of the move: a linear
// model with normal errors, one sample at a time (Kalman 1960, J Basic Eng 82:35–45,
// from memory), with the covariance in the form of Joseph.
func (s *normal) update(stages []lactate.Stage, noise lactate.Noise) {
	for _, st := range stages {
		u := math.Exp(s.rate * (st.Intensity - s.mean[2] - s.ref))
		sd := noise.Stage(st, st.Lactate, s.rate*max(st.Lactate-asymptoteMean, 0))
		h := [2]float64{1 - u, u}
		var ph, gain [2]float64
		for i := range ph {
			ph[i] = s.cov[i][0]*h[0] + s.cov[i][1]*h[1]
		}
		variance := h[0]*ph[0] + h[1]*ph[1] + sd*sd
		off := st.Lactate - h[0]*s.mean[0] - h[1]*s.mean[1]
		s.log -= (math.Log(variance) + off*off/variance) / 2
		for i := range gain {
			gain[i] = ph[i] / variance
			s.mean[i] += gain[i] * off
		}
		// (I − gain·hᵀ)·cov·(I − gain·hᵀ)ᵀ + gain·sd²·gainᵀ stays symmetric and
		// positive definite, which cov − gain·(cov·h)ᵀ need not.
		k := [2][2]float64{{1 - gain[0]*h[0], -gain[0] * h[1]}, {-gain[1] * h[0], 1 - gain[1]*h[1]}}
		var half, next [2][2]float64
		for i := range 2 {
			for j := range 2 {
				half[i][j] = k[i][0]*s.cov[0][j] + k[i][1]*s.cov[1][j]
			}
		}
		for i := range 2 {
			for j := range 2 {
				next[i][j] = half[i][0]*k[j][0] + half[i][1]*k[j][1] + gain[i]*gain[j]*sd*sd
			}
		}
		s.cov[0][0], s.cov[1][1] = next[0][0], next[1][1]
		s.cov[0][1] = (next[0][1] + next[1][0]) / 2
		s.cov[1][0] = s.cov[0][1]
	}
}

// onDay takes samples of the day of the forecast: the move runs over nodes, and
// the mean and the covariance of the whole are those of a normal distribution.
func (s normal) onDay(today []lactate.Stage, moved float64, noise lactate.Noise) normal {
	at := func(z float64) normal {
		t := s
		t.mean[2], t.cov[2][2] = z*moved, 0
		t.log -= z * z / 2
		t.update(today, noise)
		return t
	}
	lo, hi := settle(-4, 4, func(z float64) float64 { return at(z).log })
	var nodes [settled]normal
	var logs [settled]float64
	for i := range nodes {
		nodes[i] = at(lo + (hi-lo)*float64(i)/(settled-1))
		logs[i] = nodes[i].log
	}
	out := normal{rate: s.rate, ref: s.ref, n: 3}
	total := floats.LogSumExp(logs[:])
	out.log = total + math.Log(max(hi-lo, 1e-300))
	for i, t := range nodes {
		w := math.Exp(logs[i] - total)
		for r := range t.mean {
			out.mean[r] += w * t.mean[r]
		}
	}
	for i, t := range nodes {
		w := math.Exp(logs[i] - total)
		for r := range t.mean {
			for c := range t.mean {
				out.cov[r][c] += w * (t.cov[r][c] + (t.mean[r]-out.mean[r])*(t.mean[c]-out.mean[c]))
			}
		}
	}
	return out
}

// factor returns the Cholesky factor of the covariance, with columns of zeros
// for what is known already.
func (s normal) factor() (l [3][3]float64) {
	for c := range s.n {
		for r := c; r < s.n; r++ {
			v := s.cov[r][c]
			for k := range c {
				v -= l[r][k] * l[c][k]
			}
			switch {
			case r == c:
				l[r][c] = math.Sqrt(max(v, 0))
			case l[c][c] > 0:
				l[r][c] = v / l[c][c]
			}
		}
	}
	return l
}

// settled is the number of nodes with which settle looks.
const settled = 21

// settle narrows a range to where a density, of which it is given the logarithm,
// is not negligible: 3.5 standard deviations either side of the mean. The density
// has one peak.
func settle(lo, hi float64, log func(float64) float64) (float64, float64) {
	least, most := lo, hi
	for range 40 {
		step := (hi - lo) / (settled - 1)
		var logs [settled]float64
		for i := range logs {
			logs[i] = log(lo + step*float64(i))
		}
		total := floats.LogSumExp(logs[:])
		mean, square := 0.0, 0.0
		for i, l := range logs {
			x, w := step*float64(i), math.Exp(l-total)
			mean += w * x
			square += w * x * x
		}
		reach := 3.5 * max(math.Sqrt(max(square-mean*mean, 0)), step)
		before := hi - lo
		lo, hi = max(lo+mean-reach, least), min(lo+mean+reach, most)
		if !(hi-lo < 0.7*before) {
			break
		}
	}
	return lo, hi
}
