package lactate

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// detectable returns the smallest true shift that a pair of tests like this one
// shows with the given power, in units of the standard error.
//
// A pair shows a shift where its own estimate exceeds t·(its own standard
// error), t = the quantile of Student's t for the false alarms. Both vary from
// pair to pair: the estimate as a normal variable about the shift, the squared
// standard error as σ²·χ²(dof)/dof. And σ itself is known only from this pair:
// σ² = dof/χ²(dof), the belief that draws the resamples too. The probability is
// averaged over both χ² at the middles of equal shares.
func detectable(dof, falseAlarms, power float64) float64 {
	t := student(dof).Quantile(1 - falseAlarms/2)
	const shares = 16
	var factor [shares]float64 // sqrt(χ²/dof)
	for i := range factor {
		factor[i] = 1
		if !math.IsInf(dof, 1) {
			factor[i] = math.Sqrt(distuv.ChiSquared{K: dof}.Quantile((float64(i)+0.5)/shares) / dof)
		}
	}
	shown := func(shift float64) float64 {
		p := 0.0
		for _, known := range factor {
			for _, own := range factor {
				p += distuv.UnitNormal.CDF(shift*known - t*own)
			}
		}
		return p / (shares * shares)
	}
	lo, hi := 0.0, t
	for shown(hi) < power && hi < 1e6 {
		lo, hi = hi, 2*hi
	}
	for range 40 {
		if mid := lo/2 + hi/2; shown(mid) < power {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
