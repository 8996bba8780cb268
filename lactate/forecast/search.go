package forecast

import (
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate"
)

// How many tests try a spacing in the search, and how many judge the best.
const (
	searchTests, searchDraws = 40, 100
	judgeTests               = 300
)

// searching checks what a search is asked, fills in the defaults and returns the
// distance of each stage [m].
func searching(stages []lactate.Stage, o lactate.Options, r Rules) (lactate.Options, Rules, float64, error) {
	o, err := options(o)
	if err != nil {
		return o, r, 0, err
	}
	if err := check(stages); err != nil {
		return o, r, 0, err
	}
	distance, err := searchable(stages)
	if err != nil {
		return o, r, 0, err
	}
	r, err = r.withDefaults(distance)
	return o, r, distance, err
}

// search looks for the times of stages.
type search struct {
	distance    float64 // of each stage [m]
	rules       Rules
	quick, full *simulation
	even        [2]float64 // costs of LT1 and LT2 in the quick simulation
	tried       map[[mostStages]time.Duration]float64
}

// search returns one for a number of stages, the first of which may have been swum.
func (b *belief) search(distance float64, stages int, swum []lactate.Stage, o lactate.Options, r Rules) *search {
	full := b.simulation(judgeTests, stages, searchDraws, o)
	full.swum = swum
	quick := *full
	quick.truths, quick.z = full.truths[:searchTests], full.z[:searchTests]
	full.truths, full.z = full.truths[searchTests:], full.z[searchTests:]
	return &search{distance: distance, rules: r, quick: &quick, full: full, tried: map[[mostStages]time.Duration]float64{}}
}

// found reports whether both thresholds are found at all.
func (s *search) found(times []time.Duration) error {
	for k, w := range s.quick.run(over(s.distance, times)) {
		if w.missed == 1 {
			return fmt.Errorf("%w: %v is found on no probable curve: %w", ErrNoAnswer, [2]lactate.Method{s.quick.o.LT1, s.quick.o.LT2}[k], w.err)
		}
	}
	return nil
}

// run returns the best times found, beginning with even ones. The first ones, fixed in
// number, and the last stay as they are.
func (s *search) run(even []time.Duration, fixed int) (best []time.Duration, ok bool) {
	least := math.Inf(1)
	for i, from := range [][]time.Duration{even, s.late(even, fixed)} {
		if !feasible(from, fixed, s.rules.Least) {
			if i == 0 {
				return nil, false
			}
			continue
		}
		if i == 0 {
			s.even = s.costs(even)
		}
		if times, cost := s.descend(from, fixed); cost < least {
			best, least = times, cost
		}
	}
	return best, true
}

// late leaves a wide first step, and even ones after it.
func (s *search) late(even []time.Duration, fixed int) []time.Duration {
	times := slices.Clone(even)
	n := len(times)
	top, bottom := even[fixed-1], even[n-1]
	for i := fixed; i < n-1; i++ {
		u := 0.4 + 0.6*float64(i-fixed)/float64(n-1-fixed)
		times[i] = (top + time.Duration(u*float64(bottom-top))).Round(s.rules.Round)
	}
	return times
}

func (s *search) costs(times []time.Duration) [2]float64 {
	seen := s.quick.run(over(s.distance, times))
	return [2]float64{seen[0].cost, seen[1].cost}
}

// cost is the width of the worse of LT1 and LT2 beside even steps.
func (s *search) cost(times []time.Duration) float64 {
	var key [mostStages]time.Duration
	copy(key[:], times)
	cost, ok := s.tried[key]
	if !ok {
		c := s.costs(times)
		cost = max(c[0]/s.even[0], c[1]/s.even[1])
		s.tried[key] = cost
	}
	return cost
}

// check returns the widths of LT1 and LT2 beside those of even steps, on tests that
// the search has not seen.
func (s *search) check(even, times []time.Duration) (lt1, lt2 float64) {
	a, b := s.full.run(over(s.distance, even)), s.full.run(over(s.distance, times))
	return b[0].cost / a[0].cost, b[1].cost / a[1].cost
}

// feasible reports whether every stage from the fixed ones on is faster than the
// one before by the least step.
func feasible(times []time.Duration, fixed int, least time.Duration) bool {
	for i := fixed; i < len(times); i++ {
		if times[i-1]-times[i] < least {
			return false
		}
	}
	return true
}

// descend moves one target, or two neighbours together, as long as that helps, by
// steps that become smaller, down to half the least step.
func (s *search) descend(times []time.Duration, fixed int) ([]time.Duration, float64) {
	times = slices.Clone(times)
	cost := s.cost(times)
	n := len(times)
	smallest := max(s.rules.Least/2, s.rules.Round)
	for step := (times[fixed-1] - times[n-1]) / 8; ; step /= 2 {
		step = max(step.Round(s.rules.Round), smallest)
		for moved := true; moved; {
			moved = false
			for i := fixed; i < n-1; i++ {
				for _, d := range [2]time.Duration{step, -step} {
					for width := 1; width <= 2 && i+width <= n-1; width++ {
						trial := slices.Clone(times)
						for k := range width {
							trial[i+k] += d
						}
						if !feasible(trial, fixed, s.rules.Least) {
							continue
						}
						if c := s.cost(trial); c < cost-0.002 {
							times, cost, moved = trial, c, true
						}
					}
				}
			}
		}
		if step <= smallest {
			return times, cost
		}
	}
}
