package main

import (
	"fmt"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// Proposes reports that no test is proposed.
func (r *report) Proposes() bool { return false }

// pool is that of the latest test.
func (r *report) pool() pace.Pool { return r.Tests[len(r.Tests)-1].Pool }

// Text prints the season, the trend first.
func (r *report) Text(d command.Detail) string {
	return command.Sections(r.title(), r.season(d))
}

func (r *report) title() string {
	n := len(r.Tests)
	return command.Line("%s: %d tests from %s to %s", r.Tests[0].Swimmer, n, command.Day(r.Tests[0].Date), command.Day(r.Tests[n-1].Date))
}

func (r *report) season(d command.Detail) string {
	s, per := r.Season, r.pool().Per100()
	o := command.Tables(r.pool())
	least := command.Gain(lactate.Estimate{Value: s.Trend.Detectable}, s.Reference, per).Value
	trend := "Is there a trend, by a straight line through the tests?\n" + command.Indented("%s", table.Trend(s, o)) +
		command.Indented("Tests like these show a true trend along a line of %.1f s per %v every four weeks %.0f times in 100.", least, per, 100*s.Power)
	for _, text := range r.But {
		trend += table.Wrap("  But ", text+".", table.Width)
	}
	if r.Next != nil {
		at := lactate.Estimate{Value: s.Reference + r.Next.Shift.Value, Low: s.Reference + r.Next.Shift.Low, High: s.Reference + r.Next.Shift.High}
		clock := func(v float64) string { return table.Clock(per.Metres() / v) }
		trend += command.Indented("If it goes on: about %s, the lactate that came at %s per %v in the first test is expected at %s, %.0f in 100 between %s and %s. Outside that the line would not go on.",
			command.Day(r.Next.Date), clock(s.Reference), per, clock(at.Value), 100*s.Confidence, clock(at.Low), clock(at.High))
	}
	if d == command.Brief {
		return trend
	}
	o.Caption = "How far has the curve moved since the first test?"
	return command.Sections(trend, table.Season(s, o)[0].String(), command.List("What to doubt", r.Doubts.Doubts))
}

// Picture draws the season.
func (r *report) Picture(invented bool) (command.Picture, error) {
	return chart.Season(r.Season, chart.Options{
		Title: r.Tests[0].Swimmer, Subtitle: command.Invented(fmt.Sprintf("%d tests", len(r.Tests)), invented), Pool: r.pool(),
	})
}
