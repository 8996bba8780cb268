package table

import (
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
)

// Season returns a row for each test of a season: its shift from the first one,
// the intervals with and without the variation from day to day, and the
// verdict; and the trend as a last row.
func Season(s *lactate.Season, o Options) Table {
	o = o.withDefaults("a season of tests")
	unit := o.Unit
	if !o.Pool.IsZero() {
		unit = "s per 100 " + o.Pool.UnitSymbol() + " faster"
	}
	out := Table{Caption: o.Caption, Head: []Column{
		{"test", false}, {"shift from the first, " + unit, true}, {"measurement error alone", true}, {"with day-to-day variation", true}, {"verdict", false},
	}}
	if s == nil || len(s.Tests) == 0 {
		return out
	}
	width := 0.1
	if a := s.Tests[0].Analysis; a != nil {
		width = a.Highest - a.Lowest
	}
	value := o.changed(s.Reference, width)
	for i, t := range s.Tests {
		row := []string{t.Date.Format("2 January 2006")}
		if i == 0 {
			out.Rows = append(out.Rows, append(row, "", "", "", "the first test"))
			continue
		}
		out.Rows = append(out.Rows, append(row, value(t.Measured.Shift.Value), interval(t.Measured.Shift, value), interval(t.BetweenDays.Shift, value),
			say.Verdict(t.Measured.Verdict, t.BetweenDays.Verdict)))
	}
	out.Rows = append(out.Rows, []string{"trend in four weeks", value(s.Trend.Shift.Value), "", interval(s.Trend.Shift, value), s.Trend.Verdict.String()})
	out.Notes = append(out.Notes, say.Interval(s.Confidence)+"s.")
	if !o.Pool.IsZero() {
		out.Notes = append(out.Notes, "Shifts as times at "+o.axis(width).Pace(s.Reference)+"/100 "+o.Pool.UnitSymbol()+".")
	}
	for _, w := range s.Warnings {
		out.Notes = append(out.Notes, w.String()+".")
	}
	return out
}
