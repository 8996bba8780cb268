package lactate_test

import (
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// exponential is for the tests of what holds on that curve alone, most of them with Dmax.
func exponential() lactate.Curve { return new(curve.Exponential) }
