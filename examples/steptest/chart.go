package main

import (
	"errors"
	"fmt"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/chart"
)

// Pictures draws each test that has thresholds.
func (rs reports) Pictures(invented bool) ([]command.Picture, error) {
	var pictures []command.Picture
	var errs []error
	for _, r := range rs {
		if r.Analysis == nil {
			continue
		}
		p, err := r.picture(invented)
		if err != nil {
			errs = append(errs, fmt.Errorf("steptest: %s: %w", command.Whose(r.Record), err))
			continue
		}
		pictures = append(pictures, p)
	}
	return pictures, errors.Join(errs...)
}

func (r *report) picture(invented bool) (*chart.Picture, error) {
	band, err := r.Analysis.Band(41)
	if err != nil {
		return nil, err
	}
	o := chart.Options{
		Title:    r.Record.Swimmer + ", " + command.Day(r.Record.Date),
		Subtitle: command.Invented(fmt.Sprintf("%d repeats in a %v pool", len(r.Record.Repeats), r.Record.Pool), invented),
		Pool:     r.Record.Pool, Band: band,
	}
	if r.Zones != nil {
		for _, z := range r.Zones.Zones {
			o.Zones = append(o.Zones, chart.Zone{Name: "zone " + z.Name, From: z.From.Speed.MetresPerSecond(), To: z.To.Speed.MetresPerSecond()})
		}
	}
	return chart.OneTest(r.test, r.Analysis, o)
}
