package chart

import (
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// said returns an intensity in words: its pace where there is a pool. The span
// is that of the axis, and says how many decimals make sense.
func (o Options) said(v, span float64) string {
	if !o.Pool.IsZero() {
		return pace.FormatTime(pace.Speed(v).In(o.Pool).Time, 1)
	}
	return o.plainly(v, span)
}

// plainly returns an intensity as a number with its unit.
func (o Options) plainly(v, span float64) string {
	return number(v, decimals(span)) + " " + o.Unit
}

// between returns an interval in words, slow end first.
func (o Options) between(e lactate.Estimate, span float64) string {
	low, high := "open", "open"
	if finite(e.Low) {
		low = strings.TrimSuffix(o.said(e.Low, span), " "+o.Unit)
	}
	if finite(e.High) {
		high = strings.TrimSuffix(o.said(e.High, span), " "+o.Unit)
	}
	return low + " to " + high
}

// signed prints a change with its sign.
func signed(v float64, decimals int) string {
	s := number(v, decimals)
	if v > 0 && s != number(0, decimals) {
		s = "+" + s
	}
	return s
}
