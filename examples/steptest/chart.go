package main

import (
	"fmt"
	"slices"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
)

// Pictures draws a test that has thresholds, and its stroke, if the sheet has it.
func (r *report) Pictures(invented bool) (all []command.Drawing) {
	if r.Analysis != nil {
		all = append(all, func() (command.Picture, error) { return r.drawTest(invented) })
	}
	if r.Technique != nil && len(r.Technique.Repeats) > 1 {
		all = append(all, func() (command.Picture, error) { return r.drawStroke(invented) })
	}
	return all
}

func (r *report) drawTest(invented bool) (command.Picture, error) {
	o := r.options(r.subtitle(), invented)
	o.Noise = r.settings.Options().Noise
	if r.Zones != nil {
		for _, z := range r.Zones.Zones {
			o.Zones = append(o.Zones, chart.Zone{Name: "zone " + z.Name, From: z.From.Speed.MetresPerSecond(), To: z.To.Speed.MetresPerSecond()})
		}
	}
	return chart.OneTest(r.Analysis, o)
}

func (r *report) drawStroke(invented bool) (command.Picture, error) {
	var strokes chart.Strokes
	if r.Technique.Shortening.Seen() {
		strokes.Shortens = r.Technique.Shortening.Speed
	}
	for _, s := range r.Technique.Repeats {
		strokes.Repeats = append(strokes.Repeats, chart.Stroke{Intensity: s.Speed.MetresPerSecond(), Rate: s.Rate, Length: s.Length})
	}
	return chart.Technique(strokes, r.Analysis, r.options("stroke: "+r.Technique.CountedBy(), invented))
}

// options are those of both pictures.
func (r *report) options(subtitle string, invented bool) chart.Options {
	size := r.settings.size
	return chart.Options{Title: r.Record.Swimmer + ", " + table.Day(r.Record.Date), Subtitle: command.Invented(subtitle, invented), Pool: r.Record.Pool, Width: size.Width, Height: size.Height}
}

// subtitle says what was swum, after what shakes it.
func (r *report) subtitle() string {
	reps := r.Record.Repeats
	text := fmt.Sprintf("%d × %v in a %v pool", len(reps), reps[0].Distance, r.Record.Pool)
	if slices.ContainsFunc(reps, func(rep protocol.Repeat) bool { return rep.Distance != reps[0].Distance }) {
		text = fmt.Sprintf("%d repeats in a %v pool", len(reps), r.Record.Pool)
	}
	if r.grave.Repeat != 0 {
		text = r.grave.Says + "; " + text
	}
	return text
}
