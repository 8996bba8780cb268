package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// print writes the plan, the sheet or the page.
func (c *command) print(w io.Writer) error {
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
		return errors.Join(c.draw(*p), c.write(w, *p))
	}
	b, unable := p.Better(c.aim, c.expected, lactate.Options{}, protocol.Rules{})
	if unable != nil && (!errors.Is(unable, protocol.ErrForecast) || c.csv || c.page) {
		return unable
	}
	if unable != nil {
		b = &protocol.Better{Plan: *p, AsGood: true}
	}
	toSwim := *p
	if c.better {
		toSwim = b.Plan
	}
	if err := c.draw(toSwim); err != nil {
		return err
	}
	if c.csv || c.page {
		return c.write(w, b.Plan)
	}
	var out strings.Builder
	if c.invented {
		out.WriteString("Invented data. A swimmer of your own: go run ./examples/plan -best 4:56, or -last your-sheet.csv; -h for more\n\n")
	}
	c.title(&out, *p)
	c.targets(&out, *p, b)
	if unable != nil {
		fmt.Fprintf(&out, "\nWhat will it be able to tell?\n  %s\n", strings.TrimPrefix(unable.Error(), "protocol: "))
	} else {
		out.WriteString(asGood(c.aim, b))
		if err := c.telling(&out, *p, b); err != nil {
			return err
		}
	}
	out.WriteString("\nWhat should be thought of?\n")
	findings := p.Review(c.known)
	for _, f := range findings {
		fmt.Fprintf(&out, "  - %s\n", f)
	}
	if !b.AsGood {
		for _, f := range b.Plan.Review(c.known) {
			if f.Repeat > 0 && !slices.Contains(findings, f) {
				fmt.Fprintf(&out, "  - of the better plan: %s\n", f)
			}
		}
	}
	c.calendar(&out, *p, later)
	out.WriteString("\nCautions\n")
	for _, line := range protocol.Cautions() {
		fmt.Fprintf(&out, "  - %s\n", line)
	}
	_, err = io.WriteString(w, out.String())
	return err
}

// asGood says that there is no better plan, if so.
func asGood(aim protocol.Aim, b *protocol.Better) string {
	if !b.AsGood {
		return ""
	}
	return fmt.Sprintf("  Even steps are as good as any for the %s: no plan within the rules is 5 %% narrower without widening something else.\n", aim)
}

func (c *command) write(w io.Writer, p protocol.Plan) error {
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

func (c *command) title(out *strings.Builder, p protocol.Plan) {
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
func (c *command) targets(out *strings.Builder, p protocol.Plan, b *protocol.Better) {
	fmt.Fprintf(out, "\nWhat is to be swum?\n")
	t := tabwriter.NewWriter(out, 0, 0, 3, ' ', tabwriter.AlignRight)
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
	fmt.Fprintf(out, "  ~ all out: what is expected, not a limit. Warm-up %s. Rest %s", p.WarmUp, clock(rests[0]))
	if last := rests[len(rests)-1]; last != rests[0] {
		fmt.Fprintf(out, " to %s", clock(last))
	}
	fmt.Fprintf(out, ".\n  Samples: at rest, after each repeat")
	if len(p.After) > 0 {
		out.WriteString(", after the last one at")
		for i, a := range p.After {
			fmt.Fprintf(out, "%s %g", map[bool]string{true: ",", false: ""}[i > 0], a.Minutes())
		}
		out.WriteString(" min")
	}
	fmt.Fprintf(out, "; %d in all. %s from the first start to the last sample.\n", p.Samples(), clock(p.Duration()))
}

// telling says what either plan can tell.
func (c *command) telling(out *strings.Builder, p protocol.Plan, b *protocol.Better) error {
	o := lactate.Options{}
	plain, err := p.CanTell(c.expected, o)
	if err != nil {
		return err
	}
	better, err := b.Plan.CanTell(c.expected, o)
	if err != nil {
		return err
	}
	hundred := p.Pool.Per100()
	fmt.Fprintf(out, "\nWhat will it be able to tell?   (average half-width of the %.0f %% interval; noise of analyser, drop and watch as usual)\n", 100*plain.Confidence)
	t := tabwriter.NewWriter(out, 0, 0, 3, ' ', 0)
	head := fmt.Sprintf("  \texpected near, per %s\tthis plan\t", hundred)
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
			clock(pace.Speed(f.Speed.Value).Pace(hundred).Time.Round(100*time.Millisecond)), halfWidth(f, hundred), halfWidth(g, hundred))
	}
	at := plain.LT2.Speed.Value
	seconds := func(shift float64) string {
		d := pace.Speed(at).Pace(hundred).Time - pace.Speed(at+shift).Pace(hundred).Time
		return fmt.Sprintf("%.2f s (%.3f m/s)", d.Seconds(), shift)
	}
	row("smallest change of the curve it can show", "", seconds(plain.Shift.Detectable), seconds(better.Shift.Detectable))
	row("the same, where it moves from day to day too", "", seconds(plain.Shift.BetweenDays), seconds(better.Shift.BetweenDays))
	t.Flush()
	if !b.AsGood {
		fmt.Fprintf(out, "  The better plan makes %s as narrow as can be: %s. It trusts that the curve is exponential, and shows less of whether it is;\n  its repeats close together ask for even pacing.\n", c.aim, narrower(b))
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

func (c *command) calendar(out *strings.Builder, p protocol.Plan, later []time.Time) {
	if p.Date.IsZero() || c.tests < 1 {
		return
	}
	fmt.Fprintf(out, "\nWhen is the next?   (every %d weeks; six to eight are common practice)\n", c.request.Weeks)
	for _, d := range later {
		fmt.Fprintf(out, "  %s\n", d.Format("Monday 2 January 2006"))
	}
}
