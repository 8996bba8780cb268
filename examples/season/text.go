package main

import (
	"fmt"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// Proposes reports whether a test is worth its blood.
func (r *report) Proposes() bool { return r.Due != nil && r.Due.Worth() }

// pool is that of the latest test.
func (r *report) pool() pace.Pool { return r.Tests[len(r.Tests)-1].Pool }

// Text prints where the curve is now, then the season, the trend first, then the readings.
func (r *report) Text(d command.Detail) string {
	n := len(r.Tests)
	title := command.Line("%s: %d tests from %s to %s", r.Tests[0].Swimmer, n, table.Day(r.Tests[0].Date), table.Day(r.Tests[n-1].Date))
	return command.Sections(title, r.today(), r.season(d), r.readings(d))
}

func (r *report) season(d command.Detail) string {
	s, per := r.Season, r.pool().Per100()
	o := command.Tables(r.pool())
	least := pace.Saved(per, pace.Speed(s.Reference), pace.Speed(s.Reference+s.Trend.Detectable))
	trend := "Is there a trend, by a straight line through the tests?\n" + command.Indented("%s", table.Trend(s, o)) +
		command.Indented("Tests like these show a true trend along a line of %.1f s per %v every four weeks %.0f times in 100.", least, per, 100*s.Power)
	for _, text := range r.But {
		trend += table.Wrap("  But ", text+".", table.Width)
	}
	if r.Next != nil {
		clock := func(shift float64) string { return table.Clock(per.Metres() / (s.Reference + shift)) }
		trend += command.Indented("If it goes on: about %s, the lactate that came at %s per %v in the first test is expected at %s, %.0f in 100 between %s and %s.",
			table.Day(r.Next.Date), clock(0), per, clock(r.Next.Shift.Value), 100*s.Confidence, clock(r.Next.Shift.Low), clock(r.Next.Shift.High))
	}
	if d == command.Brief {
		return trend
	}
	o.Caption = "How far has the curve moved since the first test?"
	return command.Sections(trend, table.Season(s, o)[0].String(), command.List("What to doubt", r.Doubts.Doubts))
}

// Pictures draws where the curve is between the tests, if there are readings, and the
// season.
func (r *report) Pictures(invented bool) (all []command.Drawing) {
	tests := fmt.Sprintf("%d tests", len(r.Tests))
	o := chart.Options{Title: r.Tests[0].Swimmer, Subtitle: command.Invented(tests, invented), Pool: r.pool()}
	if r.Course != nil {
		course := o
		course.Subtitle = command.Invented(fmt.Sprintf("%s and %d readings", tests, len(r.Course.Readings)), invented)
		all = append(all, func() (command.Picture, error) { return chart.Between(r.Course, r.Due.Place.Date, course) })
	}
	return append(all, func() (command.Picture, error) { return chart.Season(r.Season, o) })
}
