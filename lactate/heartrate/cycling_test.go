package heartrate_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/testdata/reference"
)

// Kind C: Python 3 (numpy), slope and intercept of heart rate over power in forty real tests;
// see testdata/reference/cycling-tests.csv.
func TestReferenceCycling(t *testing.T) {
	type ride struct{ subject, timepoint string }
	tests := map[ride]lactate.Test{}
	for _, row := range reference.Rows(t, "cycling-tests.csv") {
		if row["watt"] == "" || row["hr"] == "" {
			continue
		}
		k := ride{row["subject"], row["timepoint"]}
		test := tests[k]
		test.Stages = append(test.Stages, lactate.Stage{Intensity: reference.Number(t, row["watt"]), HeartRate: reference.Number(t, row["hr"])})
		tests[k] = test
	}
	checked := 0
	for _, row := range reference.Rows(t, "cycling-tests-expected.csv") {
		k := ride{row["subject"], row["timepoint"]}
		if row["hr_slope"] == "" {
			continue
		}
		l, err := heartrate.Fit(tests[k], heartrate.Options{})
		if err != nil {
			t.Errorf("%v: %v", k, err)
			continue
		}
		slope, intercept := reference.Number(t, row["hr_slope"]), reference.Number(t, row["hr_intercept"])
		// The digits printed: eight.
		if !(math.Abs(l.Slope-slope) <= 1e-7) || !(math.Abs(l.Intercept-intercept) <= 1e-5) {
			t.Errorf("%v: %v + %v·x, want %v + %v·x", k, l.Intercept, l.Slope, intercept, slope)
		}
		checked++
	}
	if checked < 30 {
		t.Errorf("only %d tests checked", checked)
	}
}
