package forecast

import (
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/uncertain"
)

// search looks for targets. What is read off the curve and its ends alone has
// the same gradient wherever the stages between the ends are put.
type search struct {
	distance  float64 // of each stage [m]
	all       []candidate
	earlier   [][]lactate.Stage // the test to compare with, by candidate
	noise     lactate.Noise
	aim       Aim
	scale     float64         // of the rate
	gradients [2][][3]float64 // of LT2 and LT1, by candidate
	even      [aims][]float64 // standard errors with even steps, by candidate
	w         derivatives
	stages    []lactate.Stage
}

func newSearch(distance float64, times []time.Duration, all []candidate, e Expected, o lactate.Options, aim Aim) (*search, error) {
	even := over(distance, times)
	s := &search{distance: distance, noise: o.Noise, aim: aim, scale: final(even) - even[0].Intensity}
	for _, c := range all {
		t := c.test(even)
		g2, err2 := gradient(o.LT2, c, t, s.scale)
		g1, err1 := gradient(o.LT1, c, t, s.scale)
		if err1 != nil || err2 != nil {
			continue // not found on this curve, wherever the stages are
		}
		earlier := t.Stages
		if n := len(e.Tests); n > 0 {
			earlier = e.Tests[n-1].Sampled()
		}
		s.all, s.earlier = append(s.all, c), append(s.earlier, earlier)
		s.gradients[NarrowLT2] = append(s.gradients[NarrowLT2], g2)
		s.gradients[NarrowLT1] = append(s.gradients[NarrowLT1], g1)
	}
	if len(s.all) == 0 {
		return nil, fmt.Errorf("%w: %v and %v are found together on no probable curve", ErrNoAnswer, o.LT1, o.LT2)
	}
	for i, c := range s.all {
		sd, ok := s.errors(i, times)
		if !ok {
			return nil, fmt.Errorf("%w: the stages do not determine the curve", ErrNoAnswer)
		}
		for a := range aims {
			s.even[a] = append(s.even[a], sd[a])
		}
		if i == 0 {
			if err := s.verify(c, even, sd, o); err != nil {
				return nil, err
			}
		}
	}
	return s, nil
}

// verify compares with the delta method of package lactate, which refits and
// so knows whatever a method reads.
func (s *search) verify(c candidate, even []lactate.Stage, sd [aims]float64, o lactate.Options) error {
	a, err := lactate.Analyze(c.test(even), certain(o))
	if err != nil {
		return fmt.Errorf("%w: %w", ErrNoAnswer, err)
	}
	z := uncertain.HalfWidth(math.Inf(1), o.Confidence)
	for k, m := range [2]lactate.Method{o.LT2, o.LT1} {
		x, err := a.DeltaInterval(m)
		if err != nil {
			return fmt.Errorf("%w: %w", ErrNoAnswer, err)
		}
		if full := (x.High - x.Low) / (2 * z); !(math.Abs(full-sd[k]) <= 0.02*full) {
			return fmt.Errorf("%w: %v on this curve is not read off an exponential curve and its ends alone, which the search needs", ErrNoAnswer, m)
		}
	}
	return nil
}

// errors returns the standard errors for one candidate.
func (s *search) errors(i int, times []time.Duration) (sd [aims]float64, ok bool) {
	c := s.all[i]
	s.stages = s.stages[:0]
	for _, t := range times {
		v := s.distance / t.Seconds()
		s.stages = append(s.stages, lactate.Stage{Intensity: v, Lactate: c.lactate(v), Duration: t})
	}
	if !s.w.fit(c, s.stages, s.noise, s.scale) {
		return sd, false
	}
	for k, g := range s.gradients {
		v := s.w.one.Variance(g[i][:]...)
		if math.IsNaN(v) {
			return sd, false
		}
		sd[k] = math.Sqrt(v)
	}
	sd[NarrowShift], ok = s.w.shift(c, s.earlier[i], s.stages, s.noise)
	return sd, ok
}

// ratios returns the widths beside those of even steps, averaged.
func (s *search) ratios(times []time.Duration) (r [aims]float64, ok bool) {
	total := 0.0
	for i, c := range s.all {
		sd, ok := s.errors(i, times)
		if !ok {
			return r, false
		}
		for a := range aims {
			r[a] += c.weight * sd[a] / s.even[a][i]
		}
		total += c.weight
	}
	for a := range aims {
		r[a] /= total
	}
	return r, true
}

// cost is the ratio of the aim, with a heavy charge for any that is wider.
func (s *search) cost(times []time.Duration) float64 {
	r, ok := s.ratios(times)
	if !ok {
		return math.Inf(1)
	}
	cost := r[s.aim]
	for _, v := range r {
		cost += 20 * max(0, v-1)
	}
	return cost
}

// run returns the best times found. The first ones, fixed in number, and the
// last stay as they are.
func (s *search) run(start []time.Duration, fixed int, r Rules) ([]time.Duration, bool) {
	var best []time.Duration
	least := math.Inf(1)
	for _, from := range s.starts(start, fixed, r) {
		if !feasible(from, fixed, r.Least) {
			continue
		}
		times, cost := s.descend(from, fixed, r)
		if cost < least {
			best, least = times, cost
		}
	}
	return best, best != nil
}

// starts returns times to search from: even steps as far as the rules allow, and
// clusters at several heights between the ends.
func (s *search) starts(start []time.Duration, fixed int, r Rules) [][]time.Duration {
	n := len(start)
	out := [][]time.Duration{start}
	top, bottom := start[fixed-1], start[n-1]
	for _, u := range []float64{0.35, 0.55, 0.75} {
		times := slices.Clone(start)
		free := n - 1 - fixed
		mid := float64(top) + u*float64(bottom-top)
		for i := range free {
			t := mid + (float64(free-1)/2-float64(i))*float64(r.Least)
			times[fixed+i] = time.Duration(math.Round(t)).Round(r.Round)
		}
		out = append(out, times)
	}
	return out
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

// descend moves one target, or two neighbours together, as long as that helps,
// by steps that become smaller.
func (s *search) descend(times []time.Duration, fixed int, r Rules) ([]time.Duration, float64) {
	times = slices.Clone(times)
	cost := s.cost(times)
	n := len(times)
	for step := max((times[0]-times[n-1])/8, r.Round).Round(r.Round); step >= r.Round; step /= 2 {
		step = max(step.Round(r.Round), r.Round)
		for moved := true; moved; {
			moved = false
			for i := fixed; i < n-1; i++ {
				for _, d := range [2]time.Duration{step, -step} {
					for width := 1; width <= 2 && i+width <= n-1; width++ {
						trial := slices.Clone(times)
						for k := range width {
							trial[i+k] += d
						}
						if !feasible(trial, fixed, r.Least) {
							continue
						}
						if c := s.cost(trial); c < cost-1e-6 {
							times, cost, moved = trial, c, true
						}
					}
				}
			}
		}
		if step == r.Round {
			break
		}
	}
	return times, cost
}

// width returns the expected width of the interval of the aim, or zero if the
// times do not determine it.
func (s *search) width(times []time.Duration, o lactate.Options) float64 {
	sum, total := 0.0, 0.0
	for i, c := range s.all {
		sd, ok := s.errors(i, times)
		if !ok {
			return 0
		}
		sum += c.weight * sd[s.aim]
		total += c.weight
	}
	dof := o.Noise.PriorWeight() + float64(len(times)-3)
	if s.aim == NarrowShift {
		dof += float64(len(s.earlier[0]) - 1)
	}
	if !(dof > 0) {
		return 0
	}
	return 2 * uncertain.HalfWidth(dof, o.Confidence) * sum / total
}
