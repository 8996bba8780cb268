package lactate_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// Names that two readings of a definition need.
func TestNamesApart(t *testing.T) {
	for got, want := range map[string]string{
		lactate.CurveName(&curve.Polynomial{Degree: 3}):                "cubic",
		lactate.CurveName(&curve.Polynomial{Degree: 4}):                "polynomial of degree 4",
		lactate.FixedSlope{}.String():                                  "fixed slope, not given",
		lactate.Baseline(5).String():                                   "Baseline(5)",
		lactate.LogLogMaxDistance{}.String():                           "Dmax from the log–log point",
		lactate.LogLogMaxDistance{Ends: lactate.MeasuredEnds}.String(): "Dmax from the log–log point, measured ends",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if s := (lactate.FixedSlope{Slope: 1, Per: "m/s"}).String(); !strings.Contains(s, "1 ") || strings.Contains(s, "not given") {
		t.Errorf("%q", s)
	}
	if (&lactate.NotReachedError{Level: 4, Lowest: 5, Highest: 4}).Above() {
		t.Error("4 lies above an end of 4")
	}
	// Levels that differ in the fourth digit are told apart, and stay short where
	// three do.
	for e, want := range map[lactate.NotReachedError]string{
		{Level: 2, Lowest: 2.00046, Highest: 9}:              "2 mmol/L: level not reached inside the tested range: the curve starts above it, at 2.0005 mmol/L",
		{Level: 4, Lowest: 1, Highest: math.Nextafter(4, 0)}: "4 mmol/L: level not reached inside the tested range: the curve ends at 3.9999999999999996 mmol/L",
		{Level: 4, Lowest: 1, Highest: 3.21}:                 "4 mmol/L: level not reached inside the tested range: the curve ends at 3.21 mmol/L",
	} {
		if got := e.Error(); got != "lactate: "+want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for e, want := range map[lactate.StageError]string{
		{Stage: 0, Field: "lactate", Value: -1, Want: "x"}:          "lactate: stage 1: lactate: found -1, want x",
		{Stage: 0, Field: "recovery lactate", Value: -1, Want: "x"}: "lactate: recovery sample 1: lactate: found -1, want x",
		{Stage: -1, Field: "rest", Value: -1, Want: "x"}:            "lactate: rest: found -1, want x",
	} {
		if got := e.Error(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Limits of a test: the largest numbers, the slightest fall, a definition that
// answers with the ends of the tested range.
func TestLimits(t *testing.T) {
	most := lactate.Stage{Intensity: math.MaxFloat64, Lactate: math.MaxFloat64, HeartRate: math.MaxFloat64}
	if err := (lactate.Test{Rest: math.MaxFloat64, Stages: []lactate.Stage{most}}).Check(); err != nil {
		t.Errorf("the largest numbers: %v", err)
	}
	if b, err := json.Marshal(lactate.Estimate{Value: math.MaxFloat64, Low: math.NaN(), High: math.NaN()}); err != nil || !strings.Contains(string(b), "e+308") {
		t.Errorf("%s, %v", b, err)
	}
	if _, err := lactate.Analyze(ramp(2, 1.99, 1.98, 1.97, 1.96), lactate.Options{}); !errors.Is(err, lactate.ErrNotRising) {
		t.Errorf("falls by 0.04: %v", err)
	}
	for _, x := range []float64{1.10, 1.36} {
		a, err := lactate.Analyze(january(), lactate.Options{LT2: constant{"at an end", x}})
		if err != nil || a.LT2.Err != nil || a.LT2.Intensity.Value != x {
			t.Errorf("at %v: %v, %v", x, a.LT2, err)
		}
	}
}

func (uneven) Predict(x float64) float64 { return 0.1*x + 0.2*x }
