package chart

import (
	"fmt"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
)

// notes says by what the thresholds were read and what the marks mean.
func notes(a *lactate.Analysis, o Options) []string {
	var first []string
	shaded := false
	for _, l := range light().limits(a) {
		if l.Err != nil {
			first = append(first, fmt.Sprintf("%s is not drawn: %s", l.name, say.Reason(l.Err)))
			continue
		}
		shaded = shaded || l.Intensity.HasInterval()
		first = append(first, l.name+": "+say.Method(l.Method))
	}
	first = append(first, "Curve: "+lactate.CurveName(a.Curve))
	second := []string{"Bars: two standard deviations of a sample"}
	if shaded {
		second = append(second, "Shaded: "+say.Interval(a.Confidence)+"s")
	} else {
		second = append(second, "No intervals were asked for")
	}
	return []string{strings.Join(first, ". ") + ".", strings.Join(second, ". ") + "."}
}

func describeTest(t lactate.Test, a *lactate.Analysis, o Options) string {
	lo, hi := span(t)
	parts := []string{fmt.Sprintf("Lactate in mmol/L against %s in %s for %d stages, with a fitted curve (%s).",
		o.Quantity, o.Unit, len(t.Stages), lactate.CurveName(a.Curve))}
	for _, l := range light().limits(a) {
		if l.Err != nil {
			parts = append(parts, fmt.Sprintf("%s: none, %s.", l.name, say.Reason(l.Err)))
			continue
		}
		s := fmt.Sprintf("%s by %s: %s %s", l.name, l.Method, say.Number(l.Intensity.Value, say.Decimals(hi-lo)), o.Unit)
		if !o.Pool.IsZero() {
			s += fmt.Sprintf(", %s per 100 %s", o.said(l.Intensity.Value, hi-lo), o.Pool.UnitSymbol())
		}
		if l.Intensity.HasInterval() {
			s += fmt.Sprintf(" (%s %s)", say.Interval(a.Confidence), o.between(l.Intensity, hi-lo))
		}
		parts = append(parts, s+".")
	}
	return strings.Join(parts, " ")
}
