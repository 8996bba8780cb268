package lactate_test

import (
	"context"
	"fmt"
	"maps"
	"sync"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// Everything exported may be used from several goroutines at once, on the same
// tests, options, analyses and fitted curves: under the race detector, with
// the same answers as alone. What may not says so: the fits of package curve.
func TestConcurrent(t *testing.T) {
	first := lactate.Test{Rest: 1.1, Stages: []lactate.Stage{
		{Intensity: 1.20, Lactate: 1.9, HeartRate: 142, Duration: 6 * time.Minute},
		{Intensity: 1.10, Lactate: 1.3, HeartRate: 128, Duration: 6 * time.Minute},
		{Intensity: 1.15, Lactate: 1.5, HeartRate: 135, Duration: 6 * time.Minute},
		{Intensity: 1.30, Lactate: 4.4, HeartRate: 162, Duration: 6 * time.Minute},
		{Intensity: 1.25, Lactate: 2.7, HeartRate: 151, Duration: 6 * time.Minute},
		{Intensity: 1.34, HeartRate: 168, Duration: 6 * time.Minute},
		{Intensity: 1.38, Lactate: 9.2, HeartRate: 177, Duration: 6 * time.Minute},
	}, Recovery: []lactate.RecoverySample{{After: 2 * time.Minute, Lactate: 10.1}, {After: 12 * time.Minute, Lactate: 6}}}
	second := first
	second.Stages = append([]lactate.Stage(nil), first.Stages...)
	for i := range second.Stages {
		second.Stages[i].Intensity += 0.02
	}
	season := []lactate.DatedTest{{Date: time.Date(2025, 1, 6, 0, 0, 0, 0, time.UTC), Test: first}, {Date: time.Date(2025, 3, 3, 0, 0, 0, 0, time.UTC), Test: second}}
	o := lactate.Options{Resamples: 300, Seed: 9}
	must := func(_ any, err error) {
		if err != nil {
			t.Error(err)
		}
	}
	a, err := lactate.Analyze(first, o)
	must(a, err)
	change, err := lactate.Compare(first, second, lactate.CompareOptions{Options: o})
	must(change, err)
	followed, err := lactate.FollowSeason(season, lactate.CompareOptions{Options: o})
	must(followed, err)
	panel, err := lactate.SideBySide(first, lactate.SideBySideOptions{Unit: "m/s"})
	must(panel, err)
	xs, ys := []float64{1, 2, 3, 4, 5, 6, 7}, []float64{1, 1.1, 1.3, 1.9, 3, 5.2, 9}
	exponential, cubic, broken, three, shifted := new(curve.Exponential), new(curve.Polynomial), new(curve.BrokenLine), new(curve.ThreeLine), new(curve.Shifted)
	must(nil, exponential.Fit(xs, ys))
	must(nil, cubic.Fit(xs, ys))
	must(nil, broken.Fit(xs, ys))
	must(nil, three.Fit(xs, ys))
	must(nil, shifted.Fit(append(xs, 2, 5), append(ys, 1.05, 2.2), []int{0, 0, 0, 0, 0, 0, 0, 1, 1}))

	intervals := func(a *lactate.Analysis) string { return fmt.Sprint(a.LT1, a.LT2, a.Thresholds, a.Warnings) }
	work := map[string]func() (string, error){
		"Analyze": func() (string, error) { a, err := lactate.Analyze(first, o); return intervals(a), err },
		"Band":    func() (string, error) { b, err := a.Band(20); return fmt.Sprint(b), err },
		"Delta":   func() (string, error) { e, err := a.DeltaInterval(lactate.Fixed{}); return fmt.Sprint(e), err },
		"Compare": func() (string, error) {
			c, err := lactate.Compare(first, second, lactate.CompareOptions{Options: o})
			return fmt.Sprint(c.Measured.Shift, c.Measured.Probability, c.Levels), err
		},
		"Change": func() (string, error) { return fmt.Sprint(change.Percent()), nil },
		"Season": func() (string, error) {
			s, err := lactate.FollowSeason(season, lactate.CompareOptions{Options: o})
			return fmt.Sprint(s.Trend.Shift, s.Trend.Probability), err
		},
		"Expected": func() (string, error) {
			e, err := followed.Expected(season[1].Date.AddDate(0, 2, 0))
			return fmt.Sprint(e), err
		},
		"Side": func() (string, error) {
			p, err := lactate.SideBySide(first, lactate.SideBySideOptions{Options: o})
			return fmt.Sprint(p.Rows), err
		},
		"Spread": func() (string, error) { return fmt.Sprint(panel.Spread(lactate.SecondThreshold)), nil },
		"Influence": func() (string, error) {
			i, err := lactate.Influence(first, o)
			return fmt.Sprint(i.LT2, i.Thresholds), err
		},
		"Pooled": func() (string, error) {
			n, err := lactate.PooledNoise(lactate.Noise{}, first, second)
			return fmt.Sprint(n), err
		},
		"Catalogue": func() (string, error) {
			s := ""
			for _, e := range lactate.Catalogue("m/s") {
				x, err := e.Method.Locate(first, a.Curve)
				s += fmt.Sprintln(e.Method, x, err)
			}
			return s, nil
		},
		"Stream": func() (string, error) {
			s := ""
			for k, r := range lactate.AnalyzeAll(context.Background(), maps.All(map[int]lactate.Test{1: first}), o) {
				s += fmt.Sprint(k, intervals(r.Analysis))
			}
			return s, nil
		},
		"curves": func() (string, error) {
			up, ok := exponential.Upcrossing(4, 1, 7)
			at, lowest := cubic.Minimum(1, 7)
			far, below := cubic.FarthestBelow(1, 1, 7)
			return fmt.Sprint(up, ok, at, lowest, far, below, exponential.Predict(3), cubic.Predict(3), cubic.PredictDerivative(2), cubic.Coefficients(),
				broken.Predict(3), three.Predict(3), shifted.Predict(3, 1), three.RSS(), shifted.DegreesOfFreedom()), nil
		},
	}
	alone := map[string]string{}
	for name, f := range work {
		s, err := f()
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		alone[name] = s
	}
	var wg sync.WaitGroup
	for range 4 {
		for name, f := range work {
			wg.Add(1)
			go func() {
				defer wg.Done()
				if s, err := f(); err != nil || s != alone[name] {
					t.Errorf("%s: got %s, %v; alone %s", name, s, err, alone[name])
				}
			}()
		}
	}
	wg.Wait()
}
