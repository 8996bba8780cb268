package main

import (
	"fmt"
	"io"

	"example.com/steptest/lactate"
)

// bracket prints what the interval of LT1 takes here, for others/convex.R to stand beside:
// the posterior of a test over convex shapes, and 1,000 curves drawn from it.
func bracket(all []set, to io.Writer) error {
	tests := make([]lactate.Test, len(all))
	for k := range all {
		xs, ys := all[k].first()
		for i, x := range xs {
			tests[k].Stages = append(tests[k].Stages, lactate.Stage{Intensity: x, Lactate: ys[i]})
		}
	}
	o := lactate.Options{Methods: []lactate.Method{}, Resamples: 1000}
	var failed error
	f := fit{of: func(k int) (float64, error) {
		if _, err := lactate.Analyze(tests[k], o); err != nil {
			failed = fmt.Errorf("set %d: %w", k, err)
		}
		return 0, nil
	}}
	took := nanoseconds(f, len(all))
	if failed != nil {
		return failed
	}
	_, err := fmt.Fprintf(to, "here, 1,000 draws: %.2f ms a test\n", took/1e6)
	return err
}
