package curve_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"example.com/steptest/lactate/curve"
)

// table reads a file of testdata/reference: its header, then its rows.
func table(t *testing.T, name string) (header []string, rows [][]string) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 2 {
		t.Fatalf("%s: found no rows", name)
	}
	return all[0], all[1:]
}

// number parses a number of a reference file.
func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// points reads a two-column file.
func points(t *testing.T, name string) (xs, ys []float64) {
	t.Helper()
	_, rows := table(t, name)
	for _, r := range rows {
		xs = append(xs, number(t, r[0]))
		ys = append(ys, number(t, r[1]))
	}
	return xs, ys
}

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
			xs, ys := points(t, "nist-"+set.name+".csv")
			want := map[string]float64{}
			_, rows := table(t, "nist-"+set.name+"-expected.csv")
			for _, r := range rows {
				want[r[0]] = number(t, r[1])
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
			if err := p.Fit(xs, ys); err != nil {
				t.Fatal(err)
			}
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
