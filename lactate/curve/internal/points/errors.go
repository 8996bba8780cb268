// Package points knows what every fit of package curve asks of its points: the errors by
// which they are refused, whether a number can be used, the unit that keeps its square
// within range, and work space that serves one fit after another.
package points

import "errors"

// Package curve exports these two and says when they are returned.
var (
	ErrInput        = errors.New("unusable input")
	ErrUndetermined = errors.New("the points do not determine the curve")
)
