package lactate_test

import (
	"math"
	"strconv"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/testdata/reference"
)

// C: twelve invented step tests, continuous two-line least squares on natural
// logarithms in R 4.2.2, see testdata/reference/README.md. Every log_log row.
func TestReferenceLogLog(t *testing.T) {
	tests := referenceTests(t)
	checked := 0
	for _, row := range reference.Rows(t, "step-tests-expected.csv") {
		if row["curve"] != "log_log" {
			continue
		}
		checked++
		test, what := tests[row["test"]], row["test"]+" log–log "+row["method"]
		l, err := lactate.LogLog{}.Lines(test)
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		switch row["method"] {
		case "break_point":
			x, err := lactate.LogLog{}.Locate(test, nil)
			if err != nil {
				t.Errorf("%s: %v", what, err)
			}
			within(t, what, x, reference.Number(t, row["intensity"]), 1e-6)
			within(t, what+" lactate", math.Exp(l.Level), reference.Number(t, row["lactate"]), 1e-6)
		case "residual_sum_of_squares":
			within(t, what, l.RSS(), reference.Number(t, row["lactate"]), 1e-6)
		default:
			t.Errorf("%s: not known", what)
		}
	}
	if checked != 2*len(tests) {
		t.Errorf("checked %d rows, want two for each of %d tests", checked, len(tests))
	}
}

// rCurve is the exponential that R fitted to a reference test: asymptote A and
// rate C as printed, and B from where R found the lowest of its fixed levels on it.
func rCurve(t *testing.T, rows map[string]map[string]string) (a, b, c float64) {
	a = reference.Number(t, rows["asymptote"]["lactate"])
	c = reference.Number(t, rows["rate_per_unit_intensity"]["intensity"])
	for _, level := range []float64{2, 2.5, 3, 3.5, 4} {
		if row, ok := rows["fixed_"+strconv.FormatFloat(level, 'g', -1, 64)]; ok {
			return a, (level - a) * math.Exp(-c*reference.Number(t, row["intensity"])), c
		}
	}
	t.Fatal("R found no fixed level on this test")
	return 0, 0, 0
}

// C and D: what R 4.2.2 fitted to the twelve invented step tests, read by
// algebra. On A + B·exp(C·x) the slope s lies at ln(s/(B·C))/C; the point
// farthest below the chord from the log–log point, which is R's too, where the
// curve has the slope of the chord; and y/x is lowest where B·exp(C·x)·(C·x −
// 1) = A.
func TestReferenceExponentialByAlgebra(t *testing.T) {
	rows := map[string]map[string]map[string]string{} // of the exponential and of log–log, by test and method
	for _, row := range reference.Rows(t, "step-tests-expected.csv") {
		if rows[row["test"]] == nil {
			rows[row["test"]] = map[string]map[string]string{}
		}
		if row["curve"] == "exponential" || row["method"] == "break_point" {
			rows[row["test"]][row["method"]] = row
		}
	}
	slopes, equivalents := 0, 0
	for id, test := range referenceTests(t) {
		a, b, c := rCurve(t, rows[id])
		s := test.Sampled()
		lo, hi := s[0].Intensity, s[len(s)-1].Intensity
		got := fitted(t, new(curve.Exponential), test)
		slope := func(s float64) float64 { return math.Log(s/(b*c)) / c }
		y := func(x float64) float64 { return a + b*math.Exp(c*x) }
		check := func(m lactate.Method, want float64) {
			x, err := m.Locate(test, got)
			if err != nil {
				t.Errorf("%s %v: %v", id, m, err)
				return
			}
			within(t, id+" "+m.String(), x, want, 1e-6)
		}
		from := reference.Number(t, rows[id]["break_point"]["intensity"])
		check(lactate.LogLogMaxDistance{}, slope((y(hi)-y(from))/(hi-from)))

		// Slopes of a third and two thirds of the way from end to end.
		for _, share := range []float64{1. / 3, 2. / 3} {
			v := b * c * (math.Exp(c*lo) + share*(math.Exp(c*hi)-math.Exp(c*lo)))
			check(lactate.FixedSlope{Slope: v}, slope(v))
			slopes++
		}

		g := func(x float64) float64 { return b*math.Exp(c*x)*(c*x-1) - a }
		if g(lo) > 0 {
			refused(t, lactate.LowestLactateEquivalent{}, test, got, lactate.ErrShape)
			continue
		}
		p, q := lo, hi
		for range 100 {
			if m := (p + q) / 2; g(m) < 0 {
				p = m
			} else {
				q = m
			}
		}
		equivalents++
		check(lactate.LowestLactateEquivalent{}, p)
		if v := y(p) + 1.5; v < y(hi) {
			check(lactate.AboveLowestEquivalent{}, math.Log((v-a)/b)/c)
		}
	}
	if slopes == 0 || equivalents == 0 {
		t.Errorf("checked %d slopes and %d equivalents", slopes, equivalents)
	}
}

// D: every row of the reference is checked by one of the tests.
func TestReferenceRowsAreAllChecked(t *testing.T) {
	for _, row := range reference.Rows(t, "step-tests-expected.csv") {
		switch m := row["method"]; {
		case row["curve"] == "log_log", m == "residual_sum_of_squares", m == "rate_per_unit_intensity", m == "asymptote":
		case referenceMethod(m) == nil:
			t.Errorf("no test knows the method %q on %q", m, row["curve"])
		}
	}
}
