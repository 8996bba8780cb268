package forecast

import (
	"fmt"
	"math"
	"time"

	"example.com/steptest/lactate"
)

const (
	leastStages = 4
	mostStages  = 12 // for which better places are searched
	// Speeds of a swimmer [m/s]: the prior knows no others.
	slowest, fastest = 0.2, 3.0
)

// check reports whether the stages to come determine what is forecast.
func check(stages []lactate.Stage) error {
	if n := len(stages); n < leastStages {
		return &StageError{Index: -1, Found: n, Problem: fmt.Sprintf("%d or more", leastStages)}
	}
	for i, s := range stages {
		switch {
		case !(s.Intensity > 0):
			return &StageError{Index: i, Problem: "has no target"}
		case i > 0 && !(s.Intensity > stages[i-1].Intensity):
			return &StageError{Index: i, Problem: "is not faster than the one before"}
		case !(s.Intensity >= slowest && s.Intensity <= fastest):
			return &StageError{Index: i, Problem: fmt.Sprintf("has a speed of %.4g m/s, want one of %g to %g m/s", s.Intensity, slowest, fastest)}
		case s.Duration < 0:
			return &StageError{Index: i, Problem: fmt.Sprintf("lasts %v, want a time, or zero if unknown", s.Duration)}
		}
	}
	return nil
}

// searchable reports whether the stages can be placed anew, and returns their
// common distance (m).
func searchable(stages []lactate.Stage) (distance float64, err error) {
	if n := len(stages); n > mostStages {
		return 0, &StageError{Index: -1, Found: n, Problem: fmt.Sprintf("no more than %d", mostStages)}
	}
	for i, s := range stages {
		d := s.Intensity * s.Duration.Seconds()
		if s.Duration <= 0 {
			return 0, &StageError{Index: i, Problem: "has no duration"}
		}
		if i == 0 {
			distance = d
		}
		if !(math.Abs(d-distance) <= 1e-6*distance) {
			return 0, &StageError{Index: i, Problem: "is of another distance than the first"}
		}
	}
	return distance, nil
}

// durations returns how long the stages last.
func durations(stages []lactate.Stage) []time.Duration {
	out := make([]time.Duration, len(stages))
	for i, s := range stages {
		out[i] = s.Duration
	}
	return out
}

// over returns stages over a distance [m] in the given times.
func over(distance float64, times []time.Duration) []lactate.Stage {
	out := make([]lactate.Stage, len(times))
	for i, t := range times {
		out[i] = lactate.Stage{Intensity: distance / t.Seconds(), Duration: t}
	}
	return out
}

// evenly puts the times between the first and the last at even steps. The ends
// stay as they are.
func evenly(times []time.Duration, round time.Duration) []time.Duration {
	n := len(times)
	out := make([]time.Duration, n)
	copy(out, times)
	for i := 1; i < n-1; i++ {
		u := float64(i) / float64(n-1)
		out[i] = time.Duration(math.Round(float64(times[0]) + u*float64(times[n-1]-times[0]))).Round(round)
	}
	return out
}
