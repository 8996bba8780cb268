package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/testdata/sheets"
)

// follow plans the test after the last one of a sheet.
func (c *planned) follow() error {
	records, faults, err := command.ReadFile(c.file, sheets.Single(), c.dates)
	if len(records) == 0 {
		return errors.Join(err, faults)
	}
	q := &c.request
	aside := []error{ofNoTest(faults, records)}
	tests, err := command.Swimmer(records, q.Swimmer)
	if err != nil {
		return errors.Join(err, aside[0])
	}
	q.Swimmer = tests[0].Swimmer
	var swum time.Time // the day of the last test, read or not
	for _, r := range tests {
		if r.Pending() != protocol.PendingSwim && r.Date.After(swum) {
			swum = r.Date
		}
	}
	tests, c.notes = command.Ready(tests)
	if len(tests) == 0 {
		return errors.Join(fmt.Errorf("no test to plan from:\n%s", strings.Join(c.notes, "\n")), aside[0])
	}
	latest := tests[len(tests)-1]
	if err := c.expect(tests, latest, aside); err != nil {
		return err
	}
	if c.given["pool"] && q.Pool != latest.Pool {
		return fmt.Errorf("found a plan for a %s pool after a test in a %s pool; speeds of different pools do not mix", q.Pool, latest.Pool)
	}
	if err := c.after(latest); err != nil {
		return err
	}
	if q.Date.IsZero() {
		days, err := protocol.Schedule(swum, q.Weeks, 1, c.avoid...)
		if err != nil {
			return err
		}
		q.Date = days[0]
	}
	return nil
}

// expect takes the tests that say how the curve bends, which are like the latest one. What
// of the others is lost is set aside, beside what is already.
func (c *planned) expect(tests []protocol.Record, latest protocol.Record, aside []error) error {
	for _, r := range tests {
		if why := unlike(r, latest); why != "" {
			c.notes = append(c.notes, fmt.Sprintf("%s, %s: %s, and left out", r.Swimmer, table.Day(r.Date), why))
			continue
		}
		test, err := r.Partial()
		err = errors.Join(r.Err(), err)
		rows, _ := r.Lost()
		whole := rows == 0 && !errors.Is(err, protocol.ErrNoRepeats)
		if !whole && r.Date.Equal(latest.Date) {
			return fmt.Errorf("the last test of %s, %s, is not whole, and nothing is planned from part of it:\n%w", r.Swimmer, table.Day(r.Date), err)
		}
		if err != nil {
			aside = append(aside, fmt.Errorf("the test of %s, %s:\n%w", r.Swimmer, table.Day(r.Date), err))
		}
		if whole {
			c.expected.Tests = append(c.expected.Tests, test)
			c.days = append(c.days, r.Date)
		}
	}
	c.aside = errors.Join(aside...)
	return nil
}

// after asks for the test after the latest one, between the same ends.
func (c *planned) after(latest protocol.Record) error {
	q := &c.request
	test, _ := latest.Partial() // its faults are aside
	a, err := lactate.Analyze(test, lactate.Options{})
	if err != nil {
		return fmt.Errorf("the test of %s, %s: %w", q.Swimmer, table.Day(latest.Date), protocol.InWords(err))
	}
	if g := latest.Gravest(a); g.Repeat != 0 {
		said := table.Day(latest.Date) + ": " + g.String()
		c.notes = slices.Insert(c.notes, 0, said)
		if c.csv || c.page { // which have no room for notes
			c.aside = errors.Join(c.aside, errors.New(said))
		}
	}
	c.drawn = test
	c.last = "the test of " + table.Day(latest.Date)
	q.Pool, q.Distance = latest.Pool, latest.Repeats[len(latest.Repeats)-1].Distance
	if !c.given["repeats"] {
		q.Repeats = len(latest.Repeats)
	}
	drop := q.Drop
	*q = q.FromLast(a)
	if drop != 0 {
		q.Start, q.Drop = pace.Pace{}, drop
	}
	c.known.Fastest = pace.Speed(a.Highest)
	if a.LT1.Err == nil {
		c.known.LT1 = pace.Speed(a.LT1.Intensity.Value)
	}
	if a.LT2.Err == nil { // and paces leaves it alone
		c.known.Threshold = pace.Speed(a.LT2.Intensity.Value)
	}
	return nil
}

// unlike says why the speeds of a test do not mix with those of the last one; it
// is empty where they do.
func unlike(r, latest protocol.Record) string {
	distance := func(r protocol.Record) pace.Length {
		if len(r.Repeats) == 0 {
			return 0
		}
		return r.Repeats[len(r.Repeats)-1].Distance
	}
	switch {
	case r.Pool != latest.Pool:
		return fmt.Sprintf("in a %s pool", r.Pool)
	case distance(r) != distance(latest):
		return fmt.Sprintf("repeats of %s", distance(r))
	}
	return ""
}

// ofNoTest joins the faults of a sheet that are of none of its tests: those of
// the header, and of rows that are nobody's.
func ofNoTest(err error, records []protocol.Record) error {
	var out []error
	for _, f := range protocol.Faults(err) {
		if !slices.ContainsFunc(records, func(r protocol.Record) bool { return slices.Contains(r.Faults, f) }) {
			out = append(out, f)
		}
	}
	return command.DatesHint(errors.Join(out...))
}
