package main

import (
	"bytes"
	"fmt"
	"text/tabwriter"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// WriteText prints the comparisons as text.
func (r *report) WriteText(b *bytes.Buffer) {
	for i, c := range r.Comparisons {
		if i > 0 {
			command.Rule(b)
		}
		c.write(b)
	}
}

func (c *comparison) write(b *bytes.Buffer) {
	per := c.pool.Per100()
	gain := func(j judgement) estimate {
		if per == 100*pace.Yard {
			return j.Per100Yd
		}
		return j.Per100M
	}
	least := func(j judgement) float64 {
		if per == 100*pace.Yard {
			return j.DetectablePer
		}
		return j.DetectablePer1M
	}
	fmt.Fprintf(b, "%s: %s (%s pool) and %s (%s pool), %d days apart\n",
		c.Swimmer, command.DayOf(c.Before.Date), c.Before.Pool, command.DayOf(c.After.Date), c.After.Pool, c.Days)

	fmt.Fprintf(b, "\nHas the curve moved?   (in brackets: %.0f %% confidence, by error of measurement alone)\n", 100*confidence)
	command.Paragraph(b, "  ", c.Answer)
	for _, text := range c.But {
		command.Paragraph(b, "  But ", text+".")
	}
	side, shift, percent := "Right", c.Measured.Shift, c.Percent
	if shift.Value < 0 {
		side, shift, percent = "Left", minus(shift), minus(percent)
	}
	command.Paragraph(b, "  ", fmt.Sprintf("%s by %s m/s, or %s %% of the speed at LT2: at the same lactate that is, per %v, %s.",
		side, command.Interval(shift, command.Number(3)), command.Interval(percent, command.Number(1)), per, command.Faster(gain(c.Measured))))
	command.Paragraph(b, "  ", fmt.Sprintf("Tests like these two see a true change of %.1f s per %v %.0f times in a hundred; that rests on the scatter of their own samples and on the stated noise, %s.",
		least(c.Measured), per, 100*power, stated()))

	fmt.Fprintf(b, "\nAnd with days that differ?   (by %.1f %% of speed from test to test)\n", 100*dayToDay)
	seen := "seen"
	if c.Between.Verdict == lactate.NoChangeSeen.String() {
		seen = "not seen"
	}
	command.Paragraph(b, "  ", fmt.Sprintf("Per %v, %s: %s. A true change of %.1f s is seen %.0f times in a hundred.",
		per, command.Faster(gain(c.Between)), seen, least(c.Between), 100*power))
	command.Paragraph(b, "  ", command.Seen(falseAlarms, confidence))

	fmt.Fprintf(b, "\nWhat became of the thresholds?   (per %v, each test read on its own exponential)\n", per)
	t := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	fmt.Fprintf(t, "  \tbefore\tafter\tgain\n")
	for _, ch := range c.Changes {
		method := ch.Method
		if ch.Taken != "" {
			method = ch.Taken + ", " + method
		}
		if ch.Problem != "" {
			fmt.Fprintf(t, "  %s\tnone: %s\n", method, ch.Problem)
			continue
		}
		e := ch.Per100M
		if per == 100*pace.Yard {
			e = ch.Per100Yd
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\n", method,
			command.Clock(per.Metres()/ch.Before.Value), command.Clock(per.Metres()/ch.After.Value), command.Faster(*e))
	}
	t.Flush()

	fmt.Fprintf(b, "\nWhat became of lactate and heart rate at the same speed?\n")
	t = tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	fmt.Fprintf(t, "  per %v\tlactate, mmol/L\tchange\theart rate, /min\n", per)
	for _, l := range c.Levels {
		fmt.Fprintf(t, "  %s\t%.1f to %.1f\t%s\t%s to %s\n", command.Clock(per.Metres()/l.Speed),
			l.LactateBefore.Value, l.LactateAfter.Value, command.Interval(l.LactateChange, command.Number(1)),
			beats(l.HeartRateBefore), beats(l.HeartRateAfter))
	}
	t.Flush()

	fmt.Fprintf(b, "\nBefore believing it\n")
	for _, text := range c.Cautions {
		command.Paragraph(b, "  - ", text)
	}
	switch {
	case c.Shape.PValue == nil:
		command.Paragraph(b, "  - ", "too few repeats to say whether the curve changed its shape too")
	case !c.Shape.Changed:
		command.Paragraph(b, "  - ", "a change of the curve's shape is not seen, which does not say that there is none")
	}
	command.Paragraph(b, "  - ", "a curve that moves right can mean a fitter swimmer, or less carbohydrate, a tired or an easier day: test fed and rested alike")
}

func minus(e estimate) estimate { return estimate{Value: -e.Value, Low: -e.High, High: -e.Low} }

// stated is the noise that the comparison rests on.
func stated() string {
	n := lactate.DefaultNoise()
	return fmt.Sprintf("%.1f mmol/L and %.0f %%", n.Absolute, 100*n.Relative)
}

func beats(v *float64) string {
	if v == nil {
		return "-"
	}
	return fmt.Sprintf("%.0f", *v)
}
