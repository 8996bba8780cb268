package between_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
)

// Ten years: 5,000 readings of 6 kinds, and twelve tests.
func BenchmarkFollow(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 20))
	place := 0.0
	var tests []lactate.DatedTest
	var readings []between.Reading
	for i := range 5000 {
		date := monday.AddDate(0, 0, i*3650/5000)
		place += 0.002 * speed * rng.NormFloat64() / 3
		of := place + 0.008*speed*rng.NormFloat64()
		if i%440 == 0 {
			var t lactate.Test
			for k := range 6 {
				x := 1.12 + place + 0.056*float64(k)
				t.Stages = append(t.Stages, lactate.Stage{Intensity: x, Lactate: sample(rng, exponential(x-of))})
			}
			tests = append(tests, lactate.DatedTest{Date: date, Test: t})
		}
		x := speed + place + 0.01*rng.NormFloat64()
		readings = append(readings, between.Reading{Date: date, Intensity: x, Lactate: sample(rng, exponential(x-of)), Kind: string(rune('a' + i%6))})
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
