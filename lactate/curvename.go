package lactate

import (
	"fmt"
	"strings"

	"example.com/steptest/lactate/curve"
)

// CurveName returns what a kind of curve is called beside a result:
// "convex", "exponential", "cubic", "polynomial of degree 2", "two lines", "three lines",
// and the name of its type for any other.
func CurveName(c Curve) string {
	switch c := c.(type) {
	case *curve.Convex:
		return "convex"
	case *curve.Exponential:
		return "exponential"
	case *curve.Polynomial:
		if c.Degree == 0 || c.Degree == 3 {
			return "cubic"
		}
		return fmt.Sprintf("polynomial of degree %d", c.Degree)
	case *curve.BrokenLine:
		return "two lines"
	case *curve.ThreeLine:
		return "three lines"
	}
	name := fmt.Sprintf("%T", c)
	return name[strings.LastIndexByte(name, '.')+1:]
}
