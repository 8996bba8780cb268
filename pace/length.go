package pace

import (
	"math"
	"strings"
)

// A Length is a distance in metres [m]. The zero value is no distance.
//
// Multiply by a unit to build one, and use the accessor to read it:
//
//	d := 500 * pace.Yard
//	d.Metres() // 457.2
type Length float64

// Units of length. The yard is the international yard, 0.9144 m exactly, in use
// since 1 July 1959 (Federal Register, "Refinement of values for the yard and
// the pound").
const (
	Metre Length = 1
	Yard  Length = 0.9144
)

// Metres returns l in metres [m].
func (l Length) Metres() float64 { return float64(l) }

// Yards returns l in yards [yd].
func (l Length) Yards() float64 { return float64(l / Yard) }

// String returns l rounded for the reader: "400 m", "365.8 m" to at most three
// decimals, or "500 yd" if l is, up to rounding, a whole number of yards, five
// or more. A length that is whole in both units (1250 yd = 1143 m) is given in
// yards unless it is a multiple of 25 m.
func (l Length) String() string {
	if n, ok := l.wholeYards(1e-9); ok {
		return decimal(n, 0) + " yd"
	}
	return decimal(float64(l), 3) + " m"
}

// wholeYards reports whether l prints in yards, and how many.
func (l Length) wholeYards(tolerance float64) (float64, bool) {
	n := math.Round(l.Yards())
	// The conversion rounds the product, which a processor may otherwise fuse
	// with the difference.
	if !(n >= 5 && n < 1e6) || !(math.Abs(float64(Length(n)*Yard)-float64(l)) <= tolerance*float64(l)) {
		return 0, false
	}
	if math.Mod(n, 31250) == 0 { // 31250 yd = 28575 m, the first multiple of 25 m
		return 0, false
	}
	return n, true
}

// ParseLength reads a length with its unit, metres or yards: "400 m", "500yd",
// "22.86 m", "533 1/3 m", "533⅓ m". Case does not matter, and "metres", "yards" and their like are
// understood. A number without a unit is refused. The error is a [*ParseError].
func ParseLength(s string) (Length, error) {
	t := strings.TrimSpace(s)
	x, rest, ok := cutMixed(t)
	if !ok {
		return 0, &ParseError{What: "length", Input: s, Problem: `want a number and a unit, such as "400 m" or "500 yd"`}
	}
	unit, ok := unitOf(rest)
	if !ok {
		if strings.TrimSpace(rest) == "" {
			return 0, &ParseError{What: "length", Input: s, Problem: "no unit: metres (m) or yards (yd)?"}
		}
		return 0, &ParseError{What: "length", Input: s, Problem: "unknown unit: want metres (m) or yards (yd)"}
	}
	if l := Length(x) * unit; !math.IsInf(float64(l), 0) {
		return l, nil
	}
	return 0, &ParseError{What: "length", Input: s, Problem: "too large", Err: ErrValue}
}

// MarshalText returns l in full: UnmarshalText gives l back to the last bit. It refuses a negative, infinite or undefined length.
func (l Length) MarshalText() ([]byte, error) {
	if !(l >= 0) || math.IsInf(float64(l), 0) {
		return nil, valuef("length: found %v m, want a finite one, zero or above", float64(l))
	}
	if n, ok := l.wholeYards(0); ok {
		return []byte(decimal(n, 0) + " yd"), nil
	}
	return []byte(decimal(float64(l), -1) + " m"), nil
}

// UnmarshalText is ParseLength.
func (l *Length) UnmarshalText(b []byte) error {
	v, err := ParseLength(string(b))
	if err == nil {
		*l = v
	}
	return err
}
