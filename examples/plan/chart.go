package main

import (
	"errors"
	"fmt"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
)

// draw draws the repeats of a plan on the curve of the last test, where asked.
func (c *planned) draw(p protocol.Plan) error {
	if c.chart == "" {
		return nil
	}
	if len(c.drawn.Stages) == 0 {
		return errors.New("-chart: found no earlier test, want one to draw on: give -last a sheet")
	}
	picture, err := c.picture(p)
	if err != nil {
		return fmt.Errorf("-chart: %w", err)
	}
	return command.WritePicture(c.chart, picture)
}

func (c *planned) picture(p protocol.Plan) (command.Picture, error) {
	a, err := lactate.Analyze(c.drawn, command.Options())
	if err != nil {
		return nil, err
	}
	var repeats []chart.Repeat
	for _, t := range p.Repeats {
		v, err := t.Speed()
		if err != nil {
			return nil, fmt.Errorf("repeat %d: %w", t.Number, err)
		}
		repeats = append(repeats, chart.Repeat{Intensity: v.MetresPerSecond(), AllOut: t.AllOut})
	}
	return chart.Plan(repeats, a, chart.Options{
		Title: "Plan for " + p.Swimmer + ", " + table.Day(p.Date), Subtitle: command.Invented("on the curve of "+c.last, c.file == ""), Pool: p.Pool,
	})
}
