package protocol_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// The weight of the stated noise decides how far the interval is from the
// normal distribution's. Evidence: D, quantiles of Student's t with 4 + 3, 3 and
// infinitely many degrees of freedom at 95 %: 1.8946, 2.3534, 1.6449 (printed
// tables).
func TestForecastWeight(t *testing.T) {
	p := sixOf400(t)
	for weight, quantile := range map[float64]float64{0: 1.8946, -1: 2.3534, math.Inf(1): 1.6449} {
		out, err := p.Outlook(protocol.Expected{}, lactate.Options{Noise: lactate.Noise{Weight: weight}})
		if err != nil {
			t.Fatal(err)
		}
		if got := out.LT2.Width() / 2 / out.LT2.StandardError; !(math.Abs(got-quantile) <= 5e-5) {
			t.Errorf("weight %v: %v standard errors, want %v", weight, got, quantile)
		}
		if !(out.Shift.Detectable > 2*out.Shift.StandardError) {
			t.Errorf("weight %v: %+v", weight, out.Shift)
		}
	}
}

// The cautions speak of what they must.
func TestCautions(t *testing.T) {
	all := strings.ToLower(strings.Join(protocol.Cautions(), "\n"))
	for _, word := range []string{"screened", "stop", "never alone", "single-use", "gloves", "sharps", "first drop", "dry the skin", "local rules", "licensed practice"} {
		if !strings.Contains(all, word) {
			t.Errorf("no word of %q", word)
		}
	}
	c := protocol.Cautions()
	c[0] = ""
	if protocol.Cautions()[0] == "" {
		t.Error("a caller can change them")
	}
}

func TestStrings(t *testing.T) {
	for got, want := range map[string]string{
		protocol.NarrowLT1.String():   "LT1",
		protocol.NarrowLT2.String():   "LT2",
		protocol.NarrowShift.String(): "shift of the curve",
		protocol.Finding{Repeat: 3, Text: "slow", Source: "common practice"}.String(): "repeat 3: slow (common practice)",
		protocol.Finding{Text: "long"}.String():                                       "long",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	var zero protocol.Plan
	if zero.Duration() != 0 || zero.Samples() != 0 || zero.Distance() != 0 || zero.Rest() != nil || (protocol.Target{}).Split(100) != 0 {
		t.Error("the zero plan is not nothing")
	}
	if v, err := (protocol.Target{}).Speed(); v != 0 || !errors.Is(err, pace.ErrValue) {
		t.Errorf("speed of no repeat %v, error %v", v, err)
	}
}
