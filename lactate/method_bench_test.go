package lactate_test

import (
	"fmt"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// Every definition read on a curve that is fitted already: eight stages.
func BenchmarkLocate(b *testing.B) {
	test := fullTest()
	for i, c := range []lactate.Curve{new(curve.Exponential), new(curve.Polynomial)} {
		fitted(b, c, test)
		for _, e := range lactate.Catalogue("m/s") {
			if _, err := e.Method.Locate(test, c); err != nil || !e.OnCurve && i > 0 {
				continue // no answer, or not read on a curve and done already
			}
			b.Run(fmt.Sprintf("curve=%T/method=%v", c, e.Method), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := e.Method.Locate(test, c); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
