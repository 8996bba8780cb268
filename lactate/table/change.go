package table

import (
	"fmt"
	"math"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
)

// Change returns what a comparison says, in four tables: how far the curve moved
// between the tests, judged against measurement error alone and with the variation
// from day to day; how far each threshold moved; lactate and heart rate at equal
// intensities; and the warnings.
func Change(c *lactate.Change, o Options) Tables {
	if c == nil {
		c = new(lactate.Change)
	}
	o = o.withUnitOf(c.Before).withDefaults("how far has the curve moved?")
	return Tables{o.movedTable(c), o.movedThresholds(c), o.levels(c), Warnings(c.Warnings, Options{Noun: o.Noun})}
}

// Answer says in plain words what a comparison comes to: how far the curve moved
// and how sure that is, days reckoned with, the odds, and whether to test again.
func Answer(c *lactate.Change, o Options) string {
	if c == nil || c.Before == nil {
		return ""
	}
	o = o.withUnitOf(c.Before).withDefaults("")
	a := o.axis(c.Before.Highest - c.Before.Lowest)
	moved, odds := a.Sentences(c.BetweenDays, c.Reference, "", c.Confidence)
	s := strings.TrimSpace(moved + " " + odds)
	switch g := c.BetweenDays.Grade; {
	case g.Sure():
	case g == lactate.CannotTell && c.Measured.Grade.Sure():
		s += " The samples alone would say " + c.Measured.Grade.String() + ", but days alone can differ as much."
	case g == lactate.CannotTell:
		s += fmt.Sprintf(" If the true change were %s %s, two such tests would say plainly faster or slower %.3g times in 100.", strings.TrimLeft(o.changeText(c.Reference, a.Span)(c.BetweenDays.Detectable), "+"), a.Change(), 100*c.Power)
	}
	if c.TestAgain() {
		s += " Test again."
	}
	return s
}

// InHundred says a probability: "94 in 100", "more than 99 in 100".
func InHundred(p float64) string { return say.InHundred(p) }

// Alone says what a comparison comes to by measurement error alone, as if no two days
// differed.
func Alone(c *lactate.Change, o Options) string {
	if c == nil || c.Before == nil {
		return ""
	}
	o = o.withUnitOf(c.Before).withDefaults("")
	return c.Measured.Grade.String() + ", " + o.axis(c.Before.Highest-c.Before.Lowest).SizeAndBracket(c.Measured, c.Reference, "", c.Confidence)
}

// changeColumn heads the column of a change.
func (o Options) changeColumn() Column {
	if !o.Pool.IsZero() {
		return Column{"s per 100 " + o.Pool.UnitSymbol() + " faster", true}
	}
	return Column{"change, " + o.Unit, true}
}

func (o Options) movedTable(c *lactate.Change) Table {
	out := Table{Caption: o.Caption, Head: []Column{
		{"at the same lactate", false}, o.changeColumn(), {bracket(c.Confidence), true}, {"in 100 faster", true}, {"least *", true}, {"grade", false},
	}}
	if c.Before == nil {
		return out
	}
	width := c.Before.Highest - c.Before.Lowest
	value := o.changeText(c.Reference, width)
	for i, j := range []lactate.Judgement{c.Measured, c.BetweenDays} {
		out.Rows = append(out.Rows, []string{[2]string{"measurement error alone", "with day-to-day variation"}[i], value(j.Shift.Value), interval(j.Shift, value),
			inHundred(j.Probability), value(j.Detectable), j.Grade.String()})
	}
	out.Notes = append(out.Notes, "* "+say.Seen(c.Power)+".")
	if !o.Pool.IsZero() {
		out.Notes = append(out.Notes, "Times at the LT2 of the first test, "+o.axis(width).Pace(c.Reference)+"/100 "+o.Pool.UnitSymbol()+".")
	}
	return out
}

func (o Options) movedThresholds(c *lactate.Change) Table {
	out := Table{Caption: "how far have the thresholds moved, each test on its own curve?", Head: []Column{{"definition", false},
		{o.place().Name + ", before", true}, {"after", true}, o.changeColumn(), {bracket(c.Confidence), true}}}
	if c.Before == nil {
		return out
	}
	width := c.Before.Highest - c.Before.Lowest
	named := map[string]bool{} // LT1 and LT2 come first and may come again among the methods
	var names []string
	for i, th := range c.Thresholds {
		name := Method(th.Method)
		if i > 1 && named[name] {
			continue
		}
		named[name] = true
		names = append(names, name)
		if i < 2 {
			name = [2]string{"LT1: ", "LT2: "}[i] + name
		}
		row := []string{name}
		if th.Err != nil {
			row = append(row, "none")
			out.Notes = append(out.Notes, because(name, th.Method, th.Err))
		} else {
			at := o.changeText(th.Before.Value, width)
			row = append(row, o.axis(width).At(th.Before.Value), o.axis(width).At(th.After.Value), at(th.Change.Value), interval(th.Change, at))
		}
		out.Rows = append(out.Rows, row)
	}
	out.Notes = append(out.Notes, footnotes(names)...)
	return out
}

// changeText returns the words for a change of an intensity: seconds less per 100
// of the pool, or the number itself.
func (o Options) changeText(reference, width float64) func(float64) string {
	return func(v float64) string {
		if !say.Finite(v) {
			return ""
		}
		if !o.Pool.IsZero() {
			return o.axis(width).Gain(reference, v)
		}
		return say.Signed(v, say.Decimals(width))
	}
}

func interval(e lactate.Estimate, value func(float64) string) string {
	if !e.HasInterval() {
		return ""
	}
	if !say.Finite(e.Low) && !say.Finite(e.High) {
		return "open"
	}
	end := func(v float64) string {
		if !say.Finite(v) {
			return "open"
		}
		return value(v)
	}
	return end(e.Low) + " to " + end(e.High)
}

// inHundred is a probability for a column.
func inHundred(p float64) string {
	s := strings.TrimSuffix(say.InHundred(p), " in 100")
	return strings.NewReplacer("more than", ">", "less than", "<").Replace(s)
}

func (o Options) levels(c *lactate.Change) Table {
	out := Table{Caption: "lactate and heart rate at the same " + o.Quantity + ", before and after", Head: []Column{o.place(),
		{"mmol/L before", true}, {"after", true}, {"change", true}, {"/min before", true}, {"after", true}, {"change", true}}}
	var vs []float64
	for _, l := range c.Levels {
		vs = append(vs, l.Intensity)
	}
	width := span(vs...)
	change := func(e lactate.Estimate, decimals int) string {
		if !say.Finite(e.Value) {
			return ""
		}
		return Within(e, func(v float64) string { return say.Signed(v, decimals) })
	}
	for _, l := range c.Levels {
		out.Rows = append(out.Rows, []string{o.axis(width).At(l.Intensity),
			optional(l.LactateBefore.Value, 1), optional(l.LactateAfter.Value, 1), change(l.LactateChange, 1),
			optional(l.HeartRateBefore, 0), optional(l.HeartRateAfter, 0), change(lactate.Estimate{Value: l.HeartRateChange, Low: math.NaN(), High: math.NaN()}, 0)})
	}
	return out
}
