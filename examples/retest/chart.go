package main

import (
	"errors"
	"fmt"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/protocol"
)

// drawing is what a picture of a comparison needs.
type drawing struct {
	before, after protocol.Record
	first, second lactate.Test
	change        *lactate.Change
}

// Pictures draws each comparison.
func (r *report) Pictures(invented bool) ([]command.Picture, error) {
	var pictures []command.Picture
	var errs []error
	for _, c := range r.Comparisons {
		d := c.drawing
		p, err := chart.TwoTests(d.first, d.second, d.change, chart.Options{
			Title: c.Swimmer, Subtitle: command.Invented(fmt.Sprintf("two tests, %d days apart", c.Days), invented),
			Pool:   c.pool,
			Before: command.Day(d.before.Date), After: command.Day(d.after.Date),
		})
		if err != nil {
			errs = append(errs, fmt.Errorf("retest: %s and %s: %w", command.Whose(d.before), c.After.Date, err))
			continue
		}
		pictures = append(pictures, p)
	}
	return pictures, errors.Join(errs...)
}
