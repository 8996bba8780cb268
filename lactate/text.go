package lactate

import (
	"fmt"
	"strings"

	"example.com/steptest/lactate/internal/clean"
)

// A choice is one of a few named numbers, 0 to a last one.
type choice interface {
	~int
	fmt.Stringer
}

// textOf returns the name of a choice, for MarshalText.
func textOf[T choice](v, last T) ([]byte, error) {
	if v < 0 || v > last {
		return nil, fmt.Errorf("lactate: found %v, expected %s", v, choices(last))
	}
	return []byte(v.String()), nil
}

// readChoice reads what textOf returns, for UnmarshalText.
func readChoice[T choice](dst *T, text []byte, last T) error {
	for v := range last + 1 {
		if v.String() == string(text) {
			*dst = v
			return nil
		}
	}
	return fmt.Errorf("lactate: found %q, expected %s", clean.Short(string(text), 40), choices(last))
}

func choices[T choice](last T) string {
	var names []string
	for v := range last + 1 {
		names = append(names, fmt.Sprintf("%q", v.String()))
	}
	return strings.Join(names, " or ")
}

// MarshalText writes the baseline as String does.
func (b Baseline) MarshalText() ([]byte, error) { return textOf(b, BaselineRestingSample) }

// UnmarshalText reads what MarshalText writes.
func (b *Baseline) UnmarshalText(text []byte) error {
	return readChoice(b, text, BaselineRestingSample)
}

// MarshalText writes the start of the chord as String does.
func (s ChordStart) MarshalText() ([]byte, error) { return textOf(s, ChordAtFirstRise) }

// UnmarshalText reads what MarshalText writes.
func (s *ChordStart) UnmarshalText(text []byte) error { return readChoice(s, text, ChordAtFirstRise) }

// MarshalText writes the ends as String does.
func (e Ends) MarshalText() ([]byte, error) { return textOf(e, MeasuredEnds) }

// UnmarshalText reads what MarshalText writes.
func (e *Ends) UnmarshalText(text []byte) error { return readChoice(e, text, MeasuredEnds) }

// MarshalText writes the scale as String does.
func (s LactateScale) MarshalText() ([]byte, error) { return textOf(s, LogLactate) }

// UnmarshalText reads what MarshalText writes.
func (s *LactateScale) UnmarshalText(text []byte) error { return readChoice(s, text, LogLactate) }

// MarshalText writes the target as String does.
func (a Target) MarshalText() ([]byte, error) { return textOf(a, SecondThreshold) }

// UnmarshalText reads what MarshalText writes.
func (a *Target) UnmarshalText(text []byte) error { return readChoice(a, text, SecondThreshold) }
