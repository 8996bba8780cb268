package between_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/steptest/lactate/between"
)

// Any readings: an error, or finite places and expectations in order.
func FuzzFollow(f *testing.F) {
	rng := rand.New(rand.NewPCG(9, 20))
	tests, _, _, _ := swimmer{exponential, 0.005, normalOffsets(0.3), 3, 0}.simulate(rng)
	m, err := between.New(tests, between.Options{})
	if err != nil {
		f.Fatal(err)
	}
	f.Add(uint8(20), 1.3, 2.5, uint8(1), int16(30))
	f.Add(uint8(3), 1.3, 99., uint8(2), int16(-4000))
	f.Add(uint8(90), 1.2999, 0.01, uint8(0), int16(0))
	f.Add(uint8(9), 1e300, 1e-300, uint8(40), int16(9000))
	f.Fuzz(func(t *testing.T, n uint8, intensity, lactate float64, kind uint8, day int16) {
		var readings []between.Reading
		for i := range int(n) {
			r := between.Reading{Date: on(int(day) * i / 7), Intensity: intensity * (1 + 0.01*float64(i%5)), Lactate: lactate * (1 + 0.3*float64(i%3))}
			if kind > 0 {
				r.Kind = string(rune('a' + i%int(kind)))
			}
			readings = append(readings, r)
		}
		c, err := m.Follow(readings)
		if err != nil {
			return
		}
		for _, d := range []int{-100, 20, int(day), 200} {
			p := c.At(on(d))
			for _, v := range []float64{p.Shift.Value, p.Shift.Low, p.Shift.High, p.LT2.Value, p.LT2.Low, p.LT2.High} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("day %d: %+v", d, p)
				}
			}
		}
		for _, r := range c.Readings {
			if r.Expected.HasInterval() && !(r.Expected.Low <= r.Expected.High && r.Percentile >= 0 && r.Percentile <= 1) {
				t.Fatalf("found %+v", r)
			}
		}
		c.Due(on(int(day)))
	})
}
