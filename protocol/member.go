package protocol

import (
	"fmt"
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
)

// Member returns the record and its analysis, which may be nil, as a row of
// [table.Squad]: with what its rows lost to faults and what is odd about its values.
func (r Record) Member(a *lactate.Analysis) table.Member {
	m := table.Member{Name: r.Swimmer, Date: r.Date, Analysis: a}
	if rows, cells := r.Lost(); rows+cells > 0 {
		m.Further = append(m.Further, fmt.Sprintf("left out of the sheet: %d rows, %d cells", rows, cells))
	}
	if a == nil {
		return m
	}
	beyond := map[int]bool{} // the analyser's range
	for _, w := range r.Review() {
		switch w.Kind {
		case WarnBeyondRange:
			n := w.Stages[0]
			beyond[n] = true
			side := "above"
			if slices.ContainsFunc(r.Repeats, func(rep Repeat) bool { return rep.Number == n && rep.Range == BelowRange }) {
				side = "below"
			}
			m.Further = append(m.Further, fmt.Sprintf("%s the analyser's range (repeat %d)", side, n))
		case WarnOddTime, lactate.WarnOddHeartRate, lactate.WarnOddSample:
			m.Warnings = append(m.Warnings, w)
		}
	}
	for _, w := range r.Numbered(a.Warnings) {
		if w.Kind == lactate.WarnLostSamples {
			w.Stages = slices.DeleteFunc(w.Stages, func(n int) bool { return beyond[n] })
		}
		if w.Kind != lactate.WarnLostSamples || len(w.Stages) > 0 {
			m.Warnings = append(m.Warnings, w)
		}
	}
	return m
}
