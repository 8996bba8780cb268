package main

import (
	"fmt"
	"math"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/lactate/table"
)

// Proposes reports whether the answer is to test again.
func (r *report) Proposes() bool { return r.Change.Measured.Verdict != r.Change.BetweenDays.Verdict }

func (r *report) days() int {
	return int(math.Round(r.After.Date.Sub(r.Before.Date).Hours() / 24))
}

// Text prints the comparison, the answer first.
func (r *report) Text(d command.Detail) string {
	c, per := r.Change, r.After.Pool.Per100()
	title := command.Line("%s: %s (%v pool) and %s (%v pool), %d days apart", r.After.Swimmer,
		command.Day(r.Before.Date), r.Before.Pool, command.Day(r.After.Date), r.After.Pool, r.days())
	said := "Has the curve moved?\n" + command.Indented("%s", answer(c))
	for _, text := range r.But {
		said += table.Wrap("  But ", text+".", table.Width)
	}
	number := func(decimals int) func(float64) string {
		return func(v float64) string { return table.Number(v, decimals) }
	}
	side, shift, percent := "Right", c.Shift, c.Percent()
	if shift.Value < 0 {
		side, shift, percent = "Left", minus(shift), minus(percent)
	}
	said += command.Indented("%s by %s m/s, or %s %% of the speed at LT2. At the same lactate, per %v: %s.", side,
		table.Within(shift, number(3)), table.Within(percent, number(1)), per, table.Faster(c.SecondsPer(per.Metres())))
	o := command.Tables(r.After.Pool)
	o.Caption = "Judged by measurement alone, and with days that differ"
	found := table.Change(c, o)
	found[0].Notes = append(found[0].Notes, command.Seen(c.FalseAlarms, c.Confidence))
	if d == command.Brief {
		return command.Sections(title, said)
	}
	found[1].Caption = "What became of the thresholds?   (each test read on its own curve)"
	found[2].Caption = "What became of lactate and heart rate at the same speed?"
	return command.Sections(title, said, found[:3].String(), command.List("What to doubt", r.Doubts.Doubts))
}

// answer weighs both judgements: whether the two curves differ, and whether the
// swimmer has changed by more than two days may differ.
func answer(c *lactate.Change) string {
	faster, side := "faster", "more speed at the same lactate"
	if c.Shift.Value < 0 {
		faster, side = "slower", "less speed at the same lactate"
	}
	measured, between := c.Measured.Verdict != lactate.NoChangeSeen, c.BetweenDays.Verdict != lactate.NoChangeSeen
	switch {
	case measured && between:
		return "Yes, " + faster + ": " + side + ", by more than two days may differ."
	case measured:
		return "Probably " + faster + ": " + side + ". A different day alone could do this. Test again."
	case between:
		// The noise of the days is stated, that of the samples is learnt from
		// few of them: seldom, the sum is the surer of the two.
		return "Perhaps " + faster + ": " + side + ", but these samples alone do not show it. Test again."
	}
	return "Not that these two tests could see."
}

func minus(e lactate.Estimate) lactate.Estimate {
	return lactate.Estimate{Value: -e.Value, Low: -e.High, High: -e.Low}
}

// Picture draws the comparison.
func (r *report) Picture(invented bool) (command.Picture, error) {
	return chart.TwoTests(r.first, r.second, r.Change, chart.Options{
		Title: r.After.Swimmer, Subtitle: command.Invented(fmt.Sprintf("two tests, %d days apart", r.days()), invented),
		Pool: r.After.Pool, Before: command.Day(r.Before.Date), After: command.Day(r.After.Date),
	})
}
