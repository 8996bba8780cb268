package table

import (
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
)

// Season returns what a season says, in two tables: a row for each test, with its
// LT2, how far the curve moved from the first test, the intervals with and without
// the variation from day to day, and the grade with it, and the trend as a last row; and
// the warnings.
func Season(s *lactate.Season, o Options) Tables {
	if s == nil {
		s = new(lactate.Season)
	}
	if len(s.Tests) > 0 {
		o = o.withUnitOf(s.Tests[0].Analysis)
	}
	o = o.withDefaults("how far has the curve moved since the first test?")
	return Tables{o.season(s), Warnings(s.Warnings, Options{Noun: o.Noun})}
}

// Trend says in plain words what the trend of a season comes to, days reckoned with.
func Trend(s *lactate.Season, o Options) string {
	if s == nil || len(s.Tests) == 0 {
		return ""
	}
	var width float64
	first := s.Tests[0].Analysis
	if first != nil {
		width = first.Highest - first.Lowest
	}
	o = o.withUnitOf(first).withDefaults("")
	moved, odds := o.axis(width).Sentences(s.Trend, s.Reference, " every four weeks", s.Confidence)
	return strings.TrimSpace(moved + " " + odds)
}

func (o Options) season(s *lactate.Season) Table {
	out := Table{Caption: o.Caption, Head: []Column{
		{"test", false}, {"LT2", true}, o.changeColumn(), {"samples alone", true}, {"with days", true}, {"grade", false},
	}}
	if len(s.Tests) == 0 {
		return out
	}
	var width float64
	if a := s.Tests[0].Analysis; a != nil {
		width = a.Highest - a.Lowest
	}
	value := o.changeText(s.Reference, width)
	for i, t := range s.Tests {
		row := []string{say.Day(t.Date), "none"}
		if a := t.Analysis; a != nil && a.LT2.Err == nil {
			row[1] = o.axis(width).At(a.LT2.Intensity.Value)
		}
		if i == 0 {
			out.Rows = append(out.Rows, append(row, "", "", "", "first test"))
			continue
		}
		out.Rows = append(out.Rows, append(row, value(t.Measured.Shift.Value), interval(t.Measured.Shift, value), interval(t.BetweenDays.Shift, value), t.BetweenDays.Grade.String()))
	}
	out.Rows = append(out.Rows, []string{"trend in 4 weeks", "", value(s.Trend.Shift.Value), "", interval(s.Trend.Shift, value), s.Trend.Grade.String()})
	out.Notes = append(out.Notes, bracket(s.Confidence)+"s: by measurement error alone, and with good and bad days.")
	if !o.Pool.IsZero() {
		out.Notes = append(out.Notes, "Times at the LT2 of the first test, "+o.axis(width).Pace(s.Reference)+"/100 "+o.Pool.UnitSymbol()+", at the same lactate.")
	}
	return out
}
