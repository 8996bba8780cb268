package curve_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/testdata/reference"
)

// near reports |got − want| ≤ tol; false for NaN.
func near(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

// Evidence C: R 4.2.2, package segmented 1.6-2, on the data of Bacon & Watts
// (1971), Biometrika 58:525–534 (testdata/README.md). That program iterates
// until the sum of squares stands still, where the join, at the flat bottom of
// it, is settled to eight or nine digits.
//
// Evidence D: the two separate lines of the points up to 0.01 and from 0.11 on
// meet between them; their join and sum of squares in exact rational
// arithmetic (Python 3 fractions), to all digits.
func TestBrokenLineStagnantBand(t *testing.T) {
	xs, ys := reference.Column(t, "stagnant-band.csv", "x"), reference.Column(t, "stagnant-band.csv", "y")
	var b curve.BrokenLine
	succeeds(t, b.Fit(xs, ys))
	for _, c := range []struct {
		name                 string
		got, segmented, unit float64 // unit of the digit to which they agree
		exact                float64
	}{
		{"join", b.Join, 0.04110578526, 1e-9, 0.04110578459211477},
		{"residual sum of squares", b.RSS(), 0.009140197232, 1e-12, 0.009140197232088206},
		{"left intercept", b.Level - b.Left*b.Join, 0.544661078277, 1e-9, 0.5446610783869507},
		{"left slope", b.Left, -0.422076814526, 1e-9, -0.4220768144140302},
		{"change of slope", b.Right - b.Left, -0.598490730631, 1e-9, -0.5984907305961045},
	} {
		if !near(c.got, c.segmented, c.unit) {
			t.Errorf("%s: got %.16g, want %v", c.name, c.got, c.segmented)
		}
		if !near(c.got, c.exact, 1e-13*max(1, math.Abs(c.exact))) {
			t.Errorf("%s: got %.16g, want exactly %v", c.name, c.got, c.exact)
		}
	}
	if got, want := b.DegreesOfFreedom(), len(xs)-4; got != want {
		t.Errorf("DegreesOfFreedom: got %d, want %d", got, want)
	}
}
