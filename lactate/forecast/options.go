package forecast

import (
	"fmt"

	"example.com/steptest/lactate"
)

// options fills in the defaults of package lactate, and refuses what it refuses and
// a noise that the sums do not bear.
func options(o lactate.Options) (lactate.Options, error) {
	o, err := o.WithDefaults()
	if err != nil {
		return o, fmt.Errorf("%w: %w", ErrNoAnswer, err)
	}
	if sd := o.Noise.Lactate(1); !(sd >= 1e-6 && sd <= 1e3) {
		return o, fmt.Errorf("%w: found a noise of %+v, want an error of 1e-6 to 1000 mmol/L at 1 mmol/L", ErrNoAnswer, o.Noise)
	}
	o.Methods = []lactate.Method{}
	return o, nil
}
