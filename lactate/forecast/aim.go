package forecast

import "fmt"

// Aim is what a test is to estimate as narrowly as can be. The zero value is
// NarrowLT2.
type Aim int

// The aims.
const (
	NarrowLT2 Aim = iota
	NarrowLT1
	NarrowShift
	aims
)

func (a Aim) String() string {
	switch a {
	case NarrowLT2:
		return "LT2"
	case NarrowLT1:
		return "LT1"
	case NarrowShift:
		return "shift of the curve"
	}
	return fmt.Sprintf("Aim(%d)", int(a))
}

// MarshalText writes the aim as String does. It returns an error for an aim that
// is none.
func (a Aim) MarshalText() ([]byte, error) {
	if a < 0 || a >= aims {
		return nil, fmt.Errorf("forecast: found %v, want NarrowLT2, NarrowLT1 or NarrowShift", a)
	}
	return []byte(a.String()), nil
}

// UnmarshalText reads what MarshalText writes.
func (a *Aim) UnmarshalText(text []byte) error {
	for b := range aims {
		if string(text) == b.String() {
			*a = b
			return nil
		}
	}
	return fmt.Errorf("forecast: aim: found %.60q, want %q, %q or %q", text, NarrowLT2, NarrowLT1, NarrowShift)
}
