package pace

import (
	"fmt"
	"math"
	"strings"
)

// A Pool is the length of a pool in the unit it was built in, yards or metres.
// Pools are comparable with ==. The zero value is no pool: its length is 0, it
// has no lengths to count, and paces in it are per 100 m.
type Pool struct {
	n     float64 // in yards or metres
	yards bool
}

// SCY is a short course pool of 25 yd.
func SCY() Pool { return Pool{n: 25, yards: true} }

// SCM is a short course pool of 25 m.
func SCM() Pool { return Pool{n: 25} }

// LCM is a long course pool of 50 m.
func LCM() Pool { return Pool{n: 50} }

// NewPool returns a pool of n units, each a [Yard] or a [Metre]: NewPool(20,
// pace.Yard). Decimals that stand for thirds (33.33, 36.67) are taken for thirds,
// which pools are built in. It returns an error that wraps [ErrValue] for any
// other unit and for a length outside 5 to 200 of the unit.
func NewPool(n float64, unit Length) (Pool, error) {
	if unit != Yard && unit != Metre {
		return Pool{}, valuef("pool unit: found %v m, want a yard or a metre", float64(unit))
	}
	if !(n >= 5 && n <= 200) {
		return Pool{}, valuef("pool: found a length of %v, want 5 to 200 yards or metres", n)
	}
	return Pool{n: thirds(n), yards: unit == Yard}, nil
}

// thirds returns what the decimals of a number stand for.
func thirds(n float64) float64 {
	_, decimals, _ := strings.Cut(decimal(n, -1), ".")
	for _, f := range fractions() {
		if len(decimals) >= 2 && len(decimals) <= 9 && decimals == fmt.Sprintf("%.*f", len(decimals), f.value)[2:] {
			return math.Floor(n) + f.value
		}
	}
	return n
}

// IsZero reports whether p is no pool.
func (p Pool) IsZero() bool { return p == Pool{} }

// Unit returns the unit of p, [Yard] or [Metre].
func (p Pool) Unit() Length {
	if p.yards {
		return Yard
	}
	return Metre
}

// UnitSymbol returns "yd" or "m".
func (p Pool) UnitSymbol() string {
	if p.yards {
		return "yd"
	}
	return "m"
}

// Length returns the length of p.
func (p Pool) Length() Length { return Length(p.n) * p.Unit() }

// Per100 returns 100 yd or 100 m, the length that paces in p are given for.
func (p Pool) Per100() Length { return 100 * p.Unit() }

// Distance returns the distance of n lengths of p.
func (p Pool) Distance(n int) Length {
	x := float64(n) * p.n
	if r := math.Round(x); math.Abs(x-r) < 1e-9 { // three lengths of 33 1/3 are 100
		x = r
	}
	return Length(x) * p.Unit()
}

// Lengths returns how many lengths of p make d. It returns an error that wraps
// [ErrValue] and names the nearest distances that can be swum if d is not a
// whole number of lengths, to 1 part in a million of a length, or not positive.
func (p Pool) Lengths(d Length) (int, error) {
	if p.n == 0 {
		return 0, valuef("found no pool, want one to count lengths in")
	}
	if !(d > 0 && d < 1e8) {
		return 0, valuef("distance: found %v m, want a positive one", float64(d))
	}
	x := float64(d / p.Length())
	n := math.Round(x)
	if math.Abs(x-n) <= 1e-6 && n >= 1 {
		return int(n), nil
	}
	below := int(math.Floor(x))
	if below == 0 {
		return 0, valuef("distance: found %v, want at least one length of a %v pool", d, p)
	}
	return 0, valuef("distance: found %v, %.2f lengths of a %v pool, want whole lengths: %d are %s and %d are %s",
		d, x, p, below, p.count(below), below+1, p.count(below+1))
}

// count prints the distance of n lengths in the unit of p.
func (p Pool) count(n int) string {
	return decimal(p.Distance(n).Metres()/p.Unit().Metres(), 2) + " " + p.UnitSymbol()
}

// String returns the length and unit, "25 yd", "33 1/3 m", as [ParsePool] reads
// it; the zero Pool gives "no pool", which ParsePool refuses.
func (p Pool) String() string {
	if p.n == 0 {
		return "no pool"
	}
	whole := math.Floor(p.n)
	for _, f := range fractions() {
		if p.n == whole+f.value {
			return decimal(whole, 0) + " " + f.text + " " + p.UnitSymbol()
		}
	}
	return decimal(p.n, -1) + " " + p.UnitSymbol()
}

type fraction struct {
	text, sign string
	value      float64
}

// fractions are those that pools are built in and people write out.
func fractions() [2]fraction {
	return [2]fraction{{"1/3", "⅓", 1.0 / 3}, {"2/3", "⅔", 2.0 / 3}}
}

// ParsePool reads a pool: its length and unit, "25 yd", "25m", "20yd",
// "33 1/3 m", "33⅓ m", or one of SCY (25 yd), SCM (25 m), LCM (50 m). Case does
// not matter. Decimals that stand for thirds (33.33, 36.67) are read as thirds. A
// number without a unit is refused, since 25 yd and 25 m differ by 9 %. The
// error is a [*ParseError].
func ParsePool(s string) (Pool, error) {
	t := strings.ToLower(strings.TrimSpace(s))
	switch t {
	case "scy":
		return SCY(), nil
	case "scm":
		return SCM(), nil
	case "lcm":
		return LCM(), nil
	}
	x, rest, ok := cutMixed(t)
	if !ok {
		return Pool{}, &ParseError{What: "pool", Input: s, Problem: `want a length and a unit, such as "25 yd", "25 m", "50 m", or SCY, SCM, LCM`}
	}
	unit, ok := unitOf(rest)
	if !ok {
		if strings.TrimSpace(rest) == "" {
			return Pool{}, &ParseError{What: "pool", Input: s, Problem: "no unit: yards (yd) or metres (m)?"}
		}
		return Pool{}, &ParseError{What: "pool", Input: s, Problem: "unknown unit: want yards (yd) or metres (m)"}
	}
	p, err := NewPool(x, unit)
	if err != nil {
		return Pool{}, &ParseError{What: "pool", Input: s, Problem: "want 5 to 200 yards or metres", Err: ErrValue}
	}
	return p, nil
}

// MarshalText returns what String does, and nothing for the zero Pool.
func (p Pool) MarshalText() ([]byte, error) {
	if p.n == 0 {
		return []byte{}, nil
	}
	return []byte(p.String()), nil
}

// UnmarshalText is ParsePool; nothing is the zero Pool.
func (p *Pool) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*p = Pool{}
		return nil
	}
	v, err := ParsePool(string(b))
	if err == nil {
		*p = v
	}
	return err
}
