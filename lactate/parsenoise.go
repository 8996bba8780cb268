package lactate

import (
	"fmt"

	"example.com/steptest/lactate/internal/clean"
	"example.com/steptest/lactate/internal/words"
)

// ParseNoise reads the error of a sample as people state it: "0.2 mmol/L, 3 %", or one
// of the two, with a decimal point or comma. All else is that of [DefaultNoise]. More
// than 2 mmol/L or 50 % is refused as a slip.
func ParseNoise(s string) (Noise, error) {
	n := DefaultNoise()
	n.Absolute, n.Relative = 0, 0
	all, ok := words.Quantities(s)
	for _, q := range all {
		switch {
		case q.Unit == "%" && q.Value <= 50 && n.Relative == 0:
			n.Relative = q.Value / 100
		case q.Unit == "mmol/l" && q.Value <= 2 && n.Absolute == 0:
			n.Absolute = q.Value
		default:
			ok = false
		}
	}
	if !ok {
		return Noise{}, fmt.Errorf(`lactate: noise: found %q, want an error such as "0.2 mmol/L, 3 %%", at most 2 mmol/L and 50 %%`, clean.Short(s, 60))
	}
	return n, nil
}
