package chart

import (
	"fmt"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"example.com/steptest/lactate/internal/say"
)

// axis returns the words for intensities that span so much.
func (o Options) axis(span float64) say.Axis { return say.Axis{Pool: o.Pool, Unit: o.Unit, Span: span} }

func (o Options) said(v, span float64) string    { return o.axis(span).At(v) }
func (o Options) plainly(v, span float64) string { return o.axis(span).Plain(v) }

func (o Options) between(e lactate.Estimate, span float64) string { return o.axis(span).Interval(e) }

// notes says by what the thresholds were read and what the marks mean.
func notes(a *lactate.Analysis, o Options) []string {
	var first []string
	shaded := false
	for _, l := range limits(draw.Light(), a) {
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
	if a.Spread(lactate.FirstThreshold).Answers > 1 || a.Spread(lactate.SecondThreshold).Answers > 1 {
		second = append(second, "Lines at the foot: from the slowest to the fastest of the definitions of LT1 and of LT2")
	}
	for _, w := range a.Warnings {
		if w.Kind == lactate.WarnOddSample || w.Kind == lactate.WarnOddHeartRate {
			second = append(second, "Hollow: looks wrong")
			break
		}
	}
	return []string{strings.Join(first, ". ") + ".", strings.Join(second, ". ") + "."}
}

func describeTest(t lactate.Test, a *lactate.Analysis, o Options) string {
	lo, hi := span(t)
	parts := []string{fmt.Sprintf("Lactate in mmol/L against %s in %s for %d stages, with a fitted curve (%s).",
		o.Quantity, o.Unit, len(t.Stages), lactate.CurveName(a.Curve))}
	for _, l := range limits(draw.Light(), a) {
		if l.Err != nil {
			parts = append(parts, fmt.Sprintf("%s: none, %s.", l.name, say.Reason(l.Err)))
			continue
		}
		s := fmt.Sprintf("%s by %s: %s %s", l.name, say.Method(l.Method), say.Number(l.Intensity.Value, say.Decimals(hi-lo)), o.Unit)
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

// sentences joins what is not empty.
func sentences(parts ...string) string {
	var said []string
	for _, p := range parts {
		if p != "" {
			said = append(said, p+".")
		}
	}
	return strings.Join(said, " ")
}
