package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
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
	b, unable := p.Better(c.aim, c.expected, lactate.Options{}, forecast.Rules{})
	if unable != nil && (!errors.Is(unable, forecast.ErrNoAnswer) || c.csv || c.page) {
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
	text, err := c.text(p, b, unable, later)
	if err == nil {
		err = command.Print(w, text)
	}
	return err
}

// text is the report on a plan and the better one.
func (c *planned) text(p protocol.Plan, b *protocol.Better, unable error, later []time.Time) (string, error) {
	invented := ""
	if c.invented {
		invented = command.Line("Invented data. A swimmer of your own: go run ./examples/plan -best 4:56, or -last your-sheet.csv; -h for more")
	}
	title := command.Line("%s", c.title(p))
	for _, note := range c.notes {
		title += command.Indented("%s.", note)
	}
	telling := "What will it be able to tell?\n"
	if unable != nil {
		telling += command.Indented("%s", strings.TrimPrefix(unable.Error(), "protocol: "))
	} else {
		t, err := c.telling(p, b)
		if err != nil {
			return "", err
		}
		telling = t.String()
	}
	var findings []string
	for _, w := range p.Review(c.known) {
		findings = append(findings, w.String())
	}
	if !b.AsGood {
		for _, w := range b.Plan.Review(c.known) {
			if len(w.Stages) > 0 && !slices.Contains(findings, w.String()) {
				findings = append(findings, "of the better plan: "+w.String())
			}
		}
	}
	return command.Sections(invented, title, c.targets(p, b, unable == nil).String(), telling,
		command.List("What should be thought of?", findings), c.calendar(p, later), command.List("Before swimming it", protocol.Cautions())), nil
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
		return sheet.WritePlan(w, p)
	}
	return p.WriteText(w)
}

func (c *planned) title(p protocol.Plan) string {
	title := "Plan of a step test"
	if p.Swimmer != "" {
		title += " of " + p.Swimmer
	}
	if !p.Date.IsZero() {
		title += " on " + command.Day(p.Date)
	}
	title += fmt.Sprintf(", %s pool", p.Pool)
	if c.last != "" {
		title += ", after " + c.last
	}
	return title
}

// targets has the plan, and the better one below it.
func (c *planned) targets(p protocol.Plan, b *protocol.Better, told bool) table.Tables {
	t := p.Table()
	t.Caption = "What is to be swum?"
	rests := p.Rest()
	note := fmt.Sprintf("Warm-up %s. Rest %s", p.WarmUp, command.Clock(rests[0]))
	if last := rests[len(rests)-1]; last != rests[0] {
		note += " to " + command.Clock(last)
	}
	note += ". Samples: at rest, after each repeat"
	var after []string
	for _, a := range p.After {
		after = append(after, fmt.Sprintf("%g", a.Minutes()))
	}
	if len(after) > 0 {
		note += ", after the last one at " + strings.Join(after, ", ") + " min"
	}
	t.Notes = append(t.Notes, fmt.Sprintf("%s; %d in all. %s from the first start to the last sample.", note, p.Samples(), command.Clock(p.Duration())))
	if !b.AsGood {
		better := b.Plan.Table()
		better.Caption = "The better plan"
		return table.Tables{t, better}
	}
	if told {
		t.Notes = append(t.Notes, fmt.Sprintf("Even steps are as good as any for the %s: no plan within the rules is 5 %% narrower without widening something else.", c.aim))
	}
	return table.Tables{t}
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
