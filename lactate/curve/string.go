package curve

import (
	"fmt"
	"strings"
)

// String returns the curve with its numbers to four digits, such as
// "0.9 + 0.0004·exp(6·x)".
func (e *Exponential) String() string {
	return fmt.Sprintf("%.4g %s·exp(%.4g·x)", e.A, signed(e.B), e.C)
}

// String returns the curve in powers of x, its numbers to four digits, such as
// "1 - 2·x + 40·x^3", or "not fitted".
func (p *Polynomial) String() string {
	cs := p.Coefficients()
	if cs == nil {
		return "not fitted"
	}
	terms := []string{fmt.Sprintf("%.4g", cs[0])}
	for k, c := range cs[1:] {
		switch {
		case c == 0:
		case k == 0:
			terms = append(terms, signed(c)+"·x")
		default:
			terms = append(terms, fmt.Sprintf("%s·x^%d", signed(c), k+1))
		}
	}
	return strings.Join(terms, " ")
}

// String returns the join and the two slopes, to four digits.
func (b *BrokenLine) String() string {
	return fmt.Sprintf("%.4g at %.4g, slopes %.4g and %.4g", b.Level, b.Join, b.Left, b.Right)
}

// String returns the joins and the three slopes, to four digits.
func (c *ThreeLine) String() string {
	return fmt.Sprintf("%.4g at %.4g, then at %.4g, slopes %.4g, %.4g and %.4g", c.Level, c.Lower, c.Upper, c.Left, c.Middle, c.Right)
}

// String returns the common shape and the shifts, to four digits.
func (s *Shifted) String() string {
	out := fmt.Sprintf("%.4g %s·exp(%.4g·(x - shift))", s.A, signed(s.B), s.C)
	for g, d := range s.Shifts {
		sep := ", shifts"
		if g > 0 {
			sep = ","
		}
		out += fmt.Sprintf("%s %.4g", sep, d)
	}
	return out
}

// signed prints a number as a term to be added.
func signed(v float64) string {
	if v < 0 {
		return fmt.Sprintf("- %.4g", -v)
	}
	return fmt.Sprintf("+ %.4g", v)
}
