package lactate

import (
	"errors"
	"fmt"
)

// ErrOutsideRange answers a question beyond the tested range, as an [*OutsideRangeError].
var ErrOutsideRange = errors.New("outside the tested range")

// OutsideRangeError says what was asked for and where the tested range ends. It is
// [ErrOutsideRange] to [errors.Is]. The zero value says nothing.
type OutsideRangeError struct {
	What            string  // "intensity", "heart rate"
	Value           float64 // what was asked for
	Lowest, Highest float64 // what can be answered
	// Unit of the three numbers; empty for that of the test's intensities.
	Unit string
}

func (e *OutsideRangeError) Error() string {
	unit := e.Unit
	if unit != "" {
		unit = " " + unit
	}
	return fmt.Sprintf("lactate: %s: found %.4g%s, %v, want %.4g to %.4g%[3]s", e.What, e.Value, unit, ErrOutsideRange, e.Lowest, e.Highest)
}

// Unwrap returns [ErrOutsideRange].
func (e *OutsideRangeError) Unwrap() error { return ErrOutsideRange }
