package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/protocol"
)

// report is what the library says of a swimmer's tests.
type report struct {
	Tests  []protocol.Record `json:"tests"`
	Season *lactate.Season   `json:"season"`
	Next   *expected         `json:"next_test,omitempty"`
	But    []string          `json:"but,omitempty"` // what can undo the trend
	command.Doubts

	// What readings say between the tests; nil without them.
	Course   *between.Course `json:"course,omitempty"`
	Due      *between.Due    `json:"due,omitempty"`
	presumed between.Options
	lastOf   string // reading or test: Due is on the day of that, as no day was named
}

// expected is where the next test is to be expected if the trend goes on.
type expected struct {
	Date  time.Time        `json:"date"`
	Shift lactate.Estimate `json:"shift_m_per_s"` // from the first test
}

// follow makes one joint fit of a swimmer's tests. A test that has no curve is
// left out, and is in the error; one that waits for its samples is noted.
func (r *report) follow(records []protocol.Record) error {
	var errs []error
	var dated []lactate.DatedTest
	ready, notes := command.Ready(records)
	for _, rec := range ready {
		// Faults of the rows are reported with the sheet; what stands is used.
		t, _ := rec.Partial()
		if _, err := lactate.Analyze(t, lactate.Options{}); err != nil {
			errs = append(errs, fmt.Errorf("season: %s: %w", rec.Whose(), protocol.InWords(err)))
			continue
		}
		r.Tests, dated = append(r.Tests, rec), append(dated, lactate.DatedTest{Date: rec.Date, Test: t})
	}
	if len(dated) < 2 {
		found := "no test with a curve"
		if len(dated) == 1 {
			found = "one test with a curve, of " + r.Tests[0].Date.Format(time.DateOnly)
		}
		for _, rec := range records {
			if why := rec.Pending(); why != "" {
				errs = append(errs, fmt.Errorf("season: %s: %s", rec.Whose(), why))
			}
		}
		return errors.Join(append(errs, fmt.Errorf("season: %s: found %s, want two or more", records[0].Swimmer, found))...)
	}
	last := r.Tests[len(r.Tests)-1]
	var err error
	if r.Season, err = lactate.FollowSeason(dated, lactate.CompareOptions{Options: command.Options()}); err != nil {
		return errors.Join(append(errs, fmt.Errorf("season: %s, the last of %d tests: %w", last.Whose(), len(dated), protocol.InWords(err)))...)
	}
	next := last.NextDay()
	if e, err := r.Season.Expected(next); err != nil {
		errs = append(errs, fmt.Errorf("season: %s, next test of %s: %w", last.Swimmer, next.Format(time.DateOnly), protocol.InWords(err)))
	} else {
		r.Next = &expected{next, e}
	}
	r.doubts()
	r.AddTexts(notes...)
	return errors.Join(errs...)
}

// doubts says what to know before believing the season.
func (r *report) doubts() {
	var pools []string
	for _, rec := range r.Tests {
		if p := rec.Pool.String(); !slices.Contains(pools, p) {
			pools = append(pools, p)
		}
	}
	if n := len(pools); n > 1 {
		r.But = append(r.But, fmt.Sprintf("the pools differ, %s and %s: a shorter pool is faster by its turns. Part of a change may be the pool's",
			strings.Join(pools[:n-1], ", "), pools[n-1]))
	}
	for _, w := range protocol.Numbered(r.Tests, r.Season.Warnings) {
		switch w.Kind {
		case lactate.WarnOtherStages, lactate.WarnShapeChanged, lactate.WarnLeftOut:
			r.But = append(r.But, command.Words(w))
		default:
			r.AddTexts(command.Words(w))
		}
	}
	for i, st := range r.Season.Tests {
		r.PutFirst(r.Tests[i], st.Analysis)
		r.AddFaultsAndWarnings(r.Tests[i], st.Analysis)
	}
	if n := len(r.Tests); n < 4 {
		r.AddDoubt("a trend through %d tests rests on each of them", n)
	}
	r.AddDoubt("LT2 of each test is read on its own curve; the shifts come from one shape for all tests, and are the surer if it holds")
}
