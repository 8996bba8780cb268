// Command week puts a training week on a screen: sets worked out from a step
// test, what was swum of them, zone by zone, and how the week was divided.
//
//	week [-json] [-test sheet.csv [-swimmer name]] [flags] [week.csv]
//	week -hours 6 -days 5 [-csv] [-test sheet.csv [-swimmer name]] [flags]
//
// Without arguments it reads a bundled test and a bundled week, both invented. The
// week has a line for each set, see -h and zones.ReadWeek. With -hours and -days it
// proposes a week instead, for a coach to change; with -csv as a file that it reads.
//
// The test is the swimmer's latest in the sheet; a later one that is not swum yet,
// or has no lactate, is left out with a note. One with rows that could not be read
// is not trained from; faults in the tests of others are told and no more. Where zones
// need HRmax, the highest heart rate of the test is taken for it.
//
// A line with a fault is left out, and the rest of the week is reported.
package main

import (
	"bytes"
	_ "embed"
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
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
	"example.com/steptest/zones"
)

//go:embed week.csv
var bundled []byte

// weekHelp shows what a week looks like.
const weekHelp = `a week has a line for each set, such as
  day,repeats,distance,zone,rest,swum,heart rate
  Tuesday,4,200,2,0:20,2:42.6 2:41.9 2:42.2 2:42.5,142 144 - 147
  Wednesday,8,300,1,0:20,,
distances are in the unit of the pool, rest is the least there should be; times and heart rates
(a dash: not taken) are separated by blanks and may be left out
`

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

// run is main with its surroundings as arguments. It returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	return command.Status(stderr, work(args, stdout, stderr))
}

// asked is what the flags say.
type asked struct {
	hours         float64
	days          int
	json, csv     bool
	test, swimmer string
	week          string // file; empty: the bundled one
	dates         sheet.Options
}

// proposed reports whether a week is to be proposed.
func (q *asked) proposed() bool { return q.hours != 0 || q.days != 0 }

// parse reads the flags, those of the thresholds and zones into the report.
func (r *report) parse(args []string, stderr io.Writer) (q asked, err error) {
	flags := flag.NewFlagSet("week", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.BoolVar(&q.json, "json", false, "print JSON instead of text")
	flags.Func("hours", "propose a week of so many `hours` in the water, rests included, such as 6, 4.5 or 4:30", func(s string) (err error) {
		q.hours, err = parseHours(s)
		return err
	})
	flags.IntVar(&q.days, "days", 0, "on so many days, with -hours")
	flags.BoolVar(&q.csv, "csv", false, "with -hours: print the week as a file to change and read again")
	flags.StringVar(&q.test, "test", "", "sheet of the step test, the swimmer's latest in it; the bundled one if left out")
	flags.StringVar(&q.swimmer, "swimmer", "", "whose test and week; may be left out where the sheet has one swimmer")
	command.Dates(flags, &q.dates)
	r.choices.Define(flags)
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: week [-json] [-test sheet.csv [-swimmer name]] [flags] [week.csv]    (no week: the bundled one)")
		fmt.Fprintln(stderr, "       week -hours 6 -days 5 [-csv] [-test sheet.csv [-swimmer name]] [flags]")
		flags.PrintDefaults()
		fmt.Fprint(stderr, weekHelp, command.ZonesHelp)
	}
	if err := command.Parse(flags, args, stderr, "the week"); err != nil {
		return q, err
	}
	q.week = flags.Arg(0)
	switch n := flags.NArg(); {
	case n > 1:
		return q, fmt.Errorf("week: found %d weeks, want at most one", n)
	case q.proposed() && (q.hours == 0 || q.days == 0):
		return q, errors.New("week: found one of -hours and -days, want both, such as -hours 6 -days 5")
	case q.proposed() && n > 0:
		return q, fmt.Errorf("week: found -hours and the week %q, want one of them", q.week)
	case q.csv && !q.proposed():
		return q, errors.New("week: -csv goes with -hours and -days")
	}
	return q, nil
}

// work prints the week. The error joins all that is wrong with it.
func work(args []string, stdout, stderr io.Writer) error {
	r := new(report)
	q, err := r.parse(args, stderr)
	if err != nil {
		return err
	}
	r.InventedTest, r.InventedWeek, r.Proposed = q.test == "", q.week == "" && !q.proposed(), q.proposed()
	faults, err := r.readTest(q.test, q.swimmer, q.dates) // the faults alone stop nothing
	text := bundled
	if q.week != "" {
		var fileErr error
		text, fileErr = os.ReadFile(q.week)
		err = errors.Join(err, wrap(fileErr))
	}
	if err != nil {
		return errors.Join(faults, err)
	}
	if err := r.zone(); err != nil {
		return errors.Join(faults, fmt.Errorf("week: %s: %w", r.Test.Whose(), protocol.InWords(err)))
	}
	var sets []zones.WeekSet
	if q.proposed() {
		sets, err = r.Zones.Propose(zones.Volume{Time: time.Duration(q.hours * float64(time.Hour)), Days: q.days}, r.Test.Pool)
		if err != nil {
			return errors.Join(faults, wrap(protocol.InWords(err)))
		}
	} else {
		sets, err = zones.ReadWeek(bytes.NewReader(text), r.Test.Pool)
		err = ofWeek(err)
	}
	err = errors.Join(faults, err, r.plan(sets))
	switch {
	case q.csv:
		return errors.Join(err, zones.WriteWeek(stdout, sets, r.Test.Pool))
	case q.json:
		return errors.Join(err, wrap(command.WriteJSON(stdout, r.InventedTest || r.InventedWeek, r)))
	}
	return errors.Join(err, wrap(command.Print(stdout, r.text())))
}

// parseHours reads hours, or hours and minutes.
func parseHours(s string) (float64, error) {
	h, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if strings.Contains(s, ":") {
		var t time.Duration
		t, err = pace.ParseTime(s + ":00")
		h = t.Hours()
	}
	if err != nil || !(h > 0 && h <= 168) {
		return 0, fmt.Errorf("found %q, want hours such as 6, 4.5 or 4:30", s)
	}
	return h, nil
}

func wrap(err error) error {
	if err != nil {
		err = fmt.Errorf("week: %w", err)
	}
	return err
}

// readTest takes the latest test of a swimmer in a sheet, with a note on each later
// one that is left out since it waits to be swum, or for its samples. An empty
// swimmer is the only one that the sheet has. The faults are those of the sheet, in
// whoever's test they are; a test that has some itself is an error.
func (r *report) readTest(name, swimmer string, o sheet.Options) (faults, err error) {
	records, faults, err := command.ReadFile(name, sheets.Single(), o)
	if err != nil {
		return nil, wrap(err)
	}
	theirs, err := command.Swimmer(records, swimmer)
	if err != nil {
		return faults, wrap(err)
	}
	ready, _ := command.Ready(theirs)
	if len(ready) == 0 {
		last := theirs[len(theirs)-1]
		return faults, fmt.Errorf("week: %s: %s, and there is no other test to train from", last.Whose(), last.Pending())
	}
	r.Test = ready[len(ready)-1]
	if len(r.Test.Faults) > 0 {
		return faults, fmt.Errorf("week: the test of %s, %s, has rows with faults, listed above: nobody should train by part of a test: mend them first",
			r.Test.Swimmer, table.Day(r.Test.Date))
	}
	later := slices.DeleteFunc(theirs, func(rec protocol.Record) bool { return !rec.Date.After(r.Test.Date) })
	_, r.Doubts.Doubts = command.Ready(later)
	return faults, nil
}
