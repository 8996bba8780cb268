package command

import (
	"fmt"
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/protocol"
)

// Comparable reports whether the speeds of two tests mix: one pool, one distance.
func Comparable(a, b protocol.Record) bool {
	return a.Pool == b.Pool && len(a.Repeats) > 0 && len(b.Repeats) > 0 && a.Repeats[0].Distance == b.Repeats[0].Distance
}

// Unexpected says of the sample of a repeat that it is not what the repeats before it
// let expect, and what to do; empty if it is, or if nothing is expected.
func Unexpected(rec protocol.Record, number int, known forecast.Expected) string {
	i := slices.IndexFunc(rec.Repeats, func(r protocol.Repeat) bool { return r.Number == number })
	if i < 0 || rec.Repeats[i].Lactate == 0 {
		return ""
	}
	plan := rec.Plan()
	for k, r := range rec.Repeats {
		if r.Target == 0 {
			plan.Repeats[k].Time = r.Time // written down without a plan
		}
	}
	e, err := plan.ExpectedSample(rec, number, known, lactate.Options{Confidence: 0.99})
	y := rec.Repeats[i].Lactate
	if err != nil || y >= e.Low && y <= e.High {
		return ""
	}
	after := ""
	if i > 0 && rec.Repeats[i-1].Lactate > 0 {
		after = fmt.Sprintf(" after %.1f", rec.Repeats[i-1].Lactate)
	}
	return fmt.Sprintf("%.1f%s, where %.1f to %.1f mmol/L was expected (99 %%): take it again, with clean dry skin and the first drop wiped off", y, after, e.Low, e.High)
}
