package main

import (
	"errors"
	"fmt"
	"math"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
)

// meaningful is the smallest change that matters, as a share of the speed. Ours: a
// second in a hundred.
const meaningful = 0.01

// report is what the library says of two tests.
type report struct {
	Before protocol.Record `json:"before"`
	After  protocol.Record `json:"after"`
	Change *lactate.Change `json:"change"`
	// How the tests were swum otherwise, and what else can undo the answer.
	Differences []string `json:"differences,omitempty"`
	But         []string `json:"but,omitempty"`
	command.Doubts

	tests   [2]lactate.Test
	options lactate.CompareOptions
}

// reportOn compares the two latest tests of a swimmer, who has some earlier ones.
func reportOn(all []protocol.Record, earlier int) (command.Report, error) {
	ready, notes := command.Ready(all)
	n := len(ready)
	if n < 2 {
		return nil, fmt.Errorf("retest: %s", tooFew(ready, all))
	}
	r := &report{Before: ready[n-2], After: ready[n-1]}
	if err := r.compare(); err != nil {
		return nil, err
	}
	if earlier > 0 {
		r.AddDoubt("earlier tests are left out here: %d; examples/season takes them all", earlier)
	}
	r.AddTexts(notes...)
	return r, nil
}

// tooFew says which tests of a swimmer there are, if two are not left.
func tooFew(ready, all []protocol.Record) string {
	found := "no test"
	if len(ready) == 1 {
		found = "one test, of " + ready[0].Date.Format(time.DateOnly)
	}
	text := fmt.Sprintf("%s: found %s, want two to compare", all[0].Swimmer, found)
	for _, rec := range all {
		if why := rec.Pending(); why != "" {
			text += fmt.Sprintf("; %s: %s", rec.Date.Format(time.DateOnly), why)
		}
	}
	return text
}

// compare fills the report. The error names both tests, or those that have no
// curve.
func (r *report) compare() error {
	records := []protocol.Record{r.Before, r.After}
	var errs []error
	for i, rec := range records {
		// Faults of the rows are reported with the sheet; what stands is compared. Each test is
		// read here too, since Compare names only the first that has no curve.
		r.tests[i], _ = rec.Partial()
		if _, err := lactate.Analyze(r.tests[i], lactate.Options{}); err != nil {
			errs = append(errs, fmt.Errorf("retest: %s: %w", rec.Whose(), protocol.InWords(err)))
		}
	}
	if len(errs) > 0 {
		return errors.Join(errs...)
	}
	var err error
	if r.options, err = (lactate.CompareOptions{Options: command.Options(), Meaningful: meaningful}).WithDefaults(); err != nil {
		return err
	}
	c, err := lactate.Compare(r.tests[0], r.tests[1], r.options)
	if err != nil {
		return fmt.Errorf("retest: %s and %s: %w", r.Before.Whose(), r.After.Date.Format(time.DateOnly), protocol.InWords(err))
	}
	r.Change = c
	other := false
	for _, d := range protocol.Differences(r.Before, r.After) {
		r.Differences = append(r.Differences, d.String())
		other = other || d.Kind == protocol.WarnOtherDistance
	}
	for i, rec := range records {
		if g := rec.Gravest([]*lactate.Analysis{c.Before, c.After}[i]); g.Repeat != 0 {
			r.But = append(r.But, table.Day(rec.Date)+": "+g.String())
		}
	}
	for _, w := range protocol.Numbered(records, c.Warnings) {
		text := command.Words(w)
		switch w.Kind {
		case lactate.WarnOtherStages, lactate.WarnOtherEnds, lactate.WarnShapeChanged, lactate.WarnLittleShared, lactate.WarnLeftOut:
			if w.Kind != lactate.WarnOtherStages || !other { // which says as much
				r.But = append(r.But, text)
			}
		default:
			r.AddTexts(text)
		}
	}
	r.AddFaultsAndWarnings(r.Before, c.Before)
	r.AddFaultsAndWarnings(r.After, c.After)
	switch p := c.Shape.PValue; {
	case math.IsNaN(p):
		r.AddDoubt("too few repeats to say whether the curve changed its shape too")
	case !c.Shape.Changed:
		r.AddDoubt("a change of the curve's shape is not seen; there may be one")
	}
	r.AddTexts(command.MovesRight)
	return nil
}
