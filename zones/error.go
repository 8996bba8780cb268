package zones

import (
	"errors"
	"fmt"
	"math"

	"example.com/steptest/lactate/table"
)

// ErrOrder says that edges are not in order: LT1 not below LT2, or a zone that
// would end before it starts.
var ErrOrder = errors.New("zones: out of order")

// ErrMissing says that a zone, set or repeat needs something that was not given.
var ErrMissing = errors.New("zones: missing")

// ErrValue says that a number cannot be what it stands for.
var ErrValue = errors.New("zones: bad value")

// A fault is an error that wraps another, a sentinel for one, without
// repeating its text.
type fault struct {
	text string
	of   error
}

func (f *fault) Error() string { return "zones: " + f.text }
func (f *fault) Unwrap() error { return f.of }

func faultf(of error, format string, args ...any) error {
	for i, a := range args {
		if s, ok := a.(string); ok { // it may be from outside
			args[i] = short(s)
		}
	}
	return &fault{fmt.Sprintf(format, args...), of}
}

// short is a text from outside as a message can hold it.
func short(s string) string { return table.Short(s, 200) }

// plain returns the text of an error without the package it comes from.
func plain(err error) string {
	if err == nil {
		return "no error"
	}
	return table.Bare(err)
}

func positive(x float64) bool { return x > 0 && !math.IsInf(x, 0) }
