//go:build !race

// The race detector makes a sync.Pool forget at random.

package lactate_test

import (
	"runtime"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// No allocation per resample, on either curve, where the definitions answer: an
// error is made of words. Eighteen thousand more resamples allocate no more
// often than what a larger run may add once.
func TestResamplesDoNotAllocate(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	for name, o := range map[string]lactate.Options{
		"exponential": {},
		"cubic":       {Curve: func() lactate.Curve { return new(curve.Polynomial) }},
		"log–log":     {Methods: []lactate.Method{lactate.LogLog{}}},
	} {
		count := func(n int) float64 {
			o.Resamples = n
			return testing.AllocsPerRun(3, func() {
				if _, err := lactate.Analyze(steep, o); err != nil {
					t.Fatal(err)
				}
			})
		}
		if few, many := count(2000), count(20000); !(many-few <= 20) {
			t.Errorf("%s: %v allocations for 2000 resamples, %v for 20000", name, few, many)
		}
	}
}

// steep is an invented test on which the core methods always have an answer.
var steep = lactate.Test{Stages: []lactate.Stage{
	{Intensity: 1.10, Lactate: 1.0}, {Intensity: 1.15, Lactate: 1.1}, {Intensity: 1.20, Lactate: 1.5},
	{Intensity: 1.25, Lactate: 3.0}, {Intensity: 1.30, Lactate: 6.5}, {Intensity: 1.35, Lactate: 14},
}}
