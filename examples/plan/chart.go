package main

import (
	"errors"
	"fmt"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
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
	a, err := lactate.Analyze(c.drawn, command.Options())
	if err != nil {
		return fmt.Errorf("-chart: %w", err)
	}
	band, err := a.Band(41)
	if err != nil {
		return fmt.Errorf("-chart: %w", err)
	}
	var repeats []chart.Repeat
	for _, t := range p.Repeats {
		v, err := t.Speed()
		if err != nil {
			return fmt.Errorf("-chart: repeat %d: %w", t.Number, err)
		}
		repeats = append(repeats, chart.Repeat{Intensity: v.MetresPerSecond(), AllOut: t.AllOut})
	}
	title := "Plan"
	if p.Swimmer != "" {
		title += " for " + p.Swimmer
	}
	if !p.Date.IsZero() {
		title += ", " + command.Day(p.Date)
	}
	picture, err := chart.Plan(repeats, a, chart.Options{
		Title: title, Subtitle: command.Invented("on the curve of "+c.last, c.invented), Pool: p.Pool, Band: band,
	})
	if err != nil {
		return err
	}
	return command.WritePicture(c.chart, picture)
}
