package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// print writes the plan, the sheet or the page.
func (c *planned) print(w io.Writer) error {
	p, err := protocol.NewPlan(c.request)
	if err != nil {
		return err
	}
	later := []time.Time(nil)
	if !p.Date.IsZero() {
		if later, err = protocol.Schedule(p.Date, c.request.Weeks, max(c.tests, 1), c.avoid...); err != nil {
			return err
		}
		p.Next = later[0]
	}
	if (c.csv || c.page) && !c.better {
		return errors.Join(c.draw(p), c.write(w, p))
	}
	b, unable := p.Better(c.aim, c.expected, lactate.Options{}, protocol.Rules{})
	if unable != nil && (!errors.Is(unable, protocol.ErrForecast) || c.csv || c.page) {
		return unable
	}
	if unable != nil {
		b = &protocol.Better{Plan: p, AsGood: true}
	}
	toSwim := p
	if c.better {
		toSwim = b.Plan
	}
	if err := c.draw(toSwim); err != nil {
		return err
	}
	if c.csv || c.page {
		return c.write(w, b.Plan)
	}
	var out bytes.Buffer
	if c.invented {
		command.Paragraph(&out, "", "Invented data. A swimmer of your own: go run ./examples/plan -best 4:56, or -last your-sheet.csv; -h for more")
		out.WriteString("\n")
	}
	c.title(&out, p)
	for _, note := range c.notes {
		command.Paragraph(&out, "  ", note+".")
	}
	c.targets(&out, p, b)
	if unable != nil {
		out.WriteString("\nWhat will it be able to tell?\n")
		command.Paragraph(&out, "  ", strings.TrimPrefix(unable.Error(), "protocol: "))
	} else {
		asGood(&out, c.aim, b)
		if err := c.telling(&out, p, b); err != nil {
			return err
		}
	}
	out.WriteString("\nWhat should be thought of?\n")
	findings := p.Review(c.known)
	for _, f := range findings {
		command.Paragraph(&out, "  - ", f.String())
	}
	if !b.AsGood {
		for _, f := range b.Plan.Review(c.known) {
			if len(f.Stages) > 0 && !slices.ContainsFunc(findings, func(g lactate.Warning) bool { return g.String() == f.String() }) {
				command.Paragraph(&out, "  - ", "of the better plan: "+f.String())
			}
		}
	}
	c.calendar(&out, p, later)
	out.WriteString("\nCautions\n")
	for _, line := range protocol.Cautions() {
		command.Paragraph(&out, "  - ", line)
	}
	for line := range strings.Lines(out.String()) { // tables end in blanks
		if _, err := io.WriteString(w, strings.TrimRight(line, " \n")+"\n"); err != nil {
			return err
		}
	}
	return nil
}

// asGood says that there is no better plan, if so.
func asGood(out *bytes.Buffer, aim protocol.Aim, b *protocol.Better) {
	if b.AsGood {
		command.Paragraph(out, "  ", fmt.Sprintf("Even steps are as good as any for the %s: no plan within the rules is 5 %% narrower without widening something else.", aim))
	}
}

func (c *planned) write(w io.Writer, p protocol.Plan) error {
	if c.csv {
		var missing []string
		if p.Swimmer == "" {
			missing = append(missing, "-swimmer")
		}
		if p.Date.IsZero() {
			missing = append(missing, "-date")
		}
		if missing != nil {
			return fmt.Errorf("-csv: give %s too: a sheet has a name and a day in every row", strings.Join(missing, " and "))
		}
		return p.WriteSheet(w)
	}
	return p.WriteText(w)
}

func (c *planned) title(out *bytes.Buffer, p protocol.Plan) {
	out.WriteString("Plan of a step test")
	if p.Swimmer != "" {
		fmt.Fprintf(out, " of %s", p.Swimmer)
	}
	if !p.Date.IsZero() {
		fmt.Fprintf(out, " on %s", p.Date.Format("2 January 2006"))
	}
	fmt.Fprintf(out, ", %s pool", p.Pool)
	if c.last != "" {
		fmt.Fprintf(out, ", after %s", c.last)
	}
	out.WriteString("\n")
}

func clock(t time.Duration) string {
	if t%time.Second == 0 {
		return pace.FormatTime(t, 0)
	}
	return pace.FormatTime(t, 1)
}

// targets puts the plan and the better one side by side.
func (c *planned) targets(out *bytes.Buffer, p protocol.Plan, b *protocol.Better) {
	fmt.Fprintf(out, "\nWhat is to be swum?\n")
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	unit := p.Pool.UnitSymbol()
	head := fmt.Sprintf("  repeat\tdistance\tleave\ttarget\tper 100 %s\tper length\t", unit)
	if !b.AsGood {
		head += "|\tbetter: leave\ttarget\tper 100 " + unit + "\t"
	}
	fmt.Fprintln(t, head)
	for i, r := range p.Repeats {
		note := ""
		if r.AllOut {
			note = "~"
		}
		row := fmt.Sprintf("  %d\t%s\t%s\t%s\t%s\t%s\t", r.Number, r.Distance, clock(r.Leave), note+clock(r.Time),
			pace.FormatTime(r.Split(p.Pool.Per100()), 1), pace.FormatTime(r.Split(p.Pool.Length()), 1))
		if !b.AsGood {
			q := b.Plan.Repeats[i]
			row += fmt.Sprintf("|\t%s\t%s\t%s\t", clock(q.Leave), note+clock(q.Time), pace.FormatTime(q.Split(p.Pool.Per100()), 1))
		}
		fmt.Fprintln(t, row)
	}
	t.Flush()
	rests := p.Rest()
	note := fmt.Sprintf("~ all out: what is expected, not a limit. Warm-up %s. Rest %s", p.WarmUp, clock(rests[0]))
	if last := rests[len(rests)-1]; last != rests[0] {
		note += " to " + clock(last)
	}
	note += ". Samples: at rest, after each repeat"
	if len(p.After) > 0 {
		note += ", after the last one at"
		for i, a := range p.After {
			note += fmt.Sprintf("%s %g", map[bool]string{true: ",", false: ""}[i > 0], a.Minutes())
		}
		note += " min"
	}
	command.Paragraph(out, "  ", fmt.Sprintf("%s; %d in all. %s from the first start to the last sample.", note, p.Samples(), clock(p.Duration())))
}

// telling says what either plan can tell.
func (c *planned) telling(out *bytes.Buffer, p protocol.Plan, b *protocol.Better) error {
	o := lactate.Options{}
	plain, err := p.Outlook(c.expected, o)
	if err != nil {
		return err
	}
	better, err := b.Plan.Outlook(c.expected, o)
	if err != nil {
		return err
	}
	hundred := p.Pool.Per100()
	fmt.Fprintf(out, "\nWhat will it be able to tell?   (average half-width of the %.0f %% interval)\n", 100*plain.Confidence)
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	head := fmt.Sprintf("  \tnear, per %s\tthis plan\t", hundred)
	if !b.AsGood {
		head += "better\t"
	}
	fmt.Fprintln(t, head)
	row := func(name, near, here, there string) {
		if b.AsGood {
			fmt.Fprintf(t, "  %s\t%s\t%s\t\n", name, near, here)
			return
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t\n", name, near, here, there)
	}
	for i, f := range []protocol.Forecast{plain.LT1, plain.LT2} {
		g := []protocol.Forecast{better.LT1, better.LT2}[i]
		row([]string{"LT1", "LT2"}[i]+" ("+f.Method.String()+")",
			pace.FormatTime(pace.Speed(f.Speed.Value).Pace(hundred).Time, 1), halfWidth(f, hundred), halfWidth(g, hundred))
	}
	at := plain.LT2.Speed.Value
	seconds := func(shift float64) string {
		if shift == 0 {
			return "none"
		}
		d := pace.Speed(at).Pace(hundred).Time - pace.Speed(at+shift).Pace(hundred).Time
		return fmt.Sprintf("%.2f s (%.3f m/s)", d.Seconds(), shift)
	}
	row("smallest change it can show", "", seconds(plain.Shift.Detectable), seconds(better.Shift.Detectable))
	row("the same, where days differ too", "", seconds(plain.Shift.BetweenDays), seconds(better.Shift.BetweenDays))
	t.Flush()
	if v := c.request.Threshold; v != (pace.Pace{}) {
		command.Paragraph(out, "  ", fmt.Sprintf("The LT2 that was given, %s per 100 %s, set the targets. Near is where the curves of swimmers at large have their thresholds between these ends, by the definitions named: no test is there yet to say where this swimmer's are.",
			pace.FormatTime(v.Time, -1), p.Pool.UnitSymbol()))
	}
	n := lactate.DefaultNoise()
	command.Paragraph(out, "  ", fmt.Sprintf("These numbers rest on the stated noise alone (%g mmol/L and %.0f %% for analyser and drop, printed to %g mmol/L, %g s for the watch): no sample of this test is there yet to say how far they scatter. What a comparison of two swum tests could have seen rests on their own scatter too, and may be more or less.",
		n.Absolute, 100*n.Relative, n.Resolution, n.Timing.Seconds()))
	for _, i := range plain.LeftOut {
		command.Paragraph(out, "  ", fmt.Sprintf("The test of %s bends so differently from the last that it is not used here.", command.Day(c.days[i])))
	}
	if !b.AsGood {
		command.Paragraph(out, "  ", fmt.Sprintf("The better plan makes %s as narrow as can be: %s. It trusts that the curve is exponential, and shows less of whether it is; its repeats close together ask for even pacing.", c.aim, narrower(b)))
	}
	return nil
}

// halfWidth gives half an interval of a speed as a pace.
func halfWidth(f protocol.Forecast, per pace.Length) string {
	d := pace.Speed(f.Speed.Low).Pace(per).Time - pace.Speed(f.Speed.High).Pace(per).Time
	return fmt.Sprintf("± %.2f s", d.Seconds()/2)
}

func narrower(b *protocol.Better) string {
	var parts []string
	for _, r := range []struct {
		name  string
		ratio float64
	}{{"LT2", b.LT2}, {"LT1", b.LT1}, {"shift", b.Shift}} {
		parts = append(parts, fmt.Sprintf("%s %.0f %%", r.name, 100*(1-r.ratio)))
	}
	return strings.Join(parts, ", ") + " narrower than even steps"
}

func (c *planned) calendar(out *bytes.Buffer, p protocol.Plan, later []time.Time) {
	if p.Date.IsZero() || c.tests < 1 {
		return
	}
	every := "week"
	if n := c.request.Weeks; n != 1 {
		every = fmt.Sprintf("%d weeks", n)
	}
	fmt.Fprintf(out, "\nWhen is the next?   (every %s; six to eight weeks are common practice)\n", every)
	for _, d := range later {
		fmt.Fprintf(out, "  %s\n", d.Format("Monday 2 January 2006"))
	}
}
