package lactate_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"example.com/steptest/lactate"
)

// recorded is a definition that gives what a function makes of the first
// stage's lactate, and keeps what it gave.
type recorded struct {
	of    func(lactate float64) (float64, error)
	mutex sync.Mutex
	given []float64
}

func (r *recorded) Locate(t lactate.Test, _ lactate.Curve) (float64, error) {
	x, err := r.of(t.Stages[0].Lactate)
	if e := new(lactate.NotReachedError); errors.As(err, &e) {
		x = math.Inf(1)
	}
	if err == nil || math.IsInf(x, 1) {
		r.mutex.Lock()
		defer r.mutex.Unlock()
		r.given = append(r.given, x)
	}
	return x, err
}

func (r *recorded) String() string { return "recorded" }

// D: the ends of an interval are the order statistics of all that was drawn,
// sorted here: the k-th of n values stands at (k − ½)/n. Smooth values, values
// with many ties, in order already, with gaps, and open to one side.
func TestIntervalsAreOrderStatistics(t *testing.T) {
	noise := rand.New(rand.NewPCG(1, 2))
	for name, of := range map[string]func(float64) (float64, error){
		"smooth": func(y float64) (float64, error) { return 1.15 + y/100, nil },
		"tied":   func(y float64) (float64, error) { return 1.15 + math.Floor(4*y)/100, nil },
		"equal":  func(float64) (float64, error) { return 1.2, nil },
		"gaps": func(y float64) (float64, error) {
			if y < 1.1 {
				return 0, errors.New("none")
			}
			return 1.15 + y/100, nil
		},
		"open": func(y float64) (float64, error) {
			if y > 1.3 {
				return 0, &lactate.NotReachedError{Level: 2, Highest: 1}
			}
			return 1.15 + y/100, nil
		},
	} {
		for _, n := range []int{100, 101, 107, 601, 5000} {
			confidence := 0.2 + 0.77*noise.Float64()
			m := &recorded{of: of}
			a := analysed(t, sixStages, lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Methods: []lactate.Method{m}, Resamples: n, Confidence: confidence})
			th := a.Thresholds[0]
			drawn := m.given
			if th.Err == nil {
				drawn = drawn[1:] // the first is the test itself
			}
			if len(drawn) == 0 {
				continue
			}
			slices.Sort(drawn)
			want := func(p float64) float64 {
				k := p*float64(len(drawn)) - 0.5
				i := min(max(int(math.Floor(k)), 0), len(drawn)-1)
				j := min(i+1, len(drawn)-1)
				if f := k - float64(i); f > 0 && drawn[i] != drawn[j] {
					return drawn[i] + f*(drawn[j]-drawn[i])
				}
				return drawn[i]
			}
			tail := (1 - confidence) / 2
			// An interval holds its point.
			if low, high := min(want(tail), th.Intensity.Value), max(want(1-tail), th.Intensity.Value); th.Err == nil && (th.Intensity.Low != low || th.Intensity.High != high) {
				t.Errorf("%s, %d resamples, confidence %.3f: %v to %v, sorted: %v to %v", name, n, confidence, th.Intensity.Low, th.Intensity.High, low, high)
			}
		}
	}
}
