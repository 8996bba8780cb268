package lactate

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/steptest/lactate/internal/clean"
)

// ParseNoise reads the error of a sample as people state it: "0.2 mmol/L, 3 %", or one
// of the two, with a decimal point or comma. All else is that of [DefaultNoise]. More
// than 2 mmol/L or 50 % is refused as a slip.
func ParseNoise(s string) (Noise, error) {
	n := DefaultNoise()
	n.Absolute, n.Relative = 0, 0
	fail := func() (Noise, error) {
		return Noise{}, fmt.Errorf(`lactate: noise: found %q, want an error such as "0.2 mmol/L, 3 %%", at most 2 mmol/L and 50 %%`, clean.Short(s, 60))
	}
	var words []string // number, unit, number, unit
	for _, w := range strings.Fields(strings.NewReplacer("mmol/l", " mmol/l ", "%", " % ", ";", " ", "+", " ").Replace(strings.ToLower(s))) {
		if w = strings.Trim(w, ","); w != "" {
			words = append(words, w)
		}
	}
	if len(words) == 0 || len(words)%2 != 0 {
		return fail()
	}
	for i := 0; i < len(words); i += 2 {
		v, err := strconv.ParseFloat(strings.Replace(words[i], ",", ".", 1), 64)
		switch {
		case err != nil || !(v > 0):
			return fail()
		case words[i+1] == "%" && v <= 50 && n.Relative == 0:
			n.Relative = v / 100
		case words[i+1] == "mmol/l" && v <= 2 && n.Absolute == 0:
			n.Absolute = v
		default:
			return fail()
		}
	}
	return n, nil
}
