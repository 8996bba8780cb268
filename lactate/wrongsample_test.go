package lactate_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"sync"
	"testing"
	"time"

	"example.com/steptest/lactate"
)

// D: one wrong sample in one of five tests, a slip of the decimal point, two digits
// exchanged or a drop of water, or a sample that fell out, does not carry the trend: its
// interval holds the truth nearly as often as without.
func TestSimulatedWrongSample(t *testing.T) {
	if testing.Short() {
		t.Skip("simulation")
	}
	noise := lactate.Noise{Absolute: 0.2, Relative: 0.03, Resolution: 0.1}
	const day, perFourWeeks = 0.008, 0.006
	start := time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)
	for _, slip := range []struct {
		name string
		to   func(y float64) float64
	}{
		{"none", func(y float64) float64 { return y }},
		{"fell out", func(float64) float64 { return 0 }},
		{"ten times", func(y float64) float64 { return 10 * y }},
		{"a tenth", func(y float64) float64 { return max(y/10, 0.1) }},
		{"half", func(y float64) float64 { return y / 2 }},
		{"plus 3", func(y float64) float64 { return y + 3 }},
	} {
		var mu sync.Mutex
		var holds share
		worst, square := 0.0, 0.0
		eachSimulated(repetitions(8), 29, func(rng *rand.Rand) {
			which, stage := rng.IntN(5), 1+rng.IntN(4)
			var tests []lactate.DatedTest
			for k, weeks := range []int{0, 6, 13, 20, 26} {
				place := perFourWeeks*float64(weeks)/4 + day*1.33*rng.NormFloat64()
				test := sample(rng, func(x float64) float64 { return truths[0].curve(x - place) }, even(6), noise, 1)
				if k == which {
					test.Stages[stage].Lactate = slip.to(test.Stages[stage].Lactate)
				}
				tests = append(tests, lactate.DatedTest{Date: start.AddDate(0, 0, 7*weeks), Test: test})
			}
			s, err := lactate.FollowSeason(tests, lactate.CompareOptions{Options: lactate.Options{Noise: noise, Methods: []lactate.Method{}}, DayToDay: day})
			if errors.Is(err, lactate.ErrNotRising) {
				return // one test, named, which can be left out
			}
			if err != nil {
				t.Errorf("%s: %v", slip.name, err)
				return
			}
			mu.Lock()
			defer mu.Unlock()
			holds.add(s.Trend.Shift.Low <= perFourWeeks && perFourWeeks <= s.Trend.Shift.High)
			off := math.Abs(s.Trend.Shift.Value - perFourWeeks)
			worst = max(worst, off)
			square += off * off
		})
		t.Logf("%-10s: 90 %% holds the trend in %.1f %% of %d; root mean square error %.4f, at most %.4f m/s", slip.name, holds.percent(), holds.of, math.Sqrt(square/float64(holds.of)), worst)
		if !(holds.percent() >= 85-holds.sampling(85)) {
			t.Errorf("%s: 90 %% holds the trend in %.1f %%", slip.name, holds.percent())
		}
	}
}
