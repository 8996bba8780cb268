package main

import (
	"fmt"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/chart"
)

// Picture draws a test that has thresholds.
func (r *report) Picture(invented bool) (command.Picture, error) {
	if r.Analysis == nil {
		return nil, nil
	}
	band, err := r.Analysis.Band(41)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", command.Whose(r.Record), err)
	}
	o := chart.Options{
		Title:    r.Record.Swimmer + ", " + command.Day(r.Record.Date),
		Subtitle: command.Invented(fmt.Sprintf("%d repeats in a %v pool", len(r.Record.Repeats), r.Record.Pool), invented),
		Pool:     r.Record.Pool, Band: band, Noise: r.settings.Options().Noise, Width: r.settings.size.Width, Height: r.settings.size.Height,
	}
	if r.Zones != nil {
		for _, z := range r.Zones.Zones {
			o.Zones = append(o.Zones, chart.Zone{Name: "zone " + z.Name, From: z.From.Speed.MetresPerSecond(), To: z.To.Speed.MetresPerSecond()})
		}
	}
	return chart.OneTest(r.test, r.Analysis, o)
}

// SecondPicture draws the stroke, if the sheet has it.
func (r *report) SecondPicture(invented bool) (command.Picture, error) {
	t := r.Technique
	if t == nil || len(t.Repeats) < 2 {
		return nil, nil
	}
	var strokes chart.Strokes
	if t.Shortening.Seen() {
		strokes.Shortens = t.Shortening.Speed
	}
	for _, s := range t.Repeats {
		strokes.Repeats = append(strokes.Repeats, chart.Stroke{Intensity: s.Speed.MetresPerSecond(), Rate: s.Rate, Length: s.Length})
	}
	return chart.Technique(strokes, r.Analysis, chart.Options{
		Title:    r.Record.Swimmer + ", " + command.Day(r.Record.Date),
		Subtitle: command.Invented("stroke: "+t.CountedBy(), invented),
		Pool:     r.Record.Pool, Width: r.settings.size.Width, Height: r.settings.size.Height,
	})
}
