package lactate_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/testdata/reference"
)

func referenceTests(t testing.TB) map[string]lactate.Test {
	tests := map[string]lactate.Test{}
	for _, row := range reference.Rows(t, "step-tests.csv") {
		test := tests[row["test"]]
		test.Stages = append(test.Stages, lactate.Stage{
			Intensity: reference.Number(t, row["intensity"]),
			Lactate:   reference.Number(t, row["lactate"]),
			HeartRate: reference.Number(t, row["heart_rate"]),
		})
		tests[row["test"]] = test
	}
	return tests
}

// referenceMethod maps the reference's names of methods to ours.
func referenceMethod(name string) lactate.Method {
	level := func(prefix string) float64 {
		v, err := strconv.ParseFloat(strings.TrimPrefix(name, prefix), 64)
		if err != nil {
			panic(err)
		}
		return v
	}
	switch {
	case strings.HasPrefix(name, "fixed_"):
		return lactate.Fixed{Lactate: level("fixed_")}
	case strings.HasPrefix(name, "lowest_stage_plus_"):
		return lactate.AboveBaseline{Rise: level("lowest_stage_plus_"), From: lactate.BaselineLowestStage}
	case strings.HasPrefix(name, "fitted_lowest_plus_"):
		return lactate.AboveBaseline{Rise: level("fitted_lowest_plus_")}
	case name == "max_distance_fitted_ends":
		return lactate.MaxDistance{}
	case name == "max_distance_measured_ends":
		return lactate.MaxDistance{Ends: lactate.MeasuredEnds}
	case name == "modified_max_distance_fitted_ends":
		return lactate.ModifiedMaxDistance{}
	case name == "modified_max_distance_measured_ends":
		return lactate.ModifiedMaxDistance{Ends: lactate.MeasuredEnds}
	}
	return nil
}

var referenceCurves = map[string]func() lactate.Curve{
	"exponential": func() lactate.Curve { return new(curve.Exponential) },
	"cubic":       func() lactate.Curve { return new(curve.Polynomial) },
}

// C: twelve invented step tests, answers from R 4.2.2 (lm; profiled least
// squares polished by nls; uniroot; optimize), see testdata/reference/README.md.
// Every row of the four core methods on both curves, and every level that R did
// not find.
func TestReferenceStepTests(t *testing.T) {
	tests := referenceTests(t)
	names := map[string]bool{}
	type key struct{ test, curve, method string }
	want := map[key]map[string]string{}
	rows := 0
	for _, row := range reference.Rows(t, "step-tests-expected.csv") {
		want[key{row["test"], row["curve"], row["method"]}] = row
		if referenceMethod(row["method"]) != nil {
			names[row["method"]] = true
			rows++
		}
	}
	checked := 0
	for id, test := range tests {
		for curveName, newCurve := range referenceCurves {
			for name := range names {
				m := referenceMethod(name)
				a, err := lactate.Analyze(test, lactate.Options{Curve: newCurve, Methods: []lactate.Method{m}})
				if err != nil {
					t.Fatal(id, curveName, err)
				}
				th := a.Thresholds[0]
				row, ok := want[key{id, curveName, name}]
				if !ok {
					if th.Err == nil {
						t.Errorf("%s %s %s: found %v, R finds none", id, curveName, name, th.Intensity.Value)
					}
					continue
				}
				checked++
				if th.Err != nil {
					t.Errorf("%s %s %s: %v", id, curveName, name, th.Err)
					continue
				}
				within(t, fmt.Sprint(id, " ", curveName, " ", name, " intensity"), th.Intensity.Value, reference.Number(t, row["intensity"]), 1e-6)
				within(t, fmt.Sprint(id, " ", curveName, " ", name, " lactate"), th.Lactate.Value, reference.Number(t, row["lactate"]), 1e-6)
			}
		}
	}
	if checked == 0 || checked != rows {
		t.Errorf("checked %d of %d rows", checked, rows)
	}
}

// within fails unless got is want to a relative tolerance.
func within(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.10g, want %.10g (± %g relative)", what, got, want, rel)
	}
}

// C: residual sum of squares, rate and asymptote of the exponential, from the
// same R run.
func TestReferenceExponential(t *testing.T) {
	tests := referenceTests(t)
	for _, row := range reference.Rows(t, "step-tests-expected.csv") {
		if row["curve"] != "exponential" && row["curve"] != "cubic" {
			continue
		}
		a := analysed(t, tests[row["test"]], lactate.Options{Curve: referenceCurves[row["curve"]]})
		what := row["test"] + " " + row["curve"] + " " + row["method"]
		switch row["method"] {
		case "residual_sum_of_squares":
			within(t, what, a.Curve.(interface{ RSS() float64 }).RSS(), reference.Number(t, row["lactate"]), 1e-6)
		case "rate_per_unit_intensity":
			within(t, what, a.Curve.(*curve.Exponential).C, reference.Number(t, row["intensity"]), 1e-6)
		case "asymptote":
			within(t, what, a.Curve.(*curve.Exponential).A, reference.Number(t, row["lactate"]), 1e-6)
		}
	}
}
