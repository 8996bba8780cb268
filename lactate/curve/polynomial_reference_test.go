package curve_test

import (
	"math"
	"strconv"
	"testing"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/testdata/reference"
)

// correctDigits is −log₁₀ of the relative error.
func correctDigits(got, want float64) float64 {
	if got == want {
		return 17
	}
	e := math.Abs(got-want) / math.Abs(want)
	if want == 0 {
		e = math.Abs(got)
	}
	return min(17, -math.Log10(e))
}

// Evidence B: NIST/ITL Statistical Reference Datasets, linear regression. The
// expected coefficients are the certified ones, recomputed to all digits of a
// float64 by exact rational arithmetic (testdata/README.md).
func TestPolynomialCertified(t *testing.T) {
	sets := []struct {
		name   string
		digits float64 // of the coefficients
	}{
		{"norris", 12},
		{"pontius", 12},
		{"filip", 12},
		{"wampler1", 12},
		{"wampler4", 12},
	}
	for _, set := range sets {
		t.Run(set.name, func(t *testing.T) {
			xs, ys := reference.Column(t, "nist-"+set.name+".csv", "x"), reference.Column(t, "nist-"+set.name+".csv", "y")
			want := map[string]float64{}
			for _, row := range reference.Rows(t, "nist-"+set.name+"-expected.csv") {
				want[row["name"]] = reference.Number(t, row["value"])
			}
			degree := int(want["degree"])
			b := make([]float64, degree+1)
			for k := range b {
				b[k] = want["b"+strconv.Itoa(k)]
			}

			// First stage: is the model transcribed right? Horner's rule with
			// the certified coefficients leaves the certified residuals.
			rss := 0.0
			for i, x := range xs {
				s := 0.0
				for k := degree; k >= 0; k-- {
					s = s*x + b[k]
				}
				rss += (ys[i] - s) * (ys[i] - s)
			}
			scale := 0.0 // what rounding can do to the sum, for the exact sets
			for _, y := range ys {
				scale += y * y
			}
			wantRSS := want["residual_sum_of_squares"]
			if !(math.Abs(rss-wantRSS) <= 1e-6*wantRSS+1e-25*scale) {
				t.Fatalf("RSS at the certified coefficients: got %v, want %v", rss, wantRSS)
			}

			// Second stage: does the fit find them?
			p := curve.Polynomial{Degree: degree}
			succeeds(t, p.Fit(xs, ys))
			got := p.Coefficients()
			if len(got) != degree+1 {
				t.Fatalf("got %d coefficients, want %d", len(got), degree+1)
			}
			for k := range b {
				d := correctDigits(got[k], b[k])
				t.Logf("b%d %v: %.1f digits", k, got[k], d)
				if !(d >= set.digits) {
					t.Errorf("b%d: got %v, want %v: %.1f digits, want %v", k, got[k], b[k], d, set.digits)
				}
			}
			if !(math.Abs(p.RSS()-wantRSS) <= 1e-10*wantRSS+1e-28*scale) {
				t.Errorf("RSS: got %v, want %v", p.RSS(), wantRSS)
			}
			if got, want := p.DegreesOfFreedom(), len(xs)-degree-1; got != want {
				t.Errorf("DegreesOfFreedom: got %d, want %d", got, want)
			}
		})
	}
}
