package main

import (
	"fmt"
	"math"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// Proposes reports whether the answer is to test again.
func (r *report) Proposes() bool { return r.Change.TestAgain() }

// Text prints the comparison, the answer first.
func (r *report) Text(d command.Detail) string {
	c, per := r.Change, r.After.Pool.Per100()
	title := command.Line("%s: %s (%v pool) and %s (%v pool), %d days apart", r.After.Swimmer,
		table.Day(r.Before.Date), r.Before.Pool, table.Day(r.After.Date), r.After.Pool, command.DaysBetween(r.Before, r.After))
	o := command.Tables(r.After.Pool)
	said := "Has the curve moved?\n"
	for _, text := range r.Differences {
		said += command.Indented("%s.", table.Capital(text))
	}
	if len(r.Differences) > 0 {
		said += "  If that made no difference:\n"
	}
	said += command.Indented("%s", table.Answer(c, o))
	if p := c.BetweenDays.BeyondMeaningful; c.BetweenDays.Grade != lactate.CannotTell {
		size := pace.Saved(per, pace.Speed(c.Reference), pace.Speed(c.Reference+math.Copysign(c.Meaningful, float64(c.BetweenDays.Grade))))
		side := "faster"
		if c.BetweenDays.Grade < 0 {
			side = "slower"
		}
		said += command.Indented("That you are %s by more than %.1f s per %v: %s.", side, math.Abs(size), per, table.InHundred(p))
	}
	for _, text := range r.But {
		said += table.Wrap("  But ", text+".", table.Width)
	}
	said += command.Indented("If all days were alike, which they are not: %s.", table.Alone(c, o))
	o.Caption = "Judged by measurement alone, and with days that differ"
	found := table.Change(c, o)[:3] // its warnings are told above and below
	shift, thresholds, samples := &found[0], &found[1], &found[2]
	shift.Notes = append(shift.Notes, fmt.Sprintf("As speeds, by measurement alone: %s m/s, or %s %% of the speed at LT2.",
		table.Within(c.Shift, func(v float64) string { return table.Number(v, 3) }), table.Within(c.Percent(), func(v float64) string { return table.Number(v, 1) })),
		fmt.Sprintf("Days: a swimmer's speed at one lactate is taken to differ by %.1f %% from day to day.", 100*r.options.DayToDay))
	if d == command.Brief {
		return command.Sections(title, said)
	}
	thresholds.Caption = "What became of the thresholds?   (each test read on its own curve)"
	samples.Caption = "What became of lactate and heart rate at the same speed?"
	return command.Sections(title, said, found.String(), command.List("What to doubt", r.Doubts.Doubts))
}

// Pictures draws the comparison.
func (r *report) Pictures(invented bool) []command.Drawing {
	return []command.Drawing{func() (command.Picture, error) {
		return chart.TwoTests(r.Change, chart.Options{
			Title: r.After.Swimmer, Subtitle: command.Invented(fmt.Sprintf("two tests, %d days apart", command.DaysBetween(r.Before, r.After)), invented),
			Pool: r.After.Pool, Before: table.Day(r.Before.Date), After: table.Day(r.After.Date),
		})
	}}
}
