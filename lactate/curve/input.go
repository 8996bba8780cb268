package curve

import (
	"errors"
	"fmt"

	"example.com/steptest/lactate/curve/internal/points"
)

// checkPoints reports every point that cannot be fitted.
func checkPoints(xs, ys, weights []float64) error {
	if len(xs) != len(ys) {
		return fmt.Errorf("curve: found %d xs and %d ys, want as many of each: %w", len(xs), len(ys), ErrInput)
	}
	if weights != nil && len(weights) != len(xs) {
		return fmt.Errorf("curve: found %d weights for %d points: %w", len(weights), len(xs), ErrInput)
	}
	ok := true
	for i := range xs {
		ok = ok && points.Finite(xs[i]) && points.Finite(ys[i])
	}
	for _, w := range weights {
		ok = ok && w > 0 && points.Finite(w)
	}
	if ok {
		return nil
	}
	var errs []error
	for i := range xs {
		if !points.Finite(xs[i]) || !points.Finite(ys[i]) {
			errs = append(errs, fmt.Errorf("curve: point %d: found (%v, %v), want finite numbers: %w", i+1, xs[i], ys[i], ErrInput))
		}
	}
	for i, w := range weights {
		if !(w > 0 && points.Finite(w)) {
			errs = append(errs, fmt.Errorf("curve: weight %d: found %v, want a finite number above zero: %w", i+1, w, ErrInput))
		}
	}
	return errors.Join(errs...)
}
