package curve_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate/curve"
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
	xs, ys := points(t, "stagnant-band.csv")
	var b curve.BrokenLine
	if err := b.Fit(xs, ys); err != nil {
		t.Fatal(err)
	}
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

// Evidence C: R 4.2.2, continuous two-line least squares on the logarithms of
// both axes of invented step tests (testdata/README.md).
func TestBrokenLineStepTests(t *testing.T) {
	type answer struct{ x, y, rss float64 }
	want := map[string]answer{}
	_, rows := table(t, "step-tests-expected.csv")
	for _, r := range rows {
		if r[1] != "log_log" {
			continue
		}
		a := want[r[0]]
		switch r[2] {
		case "break_point":
			a.x, a.y = number(t, r[3]), number(t, r[4])
		case "residual_sum_of_squares":
			a.rss = number(t, r[4])
		}
		want[r[0]] = a
	}
	xs, ys := map[string][]float64{}, map[string][]float64{}
	_, rows = table(t, "step-tests.csv")
	for _, r := range rows {
		xs[r[0]] = append(xs[r[0]], math.Log(number(t, r[2])))
		ys[r[0]] = append(ys[r[0]], math.Log(number(t, r[3])))
	}
	if len(want) == 0 || len(want) != len(xs) {
		t.Fatalf("found log-log rows of %d tests, want %d", len(want), len(xs))
	}
	for test, w := range want {
		var b curve.BrokenLine
		if err := b.Fit(xs[test], ys[test]); err != nil {
			t.Errorf("%s: %v", test, err)
			continue
		}
		if x := math.Exp(b.Join); !near(x, w.x, 1e-6*w.x) {
			t.Errorf("%s: join at %.9g, want %.9g", test, x, w.x)
		}
		if y := math.Exp(b.Level); !near(y, w.y, 1e-6*w.y) {
			t.Errorf("%s: level %.7g, want %.7g", test, y, w.y)
		}
		if !near(b.RSS(), w.rss, 1e-6*w.rss) {
			t.Errorf("%s: residual sum of squares %.7g, want %.7g", test, b.RSS(), w.rss)
		}
	}
}

// Evidence D, constructed: lactate is 1.2·(v/1.3)^1.5 up to 1.3 m/s and
// 1.2·(v/1.3)^12 after it, printed to seven digits.
func TestBrokenLineConstructed(t *testing.T) {
	speeds := []float64{1.10, 1.15, 1.20, 1.25, 1.35, 1.40, 1.45, 1.50}
	lactates := []float64{0.934018, 0.998419, 1.064236, 1.131439, 1.887410, 2.920098, 4.449150, 6.682764}
	var xs, ys []float64
	for i := range speeds {
		xs = append(xs, math.Log(speeds[i]))
		ys = append(ys, math.Log(lactates[i]))
	}
	var b curve.BrokenLine
	if err := b.Fit(xs, ys); err != nil {
		t.Fatal(err)
	}
	if x := math.Exp(b.Join); !near(x, 1.3, 1e-6) {
		t.Errorf("join at %v, want 1.3", x)
	}
	if y := math.Exp(b.Level); !near(y, 1.2, 1e-5) {
		t.Errorf("level %v, want 1.2", y)
	}
	if !near(b.Left, 1.5, 2e-5) || !near(b.Right, 12, 2e-5) {
		t.Errorf("slopes %v and %v, want 1.5 and 12", b.Left, b.Right)
	}
	if !near(b.RSS(), 0, 1e-11) {
		t.Errorf("residual sum of squares %v, want 0 within the printed digits", b.RSS())
	}
}
