package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// readings are lactates taken in training, from a file that a flag names.
type readings struct {
	file, today string
	dates       *sheet.Options
	all         []sheet.Reading
	read        bool // once for all swimmers
}

func (f *readings) define(set *flag.FlagSet, dates *sheet.Options) {
	f.dates = dates
	set.StringVar(&f.file, "readings", "", "also follow the curve between the tests, by the lactates taken in training in this `file`: date, pool, distance, time (or pace), lactate, kind of repeat")
	set.StringVar(&f.today, "today", "", "the `day` that is asked about with -readings, such as 2025-07-12; left out: that of the last test or reading")
}

// reportOn follows a swimmer who has two tests or more, and the readings between them.
func (f *readings) reportOn(tests []protocol.Record) (command.Report, error) {
	r := new(report)
	err := r.follow(tests)
	switch {
	case r.Season == nil:
		return nil, err
	case f.file != "" || f.today != "":
		err = errors.Join(err, f.open())
		if f.all != nil {
			err = errors.Join(err, f.follow(r))
		}
	}
	return r, err
}

// open reads the file of readings.
func (f *readings) open() error {
	if f.read {
		return nil
	}
	f.read = true
	if f.file == "" {
		return errors.New("season: -today: found no -readings, want a file of them")
	}
	in, err := os.Open(f.file)
	if err != nil {
		return fmt.Errorf("season: %w", err)
	}
	defer in.Close()
	f.all, err = f.dates.ReadReadings(in)
	if err = command.DatesHint(err); err != nil {
		err = fmt.Errorf("%s: %w", f.file, err)
	}
	return err
}

// follow follows the curve of a season by the readings of its swimmer.
func (f *readings) follow(r *report) error {
	swimmer := r.Tests[0].Swimmer
	var own []between.Reading
	var others, pools []string
	for _, reading := range f.all {
		if n := reading.Swimmer; n != "" && protocol.FoldName(n) != protocol.FoldName(swimmer) {
			if !slices.Contains(others, n) {
				others = append(others, n)
			}
			continue
		}
		own = append(own, reading.Reading)
		if p := reading.Pool; !p.IsZero() && p != r.pool() && !slices.Contains(pools, p.String()) {
			pools = append(pools, p.String())
		}
	}
	if len(own) == 0 {
		return fmt.Errorf("season: -readings: found none of %s, those of %s", swimmer, strings.Join(others, ", "))
	}
	var tests []lactate.DatedTest
	days := []time.Time{own[0].Date}
	for _, rec := range r.Tests {
		t, _ := rec.Test()
		tests, days = append(tests, lactate.DatedTest{Date: rec.Date, Test: t}), append(days, rec.Date)
	}
	for _, reading := range own {
		days = append(days, reading.Date)
	}
	today := slices.MaxFunc(days, time.Time.Compare)
	if f.today != "" {
		day, err := time.Parse(time.DateOnly, f.today)
		if err != nil || day.Before(today) { // what came later would have its say
			return fmt.Errorf("season: -today: found %q, want the day of the last test or reading, %s, or a later one", f.today, today.Format(time.DateOnly))
		}
		today = day
	}
	if f.today == "" {
		r.lastOf = "reading"
		if today.Equal(r.Tests[len(r.Tests)-1].Date) {
			r.lastOf = "test"
		}
	}
	presumed, err := between.Options{Lactate: command.Options()}.WithDefaults()
	if err != nil {
		return err
	}
	m, err := between.New(tests, presumed)
	if err == nil {
		r.Course, err = m.Follow(own)
	}
	if err != nil {
		return fmt.Errorf("season: -readings: %w", err)
	}
	if len(pools) > 0 {
		r.AddDoubt("some readings are from another pool than the last test (%s): a shorter pool is faster by its turns", strings.Join(pools, ", "))
	}
	for _, w := range r.Course.Warnings {
		r.AddDoubt("readings: %s", w.Text("reading"))
	}
	due := r.Course.Due(today)
	r.Due, r.presumed = &due, presumed
	return nil
}

// today says where the curve is now, and what that presumes.
func (r *report) today() string {
	if r.Course == nil {
		return ""
	}
	place, worth := table.Due(r.Course, *r.Due, command.Tables(r.pool()))
	day := table.Day(r.Due.Place.Date)
	if r.lastOf != "" {
		day += ", the day of the last " + r.lastOf
	}
	return "Where is the curve on " + day + "?\n" + command.Indented("%s", place) + command.Indented("%s", worth) +
		command.Indented("Presumed: the curve keeps its shape, which only a test can check; a kind of repeat always adds the same; one day differs from an average one by %.1f %% of the speed; and the curve drifts by %.1f %% in a week and twice that in four, or half or twice as fast, weighed by how well each fits (one standard deviation each).", 100*r.presumed.DayToDay, 100*r.presumed.Drift)
}

// readings says what the readings were.
func (r *report) readings(d command.Detail) string {
	if r.Course == nil || d == command.Brief {
		return ""
	}
	told := table.Between(r.Course, *r.Due, command.Tables(r.pool()))
	kinds, news, all := told[:1], told[1], told[2:]
	const most = 10
	if more := len(news.Notes) - most; more > 0 {
		news.Notes = append(news.Notes[:most], fmt.Sprintf("and %d more; -full lists all readings", more))
	}
	if d < command.Full {
		all = nil
	}
	return command.Sections(kinds.String(), news.String(), all.String())
}
