package chart_test

import (
	"io"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/pace"
)

// One test, from its analysis to the bytes of a file.
func BenchmarkOneTest(b *testing.B) {
	test := invented(7, 0)
	a := analysed(b, test, lactate.Options{Resamples: 2000})
	o := chart.Options{Pool: pace.SCY(), Title: "Invented swimmer"}
	for _, file := range []string{"a.svg", "a.png"} {
		b.Run("format="+file[2:], func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p := oneTest(b, a, o)
				if err := p.Write(io.Discard, file); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
