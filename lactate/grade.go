package lactate

import (
	"fmt"

	"example.com/steptest/lactate/internal/clean"
)

// Grade says how sure it is that a curve has moved, and to which side. Faster is to the right:
// more intensity at the same lactate. Its sign is the side, its size the certainty. The zero
// value is CannotTell.
type Grade int

// The grades, by the probability that the curve lies to the right.
const (
	Slower         Grade = iota - 2 // at most 5 %, or what Options.Confidence says
	ProbablySlower                  // at most 25 %
	CannotTell                      // between
	ProbablyFaster                  // at least 75 %
	Faster                          // at least 95 %, or what Options.Confidence says
)

// probable is the least probability of what is called probable.
const probable = 0.75

// gradeOf grades a shift that lies to the right with a probability: sure if its interval leaves
// zero out, which at a confidence of 90 % is 95 % on either side.
func gradeOf(shift Estimate, right float64) Grade {
	switch {
	case shift.Low > 0:
		return Faster
	case shift.High < 0:
		return Slower
	case right >= probable:
		return ProbablyFaster
	case right <= 1-probable:
		return ProbablySlower
	}
	return CannotTell
}

func (g Grade) String() string {
	switch g {
	case Slower:
		return "slower"
	case ProbablySlower:
		return "probably slower"
	case CannotTell:
		return "cannot tell"
	case ProbablyFaster:
		return "probably faster"
	case Faster:
		return "faster"
	}
	return fmt.Sprintf("Grade(%d)", int(g))
}

// Sure reports whether the grade is Faster or Slower.
func (g Grade) Sure() bool { return g == Faster || g == Slower }

// MarshalText writes the grade as String does.
func (g Grade) MarshalText() ([]byte, error) {
	if g < Slower || g > Faster {
		return nil, fmt.Errorf("lactate: found %v, want %v to %v", g, Slower, Faster)
	}
	return []byte(g.String()), nil
}

// UnmarshalText reads what MarshalText writes.
func (g *Grade) UnmarshalText(text []byte) error {
	for v := Slower; v <= Faster; v++ {
		if v.String() == string(text) {
			*g = v
			return nil
		}
	}
	return fmt.Errorf("lactate: found %q, want %q, %q, %q, %q or %q", clean.Short(string(text), 40), Slower, ProbablySlower, CannotTell, ProbablyFaster, Faster)
}
