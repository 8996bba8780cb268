// Package words reads and prints what the types of package lactate say of themselves: the
// names of choices, numbers and intervals.
package words

import (
	"fmt"
	"strings"

	"example.com/steptest/lactate/internal/clean"
)

// A Choice is one of a few named numbers, 0 to a last one.
type Choice interface {
	~int
	fmt.Stringer
}

// Text returns the name of a choice, for MarshalText.
func Text[T Choice](v, last T) ([]byte, error) {
	if v < 0 || v > last {
		return nil, fmt.Errorf("lactate: found %v, want %s", v, choices(last))
	}
	return []byte(v.String()), nil
}

// Read reads what Text returns, for UnmarshalText.
func Read[T Choice](dst *T, text []byte, last T) error {
	for v := range last + 1 {
		if v.String() == string(text) {
			*dst = v
			return nil
		}
	}
	return fmt.Errorf("lactate: found %q, want %s", clean.Short(string(text), 40), choices(last))
}

func choices[T Choice](last T) string {
	var names []string
	for v := range last + 1 {
		names = append(names, fmt.Sprintf("%q", v.String()))
	}
	return strings.Join(names, " or ")
}
