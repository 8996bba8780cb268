package lactate

import (
	"errors"
	"fmt"
	"math"
	"time"

	"example.com/steptest/lactate/internal/noise"
)

// Noise is what a sample is believed to be off by: the analyser, the drop of blood and the
// watch; not the athlete's variation from day to day, see [CompareOptions.DayToDay]. The
// standard deviation of a lactate sample of true value y is
//
//	σ(y)² = Absolute² + (Relative·y)² + Resolution²/12 + (slope of the curve · intensity · Timing/duration)²
//
// The last term is the error of the watch as the curve turns it into lactate, for stages with
// a duration.
//
// The zero value means [DefaultNoise], and Weight alone that with another weight. With any
// other field set it is taken as it stands.
type Noise struct {
	Absolute   float64       `json:"absolute_mmol_per_l"`   // standard deviation at any level [mmol/L]
	Relative   float64       `json:"relative"`              // standard deviation as a share of the value [1]
	Resolution float64       `json:"resolution_mmol_per_l"` // smallest step that the analyser prints [mmol/L]
	Timing     time.Duration `json:"timing_ns"`             // standard deviation of a stage's time
	// Weight is the number of observations, at least 0.1, that the numbers above count as
	// beside the residuals of the test. Zero means 4. Negative means none: there is no
	// interval if the fit leaves no residuals. math.Inf(1) takes them as certain.
	Weight float64 `json:"weight,omitzero"`
}

// DefaultNoise returns the noise assumed if none is stated: 0.2 mmol/L and 3 %, printed to 0.1
// mmol/L, with a hand-held watch of 0.1 s.
//
// Sources (abstracts seen): portable analysers within 0.5 mmol/L from 1 to 10 mmol/L,
// Bonaventura and others (2015), J Sports Sci Med 14:203–214; typical error 0.200 mmol/L and
// 2.95 % over 99 duplicate samples, Kaya and others (2020), Spor Hekimligi Derg; hand timing
// 0.10 s, start and stop together, from swim-meet timekeepers, Am J Phys 87:110 (2019). To take
// the first two as standard deviations that add in quadrature is our judgement.
func DefaultNoise() Noise {
	return Noise{Absolute: noise.Absolute, Relative: noise.Relative, Resolution: 0.1, Timing: 100 * time.Millisecond}
}

// leastWeight is the least weight above zero: with less, and no degree of freedom beside it,
// draws of the scale overflow.
const leastWeight = 0.1

// orDefault replaces the zero value.
func (n Noise) orDefault() Noise {
	if n == (Noise{}) {
		return DefaultNoise()
	}
	if n == (Noise{Weight: n.Weight}) {
		d := DefaultNoise()
		d.Weight = n.Weight
		return d
	}
	return n
}

// PriorWeight returns ν₀: Weight, or what its zero or a negative value means.
func (n Noise) PriorWeight() float64 { return noise.Prior(n.Weight) }

// Lactate returns the standard deviation of a lactate sample of true value y (mmol/L), without
// the error of the watch.
func (n Noise) Lactate(y float64) float64 { return math.Sqrt(n.orDefault().variance(y)) }

func (n Noise) variance(y float64) float64 {
	r := n.Relative * y
	return n.Absolute*n.Absolute + r*r + n.Resolution*n.Resolution/12
}

// Stage returns the standard deviation of a stage's lactate (mmol/L) about a curve that has the
// value y (mmol/L) and this slope (mmol/L per unit of intensity) there.
func (n Noise) Stage(s Stage, y, slope float64) float64 {
	n = n.orDefault()
	v := n.variance(y)
	if s.Duration > 0 {
		dx := s.Intensity * n.Timing.Seconds() / s.Duration.Seconds()
		v += slope * slope * dx * dx
	}
	return math.Sqrt(v)
}

// about returns the standard deviation of each stage's lactate about a curve, as Stage does.
func (n Noise) about(stages []Stage) func(i int, y, slope float64) float64 {
	return func(i int, y, slope float64) float64 { return n.Stage(stages[i], max(y, smallestLactate), slope) }
}

var errImmense = errors.New("lactate: the numbers of the tests, or of their noise, are too large or too small to reckon with")

// validate reports every field that cannot be right.
func (n Noise) validate() error {
	var errs []error
	check := func(field string, v float64) {
		if !nonNegative(v) {
			errs = append(errs, fmt.Errorf("%w: noise: %s: found %v, want a finite number, zero or above", ErrOptions, field, v))
		}
	}
	check("absolute", n.Absolute)
	check("relative", n.Relative)
	check("resolution", n.Resolution)
	check("timing", n.Timing.Seconds())
	if math.IsNaN(n.Weight) || n.Weight > 0 && n.Weight < leastWeight {
		errs = append(errs, fmt.Errorf("%w: noise: weight: found %v, want a number of observations, at least %v", ErrOptions, n.Weight, leastWeight))
	}
	if n.orDefault().variance(1) == 0 {
		errs = append(errs, fmt.Errorf("%w: noise: found no lactate error at all, want Absolute, Relative or Resolution above zero", ErrOptions))
	}
	return errors.Join(errs...)
}
