package table

import "example.com/steptest/lactate"

// Season returns what a season says, in two tables: a row for each test, with its
// LT2, how far the curve moved from the first test, the intervals with and without
// the variation from day to day, and the verdict, and the trend as a last row; and
// the warnings.
func Season(s *lactate.Season, o Options) Tables {
	if s == nil {
		s = new(lactate.Season)
	}
	if len(s.Tests) > 0 {
		o = o.as(s.Tests[0].Analysis)
	}
	o = o.withDefaults("how far has the curve moved since the first test?")
	return Tables{o.season(s), Warnings(s.Warnings, Options{Noun: o.Noun})}
}

func (o Options) season(s *lactate.Season) Table {
	out := Table{Caption: o.Caption, Head: []Column{
		{"test", false}, {"LT2", true}, o.faster(), {"measured alone", true}, {"with days", true}, {"verdict", false},
	}}
	if len(s.Tests) == 0 {
		return out
	}
	width := 0.1
	if a := s.Tests[0].Analysis; a != nil {
		width = a.Highest - a.Lowest
	}
	value := o.changed(s.Reference, width)
	for i, t := range s.Tests {
		row := []string{t.Date.Format("2 January 2006"), "none"}
		if a := t.Analysis; a != nil && a.LT2.Err == nil {
			row[1] = o.axis(width).At(a.LT2.Intensity.Value)
		}
		if i == 0 {
			out.Rows = append(out.Rows, append(row, "", "", "", "first test"))
			continue
		}
		verdict := short(t.BetweenDays.Verdict)
		if t.BetweenDays.Verdict == lactate.NoChangeSeen && t.Measured.Verdict != lactate.NoChangeSeen {
			verdict = "within days"
		}
		out.Rows = append(out.Rows, append(row, value(t.Measured.Shift.Value), interval(t.Measured.Shift, value), interval(t.BetweenDays.Shift, value), verdict))
	}
	out.Rows = append(out.Rows, []string{"trend in 4 weeks", "", value(s.Trend.Shift.Value), "", interval(s.Trend.Shift, value), short(s.Trend.Verdict)})
	out.Notes = append(out.Notes, bracket(s.Confidence)+"s: by measurement error alone, and with the variation from day to day. Within days: more than the measurement explains, and no more than two days may differ.")
	if !o.Pool.IsZero() {
		out.Notes = append(out.Notes, "Times at the LT2 of the first test, "+o.axis(width).Pace(s.Reference)+"/100 "+o.Pool.UnitSymbol()+", at the same lactate.")
	}
	return out
}
