package uncertain

import (
	"math"
	"math/rand/v2"
)

// Differences returns the central interval of b − a, draw by draw, and the number of draws
// without a difference, which are left out: one is NaN, or both are infinite on one side.
func Differences(a, b []float64, confidence float64) (low, high float64, none int) {
	d := make([]float64, len(a))
	for i := range d {
		d[i] = b[i] - a[i]
		if math.IsNaN(d[i]) {
			none++
		}
	}
	low, high = Central(d, confidence)
	return low, high, none
}

// Ordered returns the share of draws in which a lies below b, of those that have a
// difference; 1 if none has.
func Ordered(a, b []float64) float64 {
	below, both := 0, 0
	for i, x := range a {
		y := b[i]
		if math.IsNaN(x) || math.IsNaN(y) || math.IsInf(x, 0) && x == y {
			continue
		}
		both++
		if x < y {
			below++
		}
	}
	if both == 0 {
		return 1
	}
	return float64(below) / float64(both)
}

// Count returns how many draws are infinite, and how many are NaN.
func Count(values []float64) (beyond, none int) {
	for _, x := range values {
		switch {
		case math.IsInf(x, 0):
			beyond++
		case math.IsNaN(x):
			none++
		}
	}
	return beyond, none
}

// Strata fills at with numbers from 0 to 1, one in each of as many equal parts, in random
// order.
func Strata(at []float64, rng *rand.Rand) {
	for i := range at {
		at[i] = (float64(i) + rng.Float64()) / float64(len(at))
	}
	rng.Shuffle(len(at), func(i, j int) { at[i], at[j] = at[j], at[i] })
}
