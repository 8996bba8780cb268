package main

import (
	"bytes"
	"fmt"
	"text/tabwriter"

	"example.com/steptest/examples/internal/command"
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

	fmt.Fprintf(b, "\nHas the curve moved?   (in brackets: where the true value lies with %.0f %% confidence)\n", 100*confidence)
	headline := map[string]string{
		"moved right": "Yes, to the right: more speed at the same lactate.",
		"moved left":  "Yes, to the left: less speed at the same lactate.",
	}[c.Measured.Verdict]
	if headline == "" {
		headline = "Not that these two tests could see."
	}
	fmt.Fprintf(b, "  %s\n", headline)
	fmt.Fprintf(b, "  By %s m/s, or %s %% of the speed at LT2.\n",
		command.Interval(c.Measured.Shift, command.Number(3)), command.Interval(c.Percent, command.Number(1)))
	fmt.Fprintf(b, "  At the same lactate that is, per %v, %s.\n", per, command.Faster(gain(c.Measured)))
	fmt.Fprintf(b, "  Two tests like these see %.1f s per %v or more, %.0f times in a hundred.\n", least(c.Measured), per, 100*power)

	fmt.Fprintf(b, "\nIs it more than one day differs from another?   (%.1f %% of speed from test to test)\n", 100*dayToDay)
	headline = map[string]string{
		"moved right": "Yes: the swimmer is faster than a good day explains.",
		"moved left":  "Yes: the swimmer is slower than a bad day explains.",
	}[c.Between.Verdict]
	if headline == "" {
		headline = "These two tests cannot say: two days may differ by as much."
	}
	fmt.Fprintf(b, "  %s\n", headline)
	fmt.Fprintf(b, "  Per %v, with that: %s; it would take %.1f s to be seen.\n", per, command.Faster(gain(c.Between)), least(c.Between))

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
		command.Paragraph(b, "  - ", fmt.Sprintf("one shape that moved fits both tests no worse than two of their own (p = %.2f)", *c.Shape.PValue))
	}
	command.Paragraph(b, "  - ", "a curve that moves right can mean a fitter swimmer, or less carbohydrate, a tired or an easier day: test fed and rested alike")
}

func beats(v *float64) string {
	if v == nil {
		return "-"
	}
	return fmt.Sprintf("%.0f", *v)
}
