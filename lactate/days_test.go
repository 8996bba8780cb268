package lactate_test

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"
	"time"

	"example.com/steptest/lactate"
)

// D: a swimmer who does not change but has good and bad days is said to have
// moved in about 10 % of pairs, 5 % to either side, as meant, and the intervals that reckon with days
// hold what they should: the shift between two days' means, a trend, and the
// place of the next test.
func TestSimulatedDays(t *testing.T) {
	if testing.Short() {
		t.Skip("simulation")
	}
	noise := lactate.Noise{Absolute: 0.2, Relative: 0.03, Resolution: 0.1}
	const day, perFourWeeks = 0.008, 0.006
	xs := even(7)
	start := time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)
	var mu sync.Mutex
	var pairs, alarms, held, seasons, trend, next int
	n := repetitions(40)
	eachSimulated(n, 17, func(rng *rand.Rand) {
		// on returns a test on a day, with the true place of the curve then.
		on := func(place float64) lactate.Test {
			return sample(rng, func(x float64) float64 { return truths[0].curve(x - place) }, xs, noise, 1)
		}
		// LT2 of the truth lies near 1.33 m/s.
		a := func() float64 { return day * 1.33 * rng.NormFloat64() }
		c, err := lactate.Compare(on(a()), on(a()), lactate.CompareOptions{Options: lactate.Options{Noise: noise, Methods: []lactate.Method{}}, DayToDay: day})
		if err != nil {
			return
		}
		var tests []lactate.DatedTest
		at := func(weeks int) float64 { return perFourWeeks*float64(weeks)/4 + a() }
		first := at(0)
		for k, weeks := range []int{0, 6, 13, 20, 26} {
			place := first
			if k > 0 {
				place = at(weeks)
			}
			tests = append(tests, lactate.DatedTest{Date: start.AddDate(0, 0, 7*weeks), Test: on(place)})
		}
		s, err := lactate.FollowSeason(tests, lactate.CompareOptions{Options: lactate.Options{Noise: noise, Methods: []lactate.Method{}}, DayToDay: day})
		if err != nil {
			return
		}
		e, err := s.Expected(start.AddDate(0, 0, 7*32))
		if err != nil {
			t.Error(err)
			return
		}
		truth := at(32) - first
		mu.Lock()
		defer mu.Unlock()
		count := func(to *int, ok bool) {
			if ok {
				*to++
			}
		}
		pairs++
		count(&alarms, c.BetweenDays.Grade.Sure())
		count(&held, c.BetweenDays.Shift.Low <= 0 && 0 <= c.BetweenDays.Shift.High)
		seasons++
		count(&trend, s.Trend.Shift.Low <= perFourWeeks && perFourWeeks <= s.Trend.Shift.High)
		count(&next, e.Low <= truth && truth <= e.High)
	})
	share := func(k int) float64 { return 100 * float64(k) / float64(pairs) }
	t.Logf("%d pairs and seasons: false alarms %.1f %%; 90 %% holds the shift %.1f %%, the trend %.1f %%, the next test %.1f %%",
		pairs, share(alarms), share(held), share(trend), share(next))
	if pairs < n*9/10 {
		t.Errorf("only %d of %d answered", pairs, n)
	}
	four := 400 * math.Sqrt(0.09/float64(n)) // four standard errors of a 90 % share, in per cent
	if got := share(alarms); !(got <= 12+four) {
		t.Errorf("%.1f %% false alarms", got)
	}
	for what, got := range map[string]float64{"shift": share(held), "trend": share(trend), "next test": share(next)} {
		if !(got >= 87-four && got <= 94+four) {
			t.Errorf("90 %% interval of the %s holds it in %.1f %%", what, got)
		}
	}
}
