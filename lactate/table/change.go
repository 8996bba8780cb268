package table

import (
	"fmt"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
)

// Change returns how far the curve moved between two tests, judged against
// measurement error alone and with the variation from day to day, and below
// that, how far each threshold moved.
func Change(c *lactate.Change, o Options) Table {
	o = o.withDefaults("has the curve moved?")
	unit := o.Unit
	if !o.Pool.IsZero() {
		unit = "s per 100 " + o.Pool.UnitSymbol() + " faster"
	}
	given := c != nil
	if !given {
		c = new(lactate.Change)
	}
	out := Table{Caption: o.Caption, Head: []Column{
		{"what", false}, {"change, " + unit, true}, {say.Interval(c.Confidence), true}, {"p", true}, {say.Seen(c.Power), true}, {"verdict", false},
	}}
	if !given {
		return out
	}
	width := 0.1
	if c.Before != nil {
		width = c.Before.Highest - c.Before.Lowest
	}
	value := o.changed(c.Reference, width)
	for _, j := range []struct {
		name string
		lactate.Judgement
	}{{"shift of the curve, measurement error alone", c.Measured}, {"shift of the curve, with day-to-day variation", c.BetweenDays}} {
		out.Rows = append(out.Rows, []string{j.name, value(j.Shift.Value), interval(j.Shift, value),
			probability(j.PValue), value(j.Detectable), j.Verdict.String()})
	}
	named := map[string]bool{} // LT1 and LT2 come first and may come again among the methods
	for i, th := range c.Thresholds {
		name := say.Method(th.Method)
		if i > 1 && named[name] {
			continue
		}
		named[name] = true
		if i < 2 {
			name = [2]string{"LT1: ", "LT2: "}[i] + name
		}
		row := []string{name}
		if th.Err != nil {
			row[0] += ": " + say.Reason(th.Err)
		} else {
			at := value
			if say.Finite(th.Before.Value) {
				at = o.changed(th.Before.Value, width)
			}
			row = append(row, at(th.Change.Value), interval(th.Change, at))
		}
		out.Rows = append(out.Rows, row)
	}
	if !o.Pool.IsZero() {
		out.Notes = append(out.Notes, "Shifts as times at "+o.axis(width).Pace(c.Reference)+"/100 "+o.Pool.UnitSymbol()+".")
	}
	for _, w := range c.Warnings {
		out.Notes = append(out.Notes, w.String()+".")
	}
	return out
}

// changed returns the words for a change of an intensity: seconds less per 100
// of the pool, or the number itself.
func (o Options) changed(reference, width float64) func(float64) string {
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
	end := func(v float64) string {
		if !say.Finite(v) {
			return "open"
		}
		return value(v)
	}
	return end(e.Low) + " to " + end(e.High)
}

func probability(p float64) string {
	switch {
	case !say.Finite(p):
		return ""
	case p < 0.001:
		return "< 0.001"
	}
	return fmt.Sprintf("%.3f", p)
}

// Levels returns lactate and heart rate of two tests at equal intensities.
func Levels(c *lactate.Change, o Options) Table {
	o = o.withDefaults("the same intensities, before and after")
	out := Table{Caption: o.Caption, Head: append(o.intensity(),
		Column{"lactate before, mmol/L", true}, Column{"after", true}, Column{"change", true},
		Column{"heart rate before, /min", true}, Column{"after", true}, Column{"change", true})}
	if c == nil {
		return out
	}
	var vs []float64
	for _, l := range c.Levels {
		vs = append(vs, l.Intensity)
	}
	width := span(vs...)
	change := func(v float64, decimals int) string {
		if !say.Finite(v) {
			return ""
		}
		return say.Signed(v, decimals)
	}
	for _, l := range c.Levels {
		out.Rows = append(out.Rows, append(o.at(l.Intensity, width),
			optional(l.LactateBefore.Value, 1), optional(l.LactateAfter.Value, 1), change(l.LactateChange.Value, 1),
			optional(l.HeartRateBefore, 0), optional(l.HeartRateAfter, 0), change(l.HeartRateChange, 0)))
	}
	return out
}
