package main

import (
	"errors"
	"slices"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

// report is what the library says of a week.
type report struct {
	InventedTest bool            `json:"invented_test"`
	InventedWeek bool            `json:"invented_week"`
	Proposed     bool            `json:"proposed"`
	Test         protocol.Record `json:"test"`
	Zones        *zones.Table    `json:"zones"`
	*zones.Week
	command.Doubts

	choices command.Choices
	grave   string          // the worst of the doubts about the test
	line    *heartrate.Line // nil if the test has none
}

// zone makes the zones of the swimmer, and the line of heart rate against speed; it
// stays nil if the test has none, and a note says so. Errors are of the samples.
func (r *report) zone() error {
	rec := r.Test
	test, err := rec.Test()
	if err != nil {
		return err
	}
	a, err := lactate.Analyze(test, r.choices.Options())
	if err != nil {
		return err
	}
	if g := rec.Gravest(a); g.Says != "" {
		r.grave = "Little to train by: " + g.Says + ": " + command.Advice(g) + "."
	}
	var notes []string
	if r.Zones, notes, err = command.Zones(rec, test, a, r.choices.Scheme()); err != nil {
		return err
	}
	r.AddTexts(notes...)
	r.AddWarnings(rec, slices.Concat(a.Warnings, r.Zones.Warnings)...)
	if r.line, err = command.HeartRateLine(test); err != nil {
		r.AddDoubt("no heart rates: %v", protocol.InWords(err))
		return nil
	}
	r.AddWarnings(rec, r.line.Warnings...)
	return nil
}

// plan works the week out. The error joins all that is wrong with its sets; the
// report holds the rest.
func (r *report) plan(sets []zones.WeekSet) (err error) {
	var expected func(pace.Speed) (float64, error)
	if r.line != nil {
		expected = func(v pace.Speed) (float64, error) {
			e, err := r.line.HeartRate(v.MetresPerSecond())
			return e.Value, err
		}
	}
	r.Week, err = r.Zones.Week(sets, r.Test.Pool, expected)
	return ofWeek(err)
}

// ofWeek leaves the name of the package out of an error about a week.
func ofWeek(err error) error {
	if err == nil {
		return nil
	}
	return errors.New(table.Bare(err))
}
