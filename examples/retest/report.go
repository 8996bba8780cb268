package main

import (
	"errors"
	"fmt"
	"math"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// reports are the comparisons, one for each swimmer.
type reports []*report

// report is what the library says of two tests.
type report struct {
	Before protocol.Record `json:"before"`
	After  protocol.Record `json:"after"`
	Change *lactate.Change `json:"change"`
	But    []string        `json:"but,omitempty"`    // what can undo the answer
	Doubts []string        `json:"doubts,omitempty"` // what else to know

	first, second lactate.Test
}

// reportOn compares the two latest tests of each swimmer.
func reportOn(records []protocol.Record) (command.Report, error) {
	out := reports{}
	var errs []error
	for _, all := range command.BySwimmer(records) {
		ready, notes := command.Ready(all)
		n := len(ready)
		if n < 2 {
			errs = append(errs, fmt.Errorf("retest: %s", tooFew(ready, all)))
			continue
		}
		r := &report{Before: ready[n-2], After: ready[n-1]}
		if err := r.compare(); err != nil {
			errs = append(errs, err)
			continue
		}
		if n > 2 {
			r.doubt("earlier tests are left out here: %d; examples/season takes them all", n-2)
		}
		r.Doubts = append(r.Doubts, notes...)
		out = append(out, r)
	}
	return out, errors.Join(errs...)
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

func (r *report) doubt(format string, args ...any) {
	r.Doubts = append(r.Doubts, fmt.Sprintf(format, args...))
}

// compare fills the report. The error names both tests, or those that have no
// curve.
func (r *report) compare() error {
	// Faults of the rows are reported with the sheet; what stands is compared.
	r.first, _ = r.Before.Test()
	r.second, _ = r.After.Test()
	var errs []error
	for i, test := range []lactate.Test{r.first, r.second} {
		if _, err := lactate.Analyze(test, lactate.Options{}); err != nil {
			errs = append(errs, fmt.Errorf("retest: %s: %w", command.Whose([]protocol.Record{r.Before, r.After}[i]), command.InWords(err)))
		}
	}
	if len(errs) > 0 {
		return errors.Join(errs...)
	}
	c, err := lactate.Compare(r.first, r.second, command.Options())
	if err != nil {
		return fmt.Errorf("retest: %s and %s: %w", command.Whose(r.Before), r.After.Date.Format(time.DateOnly), command.InWords(err))
	}
	r.Change = c
	if r.Before.Pool != r.After.Pool {
		r.But = append(r.But, fmt.Sprintf("the pools differ, %v and %v: speeds are compared, and a shorter pool is faster by its turns: "+
			"the pool may feign a shift, or hide one", r.Before.Pool, r.After.Pool))
	}
	if d, e := longest(r.Before), longest(r.After); d != e {
		r.doubt("the repeats differ, %v and %v: longer ones gather more lactate at the same speed", d, e)
	}
	for _, w := range c.Warnings {
		if text := w.Text("repeat"); w.Kind == lactate.ShapeChanged {
			r.But = append(r.But, text)
		} else {
			r.doubt("%s", text)
		}
	}
	r.ofTest(r.Before, c.Before)
	r.ofTest(r.After, c.After)
	switch p := c.Shape.PValue; {
	case math.IsNaN(p):
		r.doubt("too few repeats to say whether the curve changed its shape too")
	case !c.Shape.Changed:
		r.doubt("a change of the curve's shape is not seen; there may be one")
	}
	r.doubt("a curve that moves right can mean a fitter swimmer, or less carbohydrate, a tired or an easier day: test fed and rested alike")
	return nil
}

// ofTest says what to doubt of one of the tests.
func (r *report) ofTest(rec protocol.Record, a *lactate.Analysis) {
	day := command.Day(rec.Date) + ": "
	if note := command.Faults(rec); note != "" {
		r.doubt("%s", day+note)
	}
	r.Doubts = append(r.Doubts, command.Doubts(day, a.Warnings, rec)...)
}

func longest(rec protocol.Record) pace.Length {
	var d pace.Length
	for _, rep := range rec.Repeats {
		d = max(d, rep.Distance)
	}
	return d
}
