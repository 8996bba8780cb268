package lactate_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate"
)

// C: twelve invented step tests, continuous two-line least squares on natural
// logarithms in R 4.2.2, see testdata/reference/README.md. Every log_log row.
func TestReferenceLogLog(t *testing.T) {
	tests := referenceTests(t)
	checked := 0
	for _, row := range table(t, "step-tests-expected.csv") {
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
			within(t, what, x, number(t, row["intensity"]), 1e-6)
			within(t, what+" lactate", math.Exp(l.Level), number(t, row["lactate"]), 1e-6)
		case "residual_sum_of_squares":
			within(t, what, l.RSS(), number(t, row["lactate"]), 1e-6)
		default:
			t.Errorf("%s: not known", what)
		}
	}
	if checked != 24 {
		t.Errorf("checked %d rows, want 24", checked)
	}
}

// D: every row of the reference is checked by one of the tests.
func TestReferenceRowsAreAllChecked(t *testing.T) {
	for _, row := range table(t, "step-tests-expected.csv") {
		switch m := row["method"]; {
		case row["curve"] == "log_log", m == "residual_sum_of_squares", m == "rate_per_unit_intensity", m == "asymptote":
		case referenceMethod(m) == nil:
			t.Errorf("no test knows the method %q on %q", m, row["curve"])
		}
	}
}
