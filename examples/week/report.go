package main

import (
	"errors"
	"fmt"
	"slices"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

// report is what the library says of a week.
type report struct {
	InventedTest bool                `json:"invented_test"`
	InventedWeek bool                `json:"invented_week"`
	Proposed     bool                `json:"proposed"`
	Test         protocol.Record     `json:"test"`
	Zones        *zones.Table        `json:"zones"`
	Sets         []set               `json:"sets"`
	Planned      *zones.Distribution `json:"planned,omitempty"`
	Swum         *zones.Distribution `json:"swum,omitempty"`
	Hard         bool                `json:"above_lt2"` // swimming near the maximum is asked for

	command.Doubts

	choices command.Choices
	grave   string          // the worst of the doubts about the test
	line    *heartrate.Line // nil if the test has none
}

// set is a line of the week.
type set struct {
	Day    string        `json:"day"`
	Plan   zones.Workout `json:"plan"`
	Reason string        `json:"reason,omitempty"`
	Review *zones.Review `json:"review,omitempty"` // nil if not swum
	// AgainstTest is the mean of the heart rates less those of the test's line
	// at the same speeds.
	AgainstTest *float64 `json:"heart_rate_against_test_per_min,omitempty"`

	goesOn bool // the line has no day of its own
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
	for _, note := range notes {
		r.Add("%s", note)
	}
	r.Of(rec, "", slices.Concat(a.Warnings, r.Zones.Warnings)...)
	if r.line, err = command.HeartRateLine(test); err != nil {
		r.Add("no heart rates: %v", command.InWords(err))
		return nil
	}
	r.Of(rec, "", r.line.Warnings...)
	return nil
}

// plan works the week out. The error joins all that is wrong with its sets; the
// report holds the rest.
func (r *report) plan(week []zones.WeekSet) error {
	var planned, swum []zones.Repeat
	var errs []error
	for _, d := range week {
		s, err := r.set(d)
		if err != nil {
			errs = append(errs, fmt.Errorf("week: line %d: %w", d.Line, command.InWords(err)))
			continue
		}
		r.Sets = append(r.Sets, *s)
		planned = append(planned, s.Plan.Swims()...)
		swum = append(swum, d.Swum...)
		to := s.Plan.Zone.To
		r.Hard = r.Hard || to.Open() || to.Speed > r.Zones.Profile.LT2.Speed
	}
	divide := func(repeats []zones.Repeat) *zones.Distribution {
		if len(repeats) == 0 {
			return nil
		}
		d, err := r.Zones.Distribute(repeats)
		errs = append(errs, err)
		return d
	}
	r.Planned, r.Swum = divide(planned), divide(swum)
	return errors.Join(errs...)
}

// set plans one set and, if it was swum, reviews it.
func (r *report) set(d zones.WeekSet) (*set, error) {
	plan, err := r.Zones.Workout(d.Set, r.Test.Pool)
	if err != nil {
		return nil, err
	}
	s := &set{Day: d.Day, Plan: plan, Reason: d.Reason, goesOn: d.SameDay}
	if len(d.Swum) == 0 {
		return s, nil
	}
	if s.Review, err = r.Zones.Review(d.Swum, r.Test.Pool); err != nil {
		return nil, err
	}
	against, n := 0.0, 0
	for _, j := range s.Review.Repeats {
		if r.line == nil || j.HeartRate == 0 {
			continue
		}
		// Outside the tested range nothing is expected.
		if e, err := r.line.HeartRate(j.Speed.MetresPerSecond()); err == nil {
			against += j.HeartRate - e.Value
			n++
		}
	}
	if n > 0 {
		against /= float64(n)
		s.AgainstTest = &against
	}
	return s, nil
}
