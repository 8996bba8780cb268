//go:build !race

// The race detector makes a sync.Pool forget at random.

package lactate_test

import (
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

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
