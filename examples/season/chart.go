package main

import (
	"errors"
	"fmt"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/chart"
)

// Pictures draws each season.
func (r *report) Pictures(invented bool) ([]command.Picture, error) {
	var pictures []command.Picture
	var errs []error
	for _, s := range r.Seasons {
		p, err := chart.Season(s.fit, chart.Options{
			Title: s.Swimmer, Subtitle: command.Invented(fmt.Sprintf("%d tests", len(s.Tests)), invented),
			Pool: s.pool,
		})
		if err != nil {
			errs = append(errs, fmt.Errorf("season: %s, %s to %s: %w", s.Swimmer, s.Tests[0].Date, s.Tests[len(s.Tests)-1].Date, err))
			continue
		}
		pictures = append(pictures, p)
	}
	return pictures, errors.Join(errs...)
}
