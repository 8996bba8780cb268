package main

import (
	"errors"
	"fmt"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/protocol"
)

// drawing is what a picture of a test needs.
type drawing struct {
	record   protocol.Record
	test     lactate.Test
	analysis *lactate.Analysis
}

// Pictures draws each test that has thresholds.
func (o *output) Pictures(invented bool) ([]command.Picture, error) {
	var pictures []command.Picture
	var errs []error
	for _, r := range o.Tests {
		if r.drawing == nil {
			continue
		}
		p, err := r.picture(invented)
		if err != nil {
			errs = append(errs, fmt.Errorf("steptest: %s, %s: %w", r.Swimmer, r.Date, err))
			continue
		}
		pictures = append(pictures, p)
	}
	return pictures, errors.Join(errs...)
}

func (r *report) picture(invented bool) (*chart.Picture, error) {
	d := r.drawing
	band, err := d.analysis.Band(41)
	if err != nil {
		return nil, err
	}
	o := chart.Options{
		Title:    d.record.Swimmer + ", " + command.Day(d.record.Date),
		Subtitle: command.Invented(fmt.Sprintf("%d repeats in a %v pool", len(d.record.Repeats), d.record.Pool), invented),
		Pool:     d.record.Pool, Band: band,
	}
	if r.table != nil {
		for _, z := range r.table.Zones {
			o.Zones = append(o.Zones, chart.Zone{Name: "zone " + z.Name, From: z.From.Speed.MetresPerSecond(), To: z.To.Speed.MetresPerSecond()})
		}
	}
	return chart.OneTest(d.test, d.analysis, o)
}
