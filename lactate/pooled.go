package lactate

import (
	"errors"
	"fmt"
	"math"
	"time"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
)

// PooledNoise returns the stated noise as an athlete's own tests correct it: all its terms
// multiplied by one factor, the square root of
//
//	(ν₀ + Σ r²/σ²) / (ν₀ + ν)
//
// where ν₀ is the weight of the stated noise, r the residuals of each test about an exponential
// of its own, σ their stated standard deviations and ν the degrees of freedom that the fits
// left. Its Weight is ν₀ + ν: the more tests, the more the intervals of the next one trust it.
// The rounding of the analyser is part of the residuals and moves into Absolute.
//
// The residuals hold whatever makes a sample miss a smooth curve, also if it is not the
// athlete's shape. They say nothing of variation from day to day. The error joins those of the
// tests that cannot be fitted.
func PooledNoise(stated Noise, tests ...Test) (Noise, error) {
	if err := stated.validate(); err != nil {
		return Noise{}, err
	}
	n := stated.orDefault()
	sc := uncertain.Scale{Prior: n.PriorWeight()}
	var errs []error
	for i, t := range tests {
		a, err := prepare(t, Options{Curve: func() Curve { return new(curve.Exponential) }, Noise: n})
		if err != nil {
			errs = append(errs, fmt.Errorf("test %d: %w", i+1, err))
			continue
		}
		m := a.model()
		sc.Sum += m.scale.Sum
		sc.DoF += m.scale.DoF
	}
	if len(errs) > 0 {
		return Noise{}, errors.Join(errs...)
	}
	if !sc.Known() {
		return Noise{}, fmt.Errorf("lactate: pooled noise: %w: found none more than the curves' parameters", ErrTooFewStages)
	}
	factor, _ := sc.Mean()
	out := Noise{
		Absolute: factor * math.Hypot(n.Absolute, n.Resolution/math.Sqrt(12)),
		Relative: factor * n.Relative,
		Timing:   time.Duration(math.Round(factor * float64(n.Timing))),
		Weight:   sc.Prior + sc.DoF,
	}
	return out, nil
}
