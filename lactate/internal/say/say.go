// Package say puts numbers into words for the tables and the pictures, which
// say the same number in the same words.
package say

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/clean"
	"example.com/steptest/pace"
)

// Number prints v with so many decimals, 0 to 17, a real minus sign, and no minus zero.
func Number(v float64, decimals int) string {
	decimals = min(max(decimals, 0), 17)
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if v < 0 && s != strconv.FormatFloat(0, 'f', decimals, 64) {
		s = "−" + s
	}
	return s
}

// Signed prints a change with its sign.
func Signed(v float64, decimals int) string {
	s := Number(v, decimals)
	if v > 0 && s != Number(0, decimals) {
		s = "+" + s
	}
	return s
}

// Decimals returns how many decimals tell apart values that span a range: a
// fiftieth of it; three if there is no range.
func Decimals(span float64) int {
	if !(span > 0) {
		return 3
	}
	d := math.Ceil(-math.Log10(span/50) - 1e-9)
	if !(d > 0) {
		return 0
	}
	return int(math.Min(d, 12))
}

// Finite reports whether all of the numbers are.
func Finite(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// Axis says what an intensity is: a speed with a pace in a pool, or any number
// with a unit.
type Axis struct {
	Pool pace.Pool // zero means no paces
	Unit string
	Span float64 // of the intensities, for the number of decimals
}

// At returns an intensity as its pace, or as a number with its unit.
func (a Axis) At(v float64) string {
	if !a.Pool.IsZero() {
		return a.Pace(v)
	}
	return a.Plain(v)
}

// Pace returns the pace per 100 of the pool at a speed, to a tenth of a second.
func (a Axis) Pace(v float64) string {
	return pace.FormatTime(pace.Speed(v).In(a.Pool).Time, 1)
}

// Plain returns an intensity as a number with its unit.
func (a Axis) Plain(v float64) string { return Number(v, Decimals(a.Span)) + " " + a.Unit }

// Interval returns an interval, slow end first, without a unit.
func (a Axis) Interval(e lactate.Estimate) string {
	if !Finite(e.Low) && !Finite(e.High) {
		return "open"
	}
	end := func(v float64) string {
		if !Finite(v) {
			return "open"
		}
		return strings.TrimSuffix(a.At(v), " "+a.Unit)
	}
	return end(e.Low) + " to " + end(e.High)
}

// Gain returns how many seconds less per 100 of the pool a shift means at a
// reference speed, with its sign; "open" of an infinite one.
func (a Axis) Gain(reference, shift float64) string {
	if math.IsInf(shift, 0) {
		return "open"
	}
	return Signed(pace.Saved(a.Pool.Per100(), pace.Speed(reference), pace.Speed(reference+shift)), 1)
}

// Reason returns an error on one line, without the names of packages.
func Reason(err error) string {
	return strings.ReplaceAll(clean.Bare(err), "\n", "; ")
}

// Method names a method.
func Method(m lactate.Method) string {
	if m == nil {
		return "no method"
	}
	return m.String()
}

// Interval names an interval, with its confidence where there is one.
func Interval(confidence float64) string {
	if !(confidence > 0 && confidence < 1) {
		return "interval"
	}
	return Level(confidence) + " interval"
}

// Level says a confidence.
func Level(confidence float64) string { return fmt.Sprintf("%.3g %%", 100*confidence) }

// Seen says what a detectable shift is: a true one, seen so often.
func Seen(power float64) string {
	if !(power > 0 && power < 1) {
		return "true change that would be seen"
	}
	return fmt.Sprintf("true change seen %.3g times in 100", 100*power)
}

// Day writes a date.
func Day(t time.Time) string { return t.Format("2 January 2006") }
