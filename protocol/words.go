package protocol

import (
	"errors"
	"fmt"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/lactate/table"
)

// InWords says an error of the library in the words of the one who took the
// samples: what is wrong with them, not what a caller did. An error that it has
// no words for keeps its own, without the name of its package. It wraps err; nil
// stays nil.
func InWords(err error) error {
	if err == nil {
		return nil
	}
	return &spoken{words(err), err}
}

type spoken struct {
	text string
	of   error
}

func (s *spoken) Error() string { return s.text }
func (s *spoken) Unwrap() error { return s.of }

func words(err error) string {
	if many, ok := err.(interface{ Unwrap() []error }); ok && err.Error() == errors.Join(many.Unwrap()...).Error() {
		var texts []string
		for _, e := range many.Unwrap() {
			texts = append(texts, words(e))
		}
		return strings.Join(texts, "; ")
	}
	switch {
	case errors.Is(err, lactate.ErrNotRising):
		return "lactate falls as speed rises: a sample may stand in the wrong row"
	case errors.Is(err, heartrate.ErrNotRising):
		return "heart rate does not rise with speed"
	case errors.Is(err, curve.ErrUndetermined):
		return "the samples do not settle a curve: it takes several speeds, and a lactate that rises over more than one of them"
	}
	text := table.Bare(err)
	if e := (*lactate.OutsideRangeError)(nil); errors.As(err, &e) && e.What == "intensity" {
		return fmt.Sprintf("the repeats that have one go from %.3f to %.3f m/s", e.Lowest, e.Highest)
	}
	if said := (*spoken)(nil); !errors.As(err, &said) && (errors.Is(err, lactate.ErrNotReached) || errors.Is(err, lactate.ErrShape)) {
		text = table.Reason(err)
	}
	return InSwimming(text)
}

// InSwimming turns the words that the library has for a test of any kind into those for
// swimmers: stages are repeats, intensities speeds, intervals brackets.
func InSwimming(text string) string { return swimming.Replace(text) }

var swimming = strings.NewReplacer("intensity", "speed", "intensities", "speeds", "stage", "repeat", "interval", "bracket",
	"% lower", "% slower", "% higher", "% faster", "comes out too low", "comes out too slow")
