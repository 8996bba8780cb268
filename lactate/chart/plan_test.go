package chart_test

import (
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
)

// D: a repeat outside the tested range has no point on it, and the picture
// says why; repeats inside the tested range need no such words.
func TestPlanBeyondTheCurve(t *testing.T) {
	a := analysed(t, invented(6, 0), lactate.Options{})
	picture := func(first float64) string {
		p, err := chart.Plan([]chart.Repeat{{Intensity: first}, {Intensity: 1.1}, {Intensity: 1.22, AllOut: true}}, a, chart.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return p.SVG()
	}
	inside, outside := picture(1.05), picture(0.98)
	if strings.Contains(inside, "Dotted") || !strings.Contains(outside, "Dotted") {
		t.Error("the note about dotted lines does not follow the repeats")
	}
	// The dotted line stands for a line and a point's outline and fill.
	if in, out := strings.Count(inside, "<path"), strings.Count(outside, "<path"); !(out < in) {
		t.Errorf("%d paths with a repeat beyond the curve, %d without", out, in)
	}
}
