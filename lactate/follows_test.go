package lactate_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"example.com/steptest/lactate"
)

// D: the default LT2 follows a curve that moves, and stays if only the stages move: on the
// mean of simulated tests it shows most of a shift of 0.03 m/s swum at the same speeds, and
// little of stages that all start 0.02 m/s faster. Dmax does neither on an exponential; what
// it shows here is printed.
func TestSimulatedFollows(t *testing.T) {
	const shift, moved = 0.03, 0.02
	n := repetitions(200)
	var b strings.Builder
	fmt.Fprintf(&b, "%-16s | %-28s | %-28s\n", "true curve", "shown of a true shift", "shown of moved stages")
	for _, shape := range shapesOfLactate {
		if shape.name == "hyperbola" { // infinite a little beyond the range
			continue
		}
		methods := []lactate.Method{lactate.AboveBaseline{Rise: 1.5}, lactate.MaxDistance{}}
		var changed, stayed [2]float64
		var pairs [2]float64
		var mu sync.Mutex
		eachSimulated(n, 31, func(rng *rand.Rand) {
			f := shape.draw(rng)
			truth := func(x float64) float64 { return f((x - 1.10) / 0.35) }
			later := func(x float64) float64 { return truth(x - shift) }
			noise := lactate.Noise{Absolute: 0.2, Relative: 0.03, Resolution: 0.1}
			xs := even(6)
			other := even(6)
			for i := range other {
				other[i] += moved
			}
			o := lactate.Options{Noise: noise, Methods: methods}
			read := func(c func(float64) float64, xs []float64) *lactate.Analysis {
				a, err := lactate.Analyze(sample(rng, c, xs, noise, 1), o)
				if err != nil {
					return nil
				}
				return a
			}
			first, second, third := read(truth, xs), read(later, xs), read(truth, other)
			mu.Lock()
			defer mu.Unlock()
			for k := range methods {
				if first == nil || second == nil || third == nil || first.Thresholds[k].Err != nil || second.Thresholds[k].Err != nil || third.Thresholds[k].Err != nil {
					continue
				}
				pairs[k]++
				changed[k] += (second.Thresholds[k].Intensity.Value - first.Thresholds[k].Intensity.Value) / shift
				stayed[k] += (third.Thresholds[k].Intensity.Value - first.Thresholds[k].Intensity.Value) / moved
			}
		})
		percent := func(sum float64, k int) float64 { return 100 * sum / pairs[k] }
		fmt.Fprintf(&b, "%-16s | LT2 %4.0f %%, Dmax %4.0f %%        | LT2 %4.0f %%, Dmax %4.0f %%\n", shape.name,
			percent(changed[0], 0), percent(changed[1], 1), percent(stayed[0], 0), percent(stayed[1], 1))
		if got := percent(changed[0], 0); !(got >= 78 && got <= 132) {
			t.Errorf("%s: LT2 shows %.0f %% of a true shift", shape.name, got)
		}
		if got := percent(stayed[0], 0); !(got >= -25 && got <= 25) {
			t.Errorf("%s: LT2 shows %.0f %% of stages that moved", shape.name, got)
		}
	}
	t.Log("\n" + b.String())
}
