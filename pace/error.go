package pace

import (
	"errors"
	"fmt"
)

// ErrAmbiguous says that a text has two readings. The error that wraps it names
// both.
var ErrAmbiguous = errors.New("pace: two readings")

// ErrValue says that a number is well written but cannot be what it stands for:
// a swim that takes no time, a pool of a kilometre.
var ErrValue = errors.New("pace: bad value")

// A ParseError says why a text could not be read. The zero value says nothing.
type ParseError struct {
	What    string // what was wanted: "time", "length", "speed", "pace", "pool"
	Input   string // the text as given
	Problem string // what is wrong with it, and how to write it
	Err     error  // ErrAmbiguous, ErrValue or nil
}

// Error returns one line that quotes at most the first 40 bytes of the input.
func (e *ParseError) Error() string {
	in := e.Input
	if len(in) > 40 {
		return fmt.Sprintf("pace: %s %q…: %s", e.What, in[:40], e.Problem)
	}
	return fmt.Sprintf("pace: %s %q: %s", e.What, in, e.Problem)
}

// Unwrap returns e.Err.
func (e *ParseError) Unwrap() error { return e.Err }

// badValue is an error that wraps ErrValue without repeating its text.
type badValue string

func (e badValue) Error() string        { return "pace: " + string(e) }
func (e badValue) Is(target error) bool { return target == ErrValue }

func valuef(format string, args ...any) error { return badValue(fmt.Sprintf(format, args...)) }
