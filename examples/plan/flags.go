package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// planned is what was asked for.
type planned struct {
	request  protocol.Request
	expected forecast.Expected
	days     []time.Time // of the tests that are expected
	known    protocol.Known
	tests    int // to schedule
	avoid    []time.Time
	spaced   bool // the repeats are spaced to tell more
	squad    bool // every swimmer of the sheet
	apart    time.Duration
	members  []*planned
	csv      bool
	page     bool
	chart    string // file to draw the plan into

	distance         string          // in the unit of the pool
	start, threshold time.Duration   // per 100 of it
	given            map[string]bool // flags
	file             string          // with earlier tests; empty: the bundled one
	dates            sheet.Options

	last  string // the test that the plan follows
	drawn lactate.Test
	aside error    // what of the sheet is not used, though the plan can be made
	notes []string // on tests that are left out
}

// value is a flag with a parser of its own.
func value[T any](set *flag.FlagSet, name, usage string, parse func(string) (T, error), to *T) {
	set.Func(name, usage, func(s string) error {
		v, err := parse(s)
		if err == nil {
			*to = v
		}
		return err
	})
}

func parse(args []string, stderr io.Writer) (*planned, error) {
	c := &planned{request: protocol.Request{Pool: pace.SCY(), Repeats: 6}, apart: time.Minute, given: map[string]bool{}}
	q := &c.request
	set := flag.NewFlagSet("plan", flag.ContinueOnError)
	set.StringVar(&q.Swimmer, "swimmer", "", "name on the sheet")
	value(set, "date", "day of the test, 2025-03-08", day, &q.Date)
	value(set, "pool", `pool, "25 yd", "25 m", "50 m", SCY, SCM, LCM (default 25 yd, or that of the last test)`, pace.ParsePool, &q.Pool)
	value(set, "repeats", "number of repeats (default 6, or that of the last test)", strconv.Atoi, &q.Repeats)
	set.StringVar(&c.distance, "distance", "", "distance of a repeat, in the unit of the pool (default 400, or that of the last test)")
	command.Dates(set, &c.dates)
	set.StringVar(&c.file, "last", "", "sheet with earlier tests of the swimmer, in any order: the latest says where the curve lies, all of them how it bends")
	value(set, "best", "recent best for the distance, 4:56", positive(typed), &q.Best)
	value(set, "start", "pace of the first repeat per 100 of the pool's unit, 1:27.5", positive(typed), &c.start)
	value(set, "threshold", "pace at LT2 per 100 of the pool's unit, 1:19.5", positive(typed), &c.threshold)
	value(set, "drop", "how much faster each repeat is, per 100 [s], 2.5; else it follows from the range", positive(seconds), &q.Drop)
	value(set, "rest", "rest between repeats, 1:10", positive(typed), &q.Rest)
	value(set, "send-off", "time from start to start, 7:00, instead of a rest", positive(typed), &q.SendOff)
	set.IntVar(&q.Weeks, "weeks", 6, "weeks from one test to the next")
	set.IntVar(&c.tests, "tests", 3, "number of later tests to put on the calendar")
	value(set, "avoid", "a day of a week without a test; may be given again", func(s string) ([]time.Time, error) {
		d, err := day(s)
		return append(c.avoid, d), err
	}, &c.avoid)
	set.BoolVar(&c.spaced, "spaced", false, "space the repeats for narrow LT1 and LT2, where that narrows both by a twentieth or more")
	set.BoolVar(&c.csv, "csv", false, "write the sheet to fill in, as CSV")
	set.BoolVar(&c.page, "page", false, "write a page to print")
	set.BoolVar(&c.squad, "squad", false, "plan for every swimmer in the sheet of -last: a list of leave times and a page for each, or with -csv one sheet")
	value(set, "apart", "how far apart the swimmers of a squad start (default 1:00)", typed, &c.apart)
	set.StringVar(&c.chart, "chart", "", "also draw the plan on the curve of the last test into this `file`: .svg or .png")
	if err := command.Parse(set, args, stderr, "anything else"); err != nil {
		return nil, err
	}
	set.Visit(func(f *flag.Flag) { c.given[f.Name] = true })
	known := q.Best != 0 || c.start != 0 || c.threshold != 0
	switch {
	case set.NArg() > 0:
		return nil, fmt.Errorf("found %q, want flags only", set.Arg(0))
	case c.csv && c.page:
		return nil, errors.New("found -csv and -page, want one of them")
	case c.file != "" && known:
		return nil, errors.New("found -last and one of -best, -start and -threshold, want one or the other")
	case c.squad && (known || q.Swimmer != "" || c.chart != ""):
		return nil, errors.New("found -squad and one of -best, -start, -threshold, -swimmer and -chart, want one or the other")
	case c.squad:
		return c, c.gather()
	case !known:
		if err := c.follow(); err != nil {
			return nil, err
		}
	case !c.given["pool"]:
		c.notes = append(c.notes, fmt.Sprintf("Presumed: a %s pool; -pool names another", q.Pool))
	}
	return c, c.paces()
}

// day reads a date.
func day(s string) (time.Time, error) {
	d, err := time.Parse(time.DateOnly, s)
	switch {
	case err != nil && strings.HasSuffix(err.Error(), "out of range"):
		err = errors.New("want a day that there is, such as 2025-03-08, year first")
	case err != nil:
		err = errors.New("want a date such as 2025-03-08, year first")
	}
	return d, err
}

// positive refuses a time of zero, which would be taken for none given.
func positive(parse func(string) (time.Duration, error)) func(string) (time.Duration, error) {
	return func(s string) (time.Duration, error) {
		t, err := parse(s)
		if err == nil && t == 0 {
			err = errors.New("want a time above zero")
		}
		return t, err
	}
}

// typed reads a time. Digits that may be minutes and seconds without their colon, or seconds,
// are refused with both readings: no other repeat tells which of them is meant.
func typed(s string) (time.Duration, error) {
	t, err := pace.ParseTime(s)
	if err != nil {
		if e := (*pace.ParseError)(nil); errors.As(err, &e) {
			return 0, errors.New(e.Problem)
		}
		return 0, err
	}
	if colon, ok := pace.WithColon(t); ok && !strings.Contains(s, ":") {
		return 0, fmt.Errorf("want %s, or %s if seconds are meant", pace.FormatTime(colon, -1), pace.FormatTime(t, -1))
	}
	return t, nil
}

// seconds reads "2.5", "2.5s" or "0:02.5".
func seconds(s string) (time.Duration, error) {
	for _, unit := range []string{"", "s"} {
		if d, err := time.ParseDuration(s + unit); err == nil {
			return d, nil
		}
	}
	d, err := pace.ParseTime(s)
	if err != nil {
		err = errors.New(`want seconds such as "2.5"`)
	}
	return d, err
}

// paces reads what is given per 100 of the pool's unit.
func (c *planned) paces() error {
	q := &c.request
	unit := " " + q.Pool.UnitSymbol()
	if c.distance != "" {
		d, err := pace.ParseLength(c.distance + unit)
		if err != nil {
			return fmt.Errorf("-distance: %w", err)
		}
		if c.last != "" && d != q.Distance {
			return fmt.Errorf("-distance: found %s, want %s as in the last test, whose times say little of another", d, q.Distance)
		}
		q.Distance = d
	}
	for _, given := range []struct {
		time time.Duration
		to   *pace.Pace
	}{{c.start, &q.Start}, {c.threshold, &q.Threshold}} {
		if given.time != 0 {
			*given.to = pace.Pace{Time: given.time, Per: q.Pool.Per100()}
		}
	}
	c.known.Best = q.Best
	if v, err := q.Threshold.Speed(); err == nil && c.threshold != 0 {
		c.known.Threshold = v
	}
	return nil
}
