package forecast

import (
	"errors"
	"fmt"
)

// ErrNoAnswer is wrapped by every error of this package: it says why there is no
// answer.
var ErrNoAnswer = errors.New("forecast")

// StageError says what is wrong with the stages of the test to come. It is
// [ErrNoAnswer] to [errors.Is]. The zero value says nothing.
type StageError struct {
	Index int // of the stage; −1 if their number is wrong
	Found int // how many there are, if their number is wrong
	// Problem is what the stage does, as in "has no target", or how many stages are
	// wanted.
	Problem string
}

func (e *StageError) Error() string { return ErrNoAnswer.Error() + ": " + e.Say("stage", e.Index+1) }

// Unwrap returns [ErrNoAnswer].
func (e *StageError) Unwrap() error { return ErrNoAnswer }

// Say puts the error in a caller's words: what a stage is called, and the number of
// this one.
func (e *StageError) Say(noun string, number int) string {
	switch {
	case e.Index >= 0:
		return fmt.Sprintf("%s %d %s", noun, number, e.Problem)
	case e.Found != 1:
		noun += "s"
	}
	return fmt.Sprintf("found %d %s, want %s", e.Found, noun, e.Problem)
}
