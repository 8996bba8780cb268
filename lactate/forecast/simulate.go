package forecast

import (
	"math"
	"math/rand/v2"
	"runtime"
	"sync"

	"example.com/steptest/lactate"
)

// stream is the random numbers of a belief, the same each time.
func (b *belief) stream() *rand.Rand { return rand.New(rand.NewPCG(b.seed, 17)) }

// simulation analyses tests of probable curves. The noise of each stage is the same
// wherever the stages are put: designs are compared on the same swimmers, with the
// same luck.
type simulation struct {
	truths []truth
	z      [][]float64 // of each truth, by stage
	o      lactate.Options
	swum   []lactate.Stage // of today; they stand as they are
}

// simulation returns one of n tests of as many stages, each interval from a number of
// resamples.
func (b *belief) simulation(n, stages, resamples int, o lactate.Options) *simulation {
	s := &simulation{truths: b.truths(n), o: o}
	s.o.Resamples = resamples
	rng := b.stream()
	for range n {
		z := make([]float64, stages)
		for k := range z {
			z[k] = rng.NormFloat64()
		}
		s.z = append(s.z, z)
	}
	return s
}

// seen is what simulated tests show of one threshold.
type seen struct {
	width  float64 // mean of the intervals that are found, see widthOf [m/s]
	cost   float64 // the same, a threshold that is not found being as wide as the range
	missed float64 // share of the tests
	err    error   // why, the last time
}

// run analyses the tests and averages LT1 and LT2.
func (s *simulation) run(stages []lactate.Stage) (out [2]seen) {
	n := len(s.truths)
	type read struct {
		width [2]float64 // NaN if not found
		err   [2]error
	}
	found := make([]read, n)
	var wg sync.WaitGroup
	workers := min(runtime.GOMAXPROCS(0), n)
	for w := range workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := w; i < n; i += workers {
				found[i].width, found[i].err = s.one(i, stages)
			}
		}()
	}
	wg.Wait()
	span := final(stages) - stages[0].Intensity
	for _, r := range found {
		for k := range out {
			if math.IsNaN(r.width[k]) {
				out[k].missed++
				out[k].cost += span
				out[k].err = r.err[k]
				continue
			}
			out[k].width += r.width[k]
			out[k].cost += r.width[k]
		}
	}
	for k := range out {
		out[k].width /= float64(n) - out[k].missed
		out[k].cost /= float64(n)
		out[k].missed /= float64(n)
	}
	return out
}

// one analyses one test.
func (s *simulation) one(i int, stages []lactate.Stage) (width [2]float64, errs [2]error) {
	t := lactate.Test{Stages: make([]lactate.Stage, len(stages))}
	for k, st := range stages {
		t.Stages[k] = lactate.Stage{Intensity: st.Intensity, Duration: st.Duration}
		switch {
		case k < len(s.swum) && s.swum[k].Lactate > 0:
			t.Stages[k].Lactate = s.swum[k].Lactate
		case k < len(s.swum)-1: // lost
		default:
			t.Stages[k].Lactate = s.truths[i].sample(st, s.o.Noise, s.z[i][k])
		}
	}
	a, err := lactate.Analyze(t, s.o)
	for k := range width {
		width[k], errs[k] = math.NaN(), err
		if err != nil {
			continue
		}
		th := [2]lactate.Threshold{a.LT1, a.LT2}[k]
		if errs[k] = th.Err; th.Err == nil {
			width[k] = widthOf(th.Intensity, a.Lowest, a.Highest)
		}
	}
	return width, errs
}

// widthOf returns the width of an interval within the tested range. An open end counts
// as far from the reading as the other one.
func widthOf(e lactate.Estimate, lowest, highest float64) float64 {
	low, high := e.Low, e.High
	if math.IsInf(low, -1) {
		low = 2*e.Value - e.High
	}
	if math.IsInf(high, 1) {
		high = 2*e.Value - e.Low
	}
	return min(high, highest) - max(low, lowest)
}
