package main

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// What is presumed between tests, as shares of the speed: the library's defaults.
const (
	dayToDay = 0.008
	drift    = 0.005 // in a week
	matters  = 0.03
)

// readings are lactates taken in training, from a file that a flag names.
type readings struct {
	file  string
	today string
	all   []sheet.Reading
	read  bool
	flags *flag.FlagSet // which have the order of dates too
}

// withReadings gives the program the flags for readings.
func withReadings(p command.Program) command.Program {
	var f readings
	p.Flags = func(set *flag.FlagSet) {
		f.flags = set
		set.StringVar(&f.file, "readings", "", "also follow the curve between the tests, by the lactates taken in training in this `file`: date, pool, distance, time (or pace), lactate, kind of repeat")
		set.StringVar(&f.today, "today", "", "the `day` that is asked about with -readings, such as 2025-07-12; left out: that of the last test or reading")
	}
	inner := p.Report
	p.Report = func(tests []protocol.Record) (command.Report, error) {
		r, err := inner(tests)
		if f.file == "" && f.today == "" {
			return r, err
		}
		season, ok := r.(*report)
		if !ok {
			return r, err
		}
		followed, followErr := f.follow(season)
		if followErr != nil {
			err = errors.Join(err, followErr)
		}
		if followed == nil {
			return r, err
		}
		return followed, err
	}
	return p
}

// course is a season with what readings say between its tests.
type course struct {
	*report
	Course *between.Course `json:"course"`
	Due    between.Due     `json:"due"`
}

// open reads the file of readings, once for all swimmers.
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
	var o sheet.Options
	if dates := f.flags.Lookup("dates"); dates != nil {
		if err := o.Dates.UnmarshalText([]byte(dates.Value.String())); err != nil {
			return fmt.Errorf("season: %w", err)
		}
	}
	f.all, err = o.ReadReadings(in)
	if err = command.DatesHint(err); err != nil {
		err = fmt.Errorf("%s: %w", f.file, err)
	}
	return err
}

// follow follows the curve of a season by the readings of its swimmer. It returns nil if
// that cannot be done.
func (f *readings) follow(r *report) (*course, error) {
	err := f.open()
	if f.all == nil {
		return nil, err
	}
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
		return nil, errors.Join(err, fmt.Errorf("season: -readings: found none of %s, those of %s", swimmer, strings.Join(others, ", ")))
	}
	var tests []lactate.DatedTest
	today := own[0].Date
	for _, rec := range r.Tests {
		t, _ := rec.Test()
		tests = append(tests, lactate.DatedTest{Date: rec.Date, Test: t})
		today = later(today, rec.Date)
	}
	for _, reading := range own {
		today = later(today, reading.Date)
	}
	if f.today != "" {
		day, dayErr := time.Parse(time.DateOnly, f.today)
		if dayErr != nil || day.Before(today) { // what came later would have its say
			return nil, errors.Join(err, fmt.Errorf("season: -today: found %q, want the day of the last test or reading, %s, or a later one", f.today, today.Format(time.DateOnly)))
		}
		today = day
	}
	m, modelErr := between.New(tests, between.Options{Lactate: command.Options(), DayToDay: dayToDay, Drift: drift, Matters: matters})
	if modelErr != nil {
		return nil, errors.Join(err, fmt.Errorf("season: -readings: %w", modelErr))
	}
	c, courseErr := m.Follow(own)
	if courseErr != nil {
		return nil, errors.Join(err, fmt.Errorf("season: -readings: %w", courseErr))
	}
	if len(pools) > 0 {
		r.Add("some readings are from another pool than the last test (%s): a shorter pool is faster by its turns", strings.Join(pools, ", "))
	}
	for _, w := range c.Warnings {
		r.Add("readings: %s", w.Text("reading"))
	}
	return &course{r, c, c.Due(today)}, err
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// Proposes reports that a test is proposed, which needs cautions.
func (f *course) Proposes() bool { return f.Due.Worth() }

// Picture draws where the curve is between the tests.
func (f *course) Picture(invented bool) (command.Picture, error) {
	return chart.Between(f.Course, f.Due.Place.Date, chart.Options{
		Title: f.Tests[0].Swimmer, Subtitle: command.Invented(fmt.Sprintf("%d tests and %d readings", len(f.Tests), len(f.Course.Readings)), invented), Pool: f.pool(),
	})
}

// SecondPicture draws the season.
func (f *course) SecondPicture(invented bool) (command.Picture, error) {
	return f.report.Picture(invented)
}

// seconds turns a small change of speed into time per 100 of the pool.
func (f *course) seconds(change float64) float64 {
	v := f.Due.Place.LT2.Value
	if math.IsNaN(v) {
		v = f.Course.Reference
	}
	return f.pool().Per100().Metres() * change / (v * v)
}
