package curve

import "example.com/steptest/lactate/curve/internal/points"

// Errors that every fit of this package wraps. The text around them says what
// was found and what is wanted.
var (
	// ErrInput is returned if the points themselves cannot be used:
	// lengths that differ, numbers that are not finite, weights that are not
	// above zero.
	ErrInput = points.ErrInput
	// ErrUndetermined is returned if the points do not determine the
	// curve: too few different xs, or a shape that leaves a parameter open.
	ErrUndetermined = points.ErrUndetermined
)
