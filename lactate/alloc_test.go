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

// The methods are read thousands of times behind every interval: where they
// answer, they do not allocate.
func TestLocateDoesNotAllocate(t *testing.T) {
	test := fullTest()
	test.Stages = test.Sampled()
	for _, c := range []lactate.Curve{new(curve.Exponential), new(curve.Polynomial)} {
		fitted(t, c, test)
		for _, e := range lactate.Catalogue("m/s") {
			if _, err := e.Method.Locate(test, c); err != nil {
				continue // an error is made of words
			}
			if n := testing.AllocsPerRun(100, func() { e.Method.Locate(test, c) }); n >= 1 {
				t.Errorf("%v on %T: %v allocations", e.Method, c, n)
			}
		}
	}
}
