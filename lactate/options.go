package lactate

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"example.com/steptest/lactate/curve"
)

// Options are the choices of [Analyze]. The zero value is the documented default.
type Options struct {
	// Curve makes a new curve to fit. Several cores call it at once, each for a curve of
	// its own. Zero means [curve.Convex].
	Curve func() Curve
	// LT1 and LT2 define the two thresholds. Zero means AboveBaseline{Rise: 0.5} and
	// AboveBaseline{Rise: 1.5}: two levels of one curve, in order whatever its shape, that
	// move as the curve moves.
	LT1, LT2 Method
	// Methods are all definitions to report; several cores call them, LT1 and LT2 at once
	// if there are resamples. Nil means [CoreMethods], empty none.
	Methods []Method
	// Noise is the error of the measurements. Zero means [DefaultNoise].
	Noise Noise
	// Confidence of the intervals, between 0 and 1. Zero means 0.90.
	Confidence float64
	// Resamples is the number of draws behind each interval: 2000 is plenty for reading,
	// 10000 for publishing. Bounds are 100 and a million, and one draw beyond either end of
	// an interval. Zero means no intervals.
	Resamples int
	// Seed: the same gives the same bits, on any number of cores of one architecture. Zero
	// is a seed like any other.
	Seed uint64

	done <-chan struct{} // ends resampling early; nil for never
}

// ended reports whether nobody waits for the answer any more.
func (o Options) ended() bool {
	select {
	case <-o.done:
		return true
	default:
		return false
	}
}

// ErrOptions is wrapped by every error about the options of an analysis, a comparison, a
// season or a side-by-side.
var ErrOptions = errors.New("lactate: options")

// An interval needs so many resamples; time and memory have an end.
const fewestResamples, maxResamples = 100, 1_000_000

// CoreMethods returns the definitions that a test is read with by default.
func CoreMethods() []Method {
	return []Method{
		AboveBaseline{Rise: 0.5},
		AboveBaseline{Rise: 1},
		AboveBaseline{Rise: 1.5},
		Fixed{Lactate: 2},
		Fixed{Lactate: 3},
		Fixed{Lactate: 4},
		MaxDistance{},
		ModifiedMaxDistance{},
	}
}

// WithDefaults puts defaults in place of what is zero. The error joins one for each option
// that cannot be right.
func (o Options) WithDefaults() (Options, error) {
	var errs []error
	if o.Curve == nil {
		o.Curve = func() Curve { return new(curve.Convex) }
	}
	o.LT1 = cmp.Or[Method](o.LT1, AboveBaseline{Rise: 0.5})
	o.LT2 = cmp.Or[Method](o.LT2, AboveBaseline{Rise: 1.5})
	if o.Methods == nil {
		o.Methods = CoreMethods()
	}
	for i, m := range o.Methods {
		if m == nil {
			errs = append(errs, fmt.Errorf("%w: Methods[%d]: found nil, want a method", ErrOptions, i))
		}
	}
	o.Confidence = cmp.Or(o.Confidence, 0.90)
	if !(o.Confidence > 0 && o.Confidence < 1) {
		errs = append(errs, fmt.Errorf("%w: Confidence: found %v, want a number between 0 and 1, such as 0.90", ErrOptions, o.Confidence))
	}
	switch {
	case o.Resamples != 0 && o.Resamples < fewestResamples || o.Resamples > maxResamples:
		errs = append(errs, fmt.Errorf("%w: Resamples: found %d, want 0, or %d to %d", ErrOptions, o.Resamples, fewestResamples, maxResamples))
	case o.Resamples > 0 && float64(o.Resamples)*(1-o.Confidence) < 2:
		errs = append(errs, fmt.Errorf("%w: Resamples: found %d, too few for a confidence of %v: want %.0f or more", ErrOptions, o.Resamples, o.Confidence, math.Ceil(2/(1-o.Confidence))))
	}
	errs = append(errs, o.Noise.validate())
	o.Noise = o.Noise.orDefault()
	return o, errors.Join(errs...)
}
