package lactate

import "example.com/steptest/lactate/internal/words"

// MarshalText writes the baseline as String does.
func (b Baseline) MarshalText() ([]byte, error) { return words.Text(b, BaselineRestingSample) }

// UnmarshalText reads what MarshalText writes.
func (b *Baseline) UnmarshalText(text []byte) error {
	return words.Read(b, text, BaselineRestingSample)
}

// MarshalText writes the start of the chord as String does.
func (s ChordStart) MarshalText() ([]byte, error) { return words.Text(s, ChordAtFirstRise) }

// UnmarshalText reads what MarshalText writes.
func (s *ChordStart) UnmarshalText(text []byte) error { return words.Read(s, text, ChordAtFirstRise) }

// MarshalText writes the ends as String does.
func (e Ends) MarshalText() ([]byte, error) { return words.Text(e, MeasuredEnds) }

// UnmarshalText reads what MarshalText writes.
func (e *Ends) UnmarshalText(text []byte) error { return words.Read(e, text, MeasuredEnds) }

// MarshalText writes the scale as String does.
func (s LactateScale) MarshalText() ([]byte, error) { return words.Text(s, LogLactate) }

// UnmarshalText reads what MarshalText writes.
func (s *LactateScale) UnmarshalText(text []byte) error { return words.Read(s, text, LogLactate) }

// MarshalText writes the target as String does.
func (a Target) MarshalText() ([]byte, error) { return words.Text(a, SecondThreshold) }

// UnmarshalText reads what MarshalText writes.
func (a *Target) UnmarshalText(text []byte) error { return words.Read(a, text, SecondThreshold) }
