package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// print writes the plan, the sheet or the page.
func (c *planned) print(w io.Writer) error {
	if c.squad {
		return c.printSquad(w)
	}
	p, spacing, later, err := c.plan()
	if err != nil {
		return err
	}
	if err := c.draw(p); err != nil {
		return err
	}
	switch {
	case c.page:
		return p.WriteText(w)
	case c.csv && (p.Swimmer == "" || p.Date.IsZero()):
		missing := map[bool]string{true: "-swimmer", false: "-date"}[p.Swimmer == ""]
		if p.Swimmer == "" && p.Date.IsZero() {
			missing = "-swimmer and -date"
		}
		return fmt.Errorf("-csv: give %s too: a sheet has a name and a day in every row", missing)
	case c.csv:
		return sheet.WritePlan(w, p)
	}
	text, err := c.text(p, spacing, later)
	if err == nil {
		err = command.Print(w, text)
	}
	return err
}

// plan makes the plan, the spacing of its repeats if that is wanted and can be said,
// and the days of the tests after it.
func (c *planned) plan() (p protocol.Plan, spacing *protocol.Spacing, later []time.Time, err error) {
	if p, err = protocol.NewPlan(c.request); err != nil {
		return p, nil, nil, err
	}
	if !p.Date.IsZero() {
		if later, err = protocol.Schedule(p.Date, c.request.Weeks, max(c.tests, 1), c.avoid...); err != nil {
			return p, nil, nil, err
		}
		p.Next = later[0]
	}
	if !c.spaced && (c.csv || c.page || c.squad) {
		return p, nil, later, nil
	}
	spacing, err = p.Space(c.expected, lactate.Options{}, forecast.Rules{})
	if err != nil && (c.spaced || !errors.Is(err, forecast.ErrNoAnswer)) {
		return p, nil, nil, err
	}
	if c.spaced {
		p.Repeats = spacing.Plan.Repeats
	}
	return p, spacing, later, nil
}

// text is the report on a plan, with a hint on its spacing if there is one.
func (c *planned) text(p protocol.Plan, spacing *protocol.Spacing, later []time.Time) (string, error) {
	invented := ""
	if c.drawn.Stages != nil && c.file == "" {
		invented = command.Line("Invented data. A swimmer of your own: go run ./examples/plan -best 4:56, or -last your-sheet.csv; -h for more")
	}
	title := command.Line("%s", c.title(p))
	for _, note := range c.notes {
		title += command.Indented("%s.", note)
	}
	telling, err := c.telling(p)
	if err != nil {
		return "", err
	}
	var findings []string
	for _, w := range p.Review(c.known) {
		findings = append(findings, w.String())
	}
	return command.Sections(invented, title, c.targets(p, spacing).String(), telling,
		command.List("What should be thought of?", findings), c.calendar(p, later), command.List("Before swimming it", protocol.Cautions())), nil
}

// telling says what the plan can tell.
func (c *planned) telling(p protocol.Plan) (string, error) {
	plain, err := p.Outlook(c.expected, lactate.Options{})
	if errors.Is(err, forecast.ErrNoAnswer) {
		return "What will it be able to tell?\n" + command.Indented("%s", table.Bare(err)), nil
	}
	if err != nil {
		return "", err
	}
	t := p.OutlookTable(plain)
	note := func(format string, args ...any) { t.Notes = append(t.Notes, fmt.Sprintf(format, args...)) }
	if v := c.request.Threshold; v != (pace.Pace{}) {
		note("The LT2 that was given, %s per 100 %s, set the targets. Near: where swimmers at large have their thresholds between these ends, by the definitions named. No test is there yet to say where this swimmer's are.",
			pace.FormatTime(v.Time, -1), p.Pool.UnitSymbol())
	}
	if c.last != "" {
		note("Near: where the next test should find them, averaged over the curves that fit the last one. A tenth off what that one reads is no change.")
	}
	n := lactate.DefaultNoise()
	note("These numbers rest on the stated noise alone (%g mmol/L and %.0f %% for analyser and drop, printed to %g mmol/L, %g s for the watch). A comparison of two swum tests rests on the scatter of their samples too, and may see more or less.",
		n.Absolute, 100*n.Relative, n.Resolution, n.Timing.Seconds())
	for _, i := range plain.LeftOut {
		note("The test of %s bends so differently from the last that it is not used here.", table.Day(c.days[i]))
	}
	return t.String(), nil
}

func (c *planned) title(p protocol.Plan) string {
	title := "Plan of a step test"
	if p.Swimmer != "" {
		title += " of " + p.Swimmer
	}
	if !p.Date.IsZero() {
		title += " on " + table.Day(p.Date)
	}
	title += fmt.Sprintf(", %s pool", p.Pool)
	if c.last != "" {
		title += ", after " + c.last
	}
	return title
}

// targets has the plan, and a hint on its spacing.
func (c *planned) targets(p protocol.Plan, spacing *protocol.Spacing) table.Table {
	t := p.Table()
	t.Caption = "What is to be swum?"
	rests := p.Rest()
	note := fmt.Sprintf("Warm-up %s. Rest %s", p.WarmUp, command.Clock(rests[0]))
	if last := rests[len(rests)-1]; last != rests[0] {
		note += " to " + command.Clock(last)
	}
	t.Notes = append(t.Notes, fmt.Sprintf("%s. %d samples: at rest, after each repeat, and until they fall after the last. %s from the first start to the last sample.", note, p.Samples(), command.Clock(p.Duration())))
	switch {
	case spacing == nil:
	case spacing.AsGood:
		t.Notes = append(t.Notes, "Even steps are as good as any.")
	default:
		var times []string
		for _, r := range spacing.Plan.Repeats {
			times = append(times, command.Clock(r.Time))
		}
		lead, end := fmt.Sprintf("Spacing: %s would narrow", strings.Join(times, ", ")), " It asks for even pacing; -spaced takes it."
		if c.spaced {
			lead, end = "Spaced to narrow", ""
		}
		t.Notes = append(t.Notes, fmt.Sprintf("%s LT1 by %.0f %% and LT2 by %.0f %% beside even steps, averaged over the shapes that the curve may have (simulated).%s", lead, 100*(1-spacing.LT1), 100*(1-spacing.LT2), end))
	}
	return t
}

func (c *planned) calendar(p protocol.Plan, later []time.Time) string {
	if p.Date.IsZero() || c.tests < 1 {
		return ""
	}
	every := "week"
	if n := c.request.Weeks; n != 1 {
		every = fmt.Sprintf("%d weeks", n)
	}
	var days []string
	for _, d := range later {
		days = append(days, d.Format("Monday 2 January 2006"))
	}
	return command.List(fmt.Sprintf("When is the next?   (every %s; six to eight weeks are common practice)", every), days)
}
