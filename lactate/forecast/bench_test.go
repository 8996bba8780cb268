package forecast_test

import (
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
)

func BenchmarkOf(b *testing.B) {
	p := sixOf400()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := forecast.Of(p, forecast.Expected{}, lactate.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOfAfterTests(b *testing.B) {
	p := sixOf400()
	e := forecast.Expected{Tests: []lactate.Test{swimmer{1.1, 9, 15}.test(p, 0.01), swimmer{1.1, 9, 15}.test(p, -0.01), swimmer{1.1, 9, 15}.test(p, 0)}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := forecast.Of(p, e, lactate.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSpace(b *testing.B) {
	p := sixOf400()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := forecast.Space(p, forecast.Expected{}, lactate.Options{}, forecast.Rules{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNext(b *testing.B) {
	p := sixOf400()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := forecast.Next(p, begun(p, 1.2, 1.4, 1.8), forecast.Expected{}, lactate.Options{}, forecast.Rules{}); err != nil {
			b.Fatal(err)
		}
	}
}
