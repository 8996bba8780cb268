package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/testdata/sheets"
)

// planned is what was asked for.
type planned struct {
	request  protocol.Request
	expected protocol.Expected
	days     []time.Time // of the tests that are expected
	known    protocol.Known
	aim      protocol.Aim
	tests    int // to schedule
	avoid    []time.Time
	better   bool // the better plan is the one to write
	csv      bool
	page     bool
	invented bool
	last     string // the test that the plan follows
	chart    string // file to draw the plan into
	drawn    lactate.Test
	aside    error    // what of the sheet is not used, though the plan can be made
	notes    []string // on tests that are left out
}

// value is a flag with a parser of its own.
func value[T any](set *flag.FlagSet, name, usage string, parse func(string) (T, error), use func(T)) {
	set.Func(name, usage, func(s string) error {
		v, err := parse(s)
		if err == nil {
			use(v)
		}
		return err
	})
}

func parse(args []string, stderr io.Writer) (*planned, error) {
	c := &planned{request: protocol.Request{Pool: pace.SCY(), Repeats: 6}}
	q := &c.request
	set := flag.NewFlagSet("plan", flag.ContinueOnError)
	day := func(s string) (time.Time, error) {
		d, err := time.Parse(time.DateOnly, s)
		if err != nil && strings.HasSuffix(err.Error(), "out of range") {
			return d, errors.New("want a day that there is, such as 2025-03-08, year first")
		}
		if err != nil {
			err = errors.New("want a date such as 2025-03-08, year first")
		}
		return d, err
	}
	var distance, start, threshold, sheet, targets, aim string
	pool := false
	set.StringVar(&q.Swimmer, "swimmer", "", "name on the sheet")
	value(set, "date", "day of the test, 2025-03-08", day, func(d time.Time) { q.Date = d })
	value(set, "pool", `pool, "25 yd", "25 m", "50 m", SCY, SCM, LCM (default 25 yd, or that of the last test)`, pace.ParsePool, func(p pace.Pool) { q.Pool, pool = p, true })
	repeats := false
	value(set, "repeats", "number of repeats (default 6, or that of the last test)", strconv.Atoi, func(n int) { q.Repeats, repeats = n, true })
	set.StringVar(&distance, "distance", "", "distance of a repeat, in the unit of the pool (default 400, or that of the last test)")
	set.StringVar(&sheet, "last", "", "sheet with earlier tests of the swimmer, in any order: the latest says where the curve lies, all of them how it bends")
	value(set, "best", "recent best for the distance, 4:56", positive(pace.ParseTime), func(t time.Duration) { q.Best = t })
	set.StringVar(&start, "start", "", "pace of the first repeat per 100 of the pool's unit, 1:27.5")
	set.StringVar(&threshold, "threshold", "", "pace at LT2 per 100 of the pool's unit, 1:19.5")
	value(set, "drop", "how much faster each repeat is, per 100 [s], 2.5", positive(seconds), func(t time.Duration) { q.Drop = t })
	value(set, "rest", "rest between repeats, 1:10", positive(pace.ParseTime), func(t time.Duration) { q.Rest = t })
	value(set, "send-off", "time from start to start, 7:00, instead of a rest", positive(pace.ParseTime), func(t time.Duration) { q.SendOff = t })
	set.IntVar(&q.Weeks, "weeks", 6, "weeks from one test to the next")
	set.IntVar(&c.tests, "tests", 3, "number of later tests to put on the calendar")
	value(set, "avoid", "a day of a week without a test; may be given again", day, func(d time.Time) { c.avoid = append(c.avoid, d) })
	set.StringVar(&aim, "aim", "LT2", "what the better plan makes as narrow as can be: LT1, LT2 or shift")
	set.StringVar(&targets, "targets", "even", "targets for -csv and -page: even or better")
	set.BoolVar(&c.csv, "csv", false, "write the sheet to fill in, as CSV")
	set.BoolVar(&c.page, "page", false, "write a page to print")
	set.StringVar(&c.chart, "chart", "", "also draw the plan on the curve of the last test into this `file`: .svg, .png or .pdf")
	if err := command.Parse(set, args, stderr, "anything else"); err != nil {
		return nil, err
	}
	if set.NArg() > 0 {
		return nil, fmt.Errorf("found %q, want flags only", set.Arg(0))
	}
	if c.csv && c.page {
		return nil, errors.New("found -csv and -page, want one of them")
	}
	switch targets {
	case "even", "better":
		c.better = targets == "better"
	default:
		return nil, fmt.Errorf("-targets: found %q, want even or better", targets)
	}
	switch strings.ToUpper(aim) {
	case "LT2":
	case "LT1":
		c.aim = protocol.NarrowLT1
	case "SHIFT":
		c.aim = protocol.NarrowShift
	default:
		return nil, fmt.Errorf("-aim: found %q, want LT1, LT2 or shift", aim)
	}
	given := q.Best != 0 || start != "" || threshold != ""
	if sheet != "" && given {
		return nil, errors.New("found -last and one of -best, -start and -threshold, want one or the other")
	}
	if !given {
		if err := c.follow(sheet, pool, repeats); err != nil {
			return nil, err
		}
	}
	return c, c.paces(distance, start, threshold)
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

// seconds reads "2.5", "2.5s" or "0:02.5".
func seconds(s string) (time.Duration, error) {
	if d, err := time.ParseDuration(s); err == nil {
		return d, nil
	}
	if d, err := time.ParseDuration(s + "s"); err == nil {
		return d, nil
	}
	d, err := pace.ParseTime(s)
	if err != nil {
		err = errors.New(`want seconds such as "2.5"`)
	}
	return d, err
}

// paces reads what is given per 100 of the pool's unit.
func (c *planned) paces(distance, start, threshold string) error {
	q := &c.request
	unit := " " + q.Pool.UnitSymbol()
	if distance != "" {
		d, err := pace.ParseLength(distance + unit)
		if err != nil {
			return fmt.Errorf("-distance: %w", err)
		}
		if c.last != "" && d != q.Distance {
			return fmt.Errorf("-distance: found %s, want %s as in the last test, whose times say little of another", d, q.Distance)
		}
		q.Distance = d
	}
	for _, f := range []struct {
		name, text string
		to         *pace.Pace
	}{{"start", start, &q.Start}, {"threshold", threshold, &q.Threshold}} {
		if f.text == "" {
			continue
		}
		p, err := pace.ParsePace(f.text + "/100" + unit)
		if err != nil {
			return fmt.Errorf("-%s: %w", f.name, err)
		}
		*f.to = p
	}
	c.known.Best = q.Best
	if v, err := q.Threshold.Speed(); err == nil && threshold != "" {
		c.known.Threshold = v
	}
	return nil
}

// follow plans the test after the last one of a sheet.
func (c *planned) follow(name string, otherPool, repeats bool) error {
	sheet := sheets.Single()
	if name == "" {
		c.invented = true
	} else {
		var err error
		if sheet, err = os.ReadFile(name); err != nil {
			return err
		}
	}
	records, err := protocol.ReadSheet(bytes.NewReader(sheet))
	if len(records) == 0 {
		return err
	}
	q := &c.request
	aside := []error{ofNoTest(err, records)}
	var tests []protocol.Record // of the swimmer
	named := q.Swimmer != ""
	for _, r := range records {
		if q.Swimmer == "" {
			q.Swimmer = r.Swimmer
		}
		if r.Swimmer != q.Swimmer {
			if !named {
				hint := ""
				if fold := func(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), "")) }; fold(q.Swimmer) == fold(r.Swimmer) {
					hint = "; if they are one swimmer, give the sheet one spelling of the name"
				}
				return fmt.Errorf("the sheet has tests of %s and of %s: say whose with -swimmer%s", q.Swimmer, r.Swimmer, hint)
			}
			continue
		}
		tests = append(tests, r)
	}
	if len(tests) == 0 {
		return errors.Join(fmt.Errorf("the sheet has no test of %s", q.Swimmer), aside[0])
	}
	var swum time.Time // the day of the last test, read or not
	for _, r := range tests {
		if command.Pending(r) != "not swum" && r.Date.After(swum) {
			swum = r.Date
		}
	}
	tests, c.notes = command.Ready(tests)
	if len(tests) == 0 {
		return errors.Join(fmt.Errorf("no test to plan from:\n%s", strings.Join(c.notes, "\n")), aside[0])
	}
	slices.SortStableFunc(tests, func(a, b protocol.Record) int { return a.Date.Compare(b.Date) })
	latest := tests[len(tests)-1]
	for _, r := range tests {
		if why := unlike(r, latest); why != "" {
			c.notes = append(c.notes, fmt.Sprintf("%s, %s: %s, and left out", r.Swimmer, command.Day(r.Date), why))
			continue
		}
		test, err := r.Test()
		rows, _ := r.Lost()
		whole := rows == 0 && !errors.Is(err, protocol.ErrNoRepeats)
		if !whole && r.Date.Equal(latest.Date) {
			return fmt.Errorf("the last test of %s, %s, is not whole, and nothing is planned from part of it:\n%w", q.Swimmer, command.Day(r.Date), err)
		}
		if err != nil {
			aside = append(aside, fmt.Errorf("the test of %s, %s:\n%w", q.Swimmer, command.Day(r.Date), err))
		}
		if whole {
			c.expected.Tests = append(c.expected.Tests, test)
			c.days = append(c.days, r.Date)
		}
	}
	c.aside = errors.Join(aside...)
	if otherPool && q.Pool != latest.Pool {
		return fmt.Errorf("found a plan for a %s pool after a test in a %s pool; speeds of different pools do not mix", q.Pool, latest.Pool)
	}
	test, _ := latest.Test() // its faults are aside
	a, err := lactate.Analyze(test, lactate.Options{})
	if err != nil {
		return fmt.Errorf("the test of %s, %s: %w", q.Swimmer, command.Day(latest.Date), command.InWords(err))
	}
	c.drawn = test
	c.last = "the test of " + latest.Date.Format("2 January 2006")
	q.Pool, q.Distance = latest.Pool, latest.Repeats[len(latest.Repeats)-1].Distance
	if !repeats {
		q.Repeats = len(latest.Repeats)
	}
	drop := q.Drop
	*q = q.FromLast(a)
	if drop != 0 {
		q.Start, q.Drop = pace.Pace{}, drop
	}
	if a.LT2.Err == nil { // and paces leaves it alone
		c.known.Threshold = pace.Speed(a.LT2.Intensity.Value)
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
	var walk func(error)
	walk = func(err error) {
		if many, ok := err.(interface{ Unwrap() []error }); ok {
			for _, e := range many.Unwrap() {
				walk(e)
			}
			return
		}
		var fault *protocol.SheetError
		if errors.As(err, &fault) && slices.ContainsFunc(records, func(r protocol.Record) bool { return slices.Contains(r.Faults, fault) }) {
			return
		}
		if err != nil {
			out = append(out, err)
		}
	}
	walk(err)
	return errors.Join(out...)
}
