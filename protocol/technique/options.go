package technique

import (
	"errors"
	"fmt"
	"time"
)

// Options are the choices of [Of]. The zero value is the documented default.
type Options struct {
	// CountError is the standard deviation of a count of stroke cycles
	// [cycles]. Zero means 0.15. A count to the nearest arm stroke is off by up
	// to a quarter of a cycle either way. If all errors up to there are equally
	// likely, the standard deviation is 0.14 (our judgement, no source). If Cycles
	// is the mean of counts on several lengths, divide by the square root of
	// their number: one count of six or seven cycles is worth little.
	CountError float64
	// TimingError is the standard deviation of the time over the segment. Zero
	// means 0.1 s: hand timing, start and stop together, as the default noise of
	// package lactate has it.
	TimingError time.Duration
	// Confidence of the intervals, between 0 and 1. Zero means 0.90.
	Confidence float64
	// Resamples is the number of simulated tests behind each interval; 2000 is
	// plenty for reading. Zero means no intervals.
	Resamples int
	// Seed of the simulation: the same seed gives the same bits. Zero is a seed
	// like any other.
	Seed uint64
}

// withDefaults fills in what was left zero and refuses what cannot be right.
func (o Options) withDefaults() (Options, error) {
	if o.CountError == 0 {
		o.CountError = 0.15
	}
	if o.TimingError == 0 {
		o.TimingError = 100 * time.Millisecond
	}
	if o.Confidence == 0 {
		o.Confidence = 0.90
	}
	var errs []error
	bad := func(ok bool, field string, found any, want string) {
		if !ok {
			errs = append(errs, fmt.Errorf("technique options: %s: found %v, want %s", field, found, want))
		}
	}
	bad(o.CountError > 0 && o.CountError <= 100, "CountError", o.CountError, "a number of cycles, such as 0.15")
	bad(o.TimingError > 0, "TimingError", o.TimingError, "a time, such as 0.1 s")
	bad(o.Confidence > 0 && o.Confidence < 1, "Confidence", o.Confidence, "a number between 0 and 1, such as 0.90")
	bad(o.Resamples >= 0 && o.Resamples <= maxResamples, "Resamples", o.Resamples, fmt.Sprintf("0 to %d", maxResamples))
	return o, errors.Join(errs...)
}

// maxResamples bounds the memory of a profile; it is far beyond use.
const maxResamples = 1_000_000
