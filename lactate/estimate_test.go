package lactate_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate"
)

// D: an estimate prints to the digits that its interval leaves.
func TestEstimateString(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		e        lactate.Estimate
		want     string
		interval bool
	}{
		{lactate.Estimate{Value: 1.15416, Low: 1.1512, High: 1.1571}, "1.1542 (1.1512 to 1.1571)", true},
		{lactate.Estimate{Value: 1.15416, Low: 1.141, High: 1.167}, "1.154 (1.141 to 1.167)", true},
		{lactate.Estimate{Value: 138.2, Low: 133.6, High: 141.4}, "138.2 (133.6 to 141.4)", true},
		{lactate.Estimate{Value: 138.2, Low: 113.6, High: 171.4}, "138 (114 to 171)", true},
		{lactate.Estimate{Value: -0.0001, Low: -0.02, High: 0.02}, "0.000 (-0.020 to 0.020)", true},
		{lactate.Estimate{Value: 1.2, Low: 1.05, High: inf}, "1.20 (1.05 to open)", true},
		{lactate.Estimate{Value: 1.2, Low: -inf, High: inf}, "1.2 (open to open)", true},
		{lactate.Estimate{Value: 4, Low: nan, High: nan}, "4", false},
		{lactate.Estimate{Value: nan, Low: nan, High: nan}, "none", false},
		{lactate.Estimate{}, "0", false},
	} {
		if got := c.e.String(); got != c.want || c.e.HasInterval() != c.interval {
			t.Errorf("%q, %t; want %q, %t", got, c.e.HasInterval(), c.want, c.interval)
		}
	}
}

// D: the lactate of a fixed level is the level, and nothing to be uncertain about; that of
// a rise above the baseline is not.
func TestFixedLevelHasNoInterval(t *testing.T) {
	o := lactate.Options{Resamples: 200, Methods: []lactate.Method{lactate.Fixed{Lactate: 3}, lactate.AboveBaseline{Rise: 1}}}
	for _, submaximal := range []bool{false, true} {
		test := january()
		test.Submaximal = submaximal
		a := analysed(t, test, o)
		fixed, rise := a.Thresholds[0], a.Thresholds[1]
		if fixed.Lactate.HasInterval() || math.Abs(fixed.Lactate.Value-3) > 1e-9 || !fixed.Intensity.HasInterval() || !rise.Lactate.HasInterval() {
			t.Errorf("%v at %v, %v at %v", fixed.Lactate, fixed.Intensity, rise.Lactate, rise.Intensity)
		}
	}
}
