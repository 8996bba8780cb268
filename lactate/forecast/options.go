package forecast

import (
	"fmt"
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// options fills in the defaults of package lactate, and refuses what it refuses and
// a noise that the sums do not bear.
func options(o lactate.Options) (lactate.Options, error) {
	if o.Curve == nil { // what is believed of a swimmer is an exponential
		o.Curve = func() lactate.Curve { return new(curve.Exponential) }
	}
	o, err := o.WithDefaults()
	if err != nil {
		return o, fmt.Errorf("%w: %w", ErrNoAnswer, err)
	}
	if sd := o.Noise.Lactate(1); !(sd >= 1e-6 && sd <= 1e3) {
		return o, fmt.Errorf("%w: found a noise of %+v, want an error of 1e-6 to 1000 mmol/L at 1 mmol/L", ErrNoAnswer, o.Noise)
	}
	o.Methods, o.Resamples = []lactate.Method{}, 0
	return o, nil
}

// certain returns the options with the stated noise taken as it stands: intervals
// are then those of the normal distribution.
func certain(o lactate.Options) lactate.Options {
	o.Noise.Weight = math.Inf(1)
	return o
}
