package uncertain

import (
	"math"

	"example.com/steptest/lactate/internal/noise"
	"gonum.org/v1/gonum/stat/distuv"
)

// Detectable returns the smallest true shift that a pair of tests shows with the
// given power, in units of its standard error, which has dof degrees of freedom.
//
// A pair shows a shift if its own estimate exceeds t·(its own standard
// error), t = the quantile of Student's t for the false alarms. Both vary from
// pair to pair: the estimate as a normal variable about the shift, the squared
// standard error as σ²·χ²(dof)/dof. And σ itself is known only from this pair:
// σ² = dof/χ²(dof), the posterior that [Scale.Draw] draws from. The probability is
// averaged over both χ² at the middles of equal shares.
func Detectable(dof, falseAlarms, power float64) float64 {
	t := Student(dof).Quantile(1 - falseAlarms/2)
	const shares = 16
	var factor [shares]float64 // sqrt(χ²/dof)
	for i := range factor {
		factor[i] = 1
		if dof < noise.ManyDegrees {
			factor[i] = math.Sqrt(distuv.ChiSquared{K: dof}.Quantile((float64(i)+0.5)/shares) / dof)
		}
	}
	// shown returns the probability and its slope by the shift.
	shown := func(shift float64) (p, slope float64) {
		for _, known := range factor {
			for _, own := range factor {
				z := shift*known - t*own
				p += math.Erfc(-z / math.Sqrt2)
				slope += known * math.Exp(-z*z/2)
			}
		}
		return p / (2 * shares * shares), slope / (math.Sqrt(2*math.Pi) * shares * shares)
	}
	// Newton's method in a bracket: the probability rises with the shift.
	lo, hi := 0.0, 1e6
	x := max(0, t+distuv.UnitNormal.Quantile(power))
	for range 100 {
		p, slope := shown(x)
		if p < power {
			lo = x
		} else {
			hi = x
		}
		next := x - (p-power)/slope
		if math.Abs(next-x) <= 1e-14*x || hi-lo <= 1e-14*hi {
			break
		}
		if !(next > lo && next < hi) {
			next = lo/2 + hi/2
		}
		x = next
	}
	return x
}
