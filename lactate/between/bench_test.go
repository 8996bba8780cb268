package between_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/steptest/lactate/between"
)

// Ten years of readings, 5,000 in 25 kinds, between and after twelve tests.
func BenchmarkFollow(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 20))
	s := swimmer{exponential, 0.002, normalOffsets(0.3), 12, 0}
	tests, _, _, _ := s.simulate(rng)
	for i := range tests {
		tests[i].Date = monday.AddDate(0, 0, i*300)
	}
	var readings []between.Reading
	for i := range 5000 {
		x := speed + 0.01*rng.NormFloat64()
		readings = append(readings, between.Reading{Date: monday.AddDate(0, 0, i*3650/5000), Intensity: x,
			Lactate: sample(rng, exponential(x)), Kind: string(rune('a' + i%25))})
	}
	m, err := between.New(tests, between.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		c, err := m.Follow(readings)
		if err != nil || math.IsNaN(c.At(monday).Shift.Value) {
			b.Fatal(err)
		}
	}
}

func BenchmarkNew(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 20))
	tests, _, _, _ := swimmer{exponential, 0.005, normalOffsets(0.3), 5, 0}.simulate(rng)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := between.New(tests, between.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
