package main

import (
	"errors"
	"fmt"
	"math"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
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
	But    []string        `json:"but,omitempty"` // what can undo the answer
	command.Doubts

	first, second lactate.Test
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
		r.Add("earlier tests are left out here: %d; examples/season takes them all", earlier)
	}
	for _, note := range notes {
		r.Add("%s", note)
	}
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
		if why := command.Pending(rec); why != "" {
			text += fmt.Sprintf("; %s: %s", rec.Date.Format(time.DateOnly), why)
		}
	}
	return text
}

// compare fills the report. The error names both tests, or those that have no
// curve.
func (r *report) compare() error {
	// Faults of the rows are reported with the sheet; what stands is compared.
	r.first, _ = r.Before.Partial()
	r.second, _ = r.After.Partial()
	var errs []error
	for i, test := range []lactate.Test{r.first, r.second} {
		if _, err := lactate.Analyze(test, lactate.Options{}); err != nil {
			errs = append(errs, fmt.Errorf("retest: %s: %w", command.Whose([]protocol.Record{r.Before, r.After}[i]), command.InWords(err)))
		}
	}
	if len(errs) > 0 {
		return errors.Join(errs...)
	}
	c, err := lactate.Compare(r.first, r.second, lactate.CompareOptions{Options: command.Options(), Meaningful: meaningful})
	if err != nil {
		return fmt.Errorf("retest: %s and %s: %w", command.Whose(r.Before), r.After.Date.Format(time.DateOnly), command.InWords(err))
	}
	r.Change = c
	r.But = command.Differences(r.Before, r.After)
	for i, rec := range []protocol.Record{r.Before, r.After} {
		if g := command.Gravest(rec, []*lactate.Analysis{c.Before, c.After}[i]); g.Repeat != 0 {
			r.But = append(r.But, fmt.Sprintf("%s: %s: %s", command.Day(rec.Date), g.Says, g.Do))
		}
	}
	for _, w := range c.Warnings {
		text := w.Text("repeat")
		switch w.Kind {
		case lactate.WarnOtherStages:
			if command.Longest(r.Before) == command.Longest(r.After) { // said of distances otherwise
				r.But = append(r.But, text)
			}
		case lactate.WarnOtherEnds, lactate.WarnShapeChanged, lactate.WarnLittleShared, lactate.WarnLeftOut:
			r.But = append(r.But, text)
		default:
			r.Add("%s", text)
		}
	}
	r.Test(r.Before, c.Before)
	r.Test(r.After, c.After)
	switch p := c.Shape.PValue; {
	case math.IsNaN(p):
		r.Add("too few repeats to say whether the curve changed its shape too")
	case !c.Shape.Changed:
		r.Add("a change of the curve's shape is not seen; there may be one")
	}
	r.Add("a curve that moves right can mean a fitter swimmer, or less carbohydrate, a tired or an easier day: test fed and rested alike")
	return nil
}
