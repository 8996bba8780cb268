package protocol

import (
	"fmt"
	"slices"

	"example.com/steptest/protocol/internal/form"
)

// Range says where the lactate of a sample lies if the analyser showed no
// number. The zero value is a sample within its range, or none.
type Range int8

// Where a sample can lie.
const (
	InRange    Range = iota // a number, or none
	AboveRange              // HI: more than the analyser can show
	BelowRange              // Lo: less
)

// String returns what an analyser shows, HI or Lo, and nothing within its range.
func (r Range) String() string {
	switch r {
	case AboveRange:
		return "HI"
	case BelowRange:
		return "Lo"
	}
	return ""
}

// MarshalText writes "above" or "below".
func (r Range) MarshalText() ([]byte, error) {
	switch r {
	case InRange:
		return nil, nil
	case AboveRange:
		return []byte("above"), nil
	case BelowRange:
		return []byte("below"), nil
	}
	return nil, fmt.Errorf("protocol: range: found %d, want above or below", int8(r))
}

// UnmarshalText reads what MarshalText writes.
func (r *Range) UnmarshalText(text []byte) error {
	switch string(text) {
	case "":
		*r = InRange
	case "above":
		*r = AboveRange
	case "below":
		*r = BelowRange
	default:
		return fmt.Errorf("protocol: range: found %q, want above or below", form.Shorten(string(text)))
	}
	return nil
}

// beyond says what a sample beyond the range of the analyser means for the
// curve.
func (r Record) beyond(i int) string {
	rep := r.Repeats[i]
	if rep.Range == BelowRange {
		return "the analyser showed Lo, lactate below its range: the repeat is no point of the curve, and the baseline may lie below the one fitted without it"
	}
	text := "the analyser showed HI, lactate above its range: the repeat is no point of the curve, which ends before it; what is not reached there is not claimed, and Dmax, which hangs on the end, is that of the slower part"
	for _, later := range r.Repeats[i+1:] {
		if later.Lactate > 0 {
			return text + fmt.Sprintf("; repeat %d shows a number, though: is the sample right?", later.Number)
		}
	}
	return text
}

func hasAbove(samples []Sample) bool {
	return slices.ContainsFunc(samples, func(s Sample) bool { return s.Range == AboveRange })
}
