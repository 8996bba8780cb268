// Command week puts a training week on a screen: sets worked out from a step
// test, what was swum of them, zone by zone, and how the week was divided.
//
//	week [-json] [-test sheet.csv [-swimmer name] [-dates order]] [-scheme name] [week.csv]
//
// Without arguments it reads a bundled test and a bundled week, both invented.
// The week has a line for each set:
//
//	day,repeats,distance,zone,rest,swum,heart rate
//	Tuesday,10,200,2,0:20,2:42.6 2:41.9 2:42.2,148 151 152
//
// The test is the swimmer's latest in the sheet; a later one that is not swum yet,
// or has no lactate, is left out with a note. One with rows that could not be read
// is not trained from; faults in the tests of others are told and no more.
//
// Distances are in the unit of the test's pool, rest is the least there should
// be, times and heart rates (a dash for one not taken) are separated by blanks,
// and both may be left out. Semicolons may stand for the commas, with decimal
// commas or points. Schemes are "three", "domains", "lactate" and
// "heart-rate", or a file of JSON as zones.ReadScheme reads it. Where they need
// HRmax, the highest heart rate of the test is taken for it.
//
// Faults go to standard error and make the exit status 1; a line with a fault is
// left out, and the rest of the week is reported.
package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"example.com/steptest/examples/internal/command"
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
	flags := flag.NewFlagSet("week", flag.ContinueOnError)
	flags.SetOutput(stderr)
	asJSON := flags.Bool("json", false, "print JSON instead of text")
	name := flags.String("test", "", "sheet of the step test, the swimmer's latest in it; the bundled one if left out")
	swimmer := flags.String("swimmer", "", "whose test and week; may be left out where the sheet has one swimmer")
	var o sheet.Options
	command.Dates(flags, &o)
	scheme := flags.String("scheme", "three", "three, domains, lactate, heart-rate, or a file of JSON")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: week [-json] [-test sheet.csv [-swimmer name] [-dates order]] [-scheme name] [week.csv]    (no week: the bundled one)")
		flags.PrintDefaults()
		fmt.Fprint(stderr, weekHelp)
	}
	if err := command.Parse(flags, args, stderr, "the week"); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		fmt.Fprintln(stderr, err)
		return 1
	}
	status := 0
	fail := func(err error) {
		if err != nil {
			fmt.Fprintln(stderr, err)
			status = 1
		}
	}
	if n := flags.NArg(); n > 1 {
		fail(fmt.Errorf("week: found %d weeks, expected at most one", n))
		return status
	}

	record, left, faults, err := readTest(*name, *swimmer, o)
	if faults != nil {
		fmt.Fprintln(stderr, faults) // they make the exit status 1 in the end
	}
	fail(err)
	named, err := readNamedScheme(*scheme)
	fail(err)
	text := bundled
	if flags.NArg() == 1 {
		text, err = os.ReadFile(flags.Arg(0))
		fail(wrap(err))
	}
	if status != 0 {
		return status
	}
	table, line, err := tableOf(record, named)
	if err != nil {
		fail(fmt.Errorf("week: %s: %w", command.Whose(record), command.InWords(err)))
		return status
	}
	table.Warnings = append(left, table.Warnings...)
	sets, err := readWeek(bytes.NewReader(text), record.Pool)
	fail(err)
	r, err := reportOn(record, table, line, sets)
	fail(err)
	r.InventedTest, r.InventedWeek = *name == "", flags.NArg() == 0

	var b bytes.Buffer
	if *asJSON {
		enc := json.NewEncoder(&b)
		enc.SetIndent("", "  ")
		fail(wrap(enc.Encode(r)))
	} else {
		r.writeText(&b)
	}
	_, err = b.WriteTo(stdout)
	fail(wrap(err))
	if faults != nil {
		status = 1
	}
	return status
}

func wrap(err error) error {
	if err != nil {
		err = fmt.Errorf("week: %w", err)
	}
	return err
}

// readTest returns the latest test of a swimmer in a sheet, with a note on each
// later one that is left out since it waits to be swum, or for its samples. An
// empty swimmer is the only one that the sheet has. The faults are those of the
// sheet, in whoever's test they are; a test that has some itself is an error.
func readTest(name, swimmer string, o sheet.Options) (rec protocol.Record, left []string, faults, err error) {
	text := sheets.Single()
	if name != "" {
		if text, err = os.ReadFile(name); err != nil {
			return rec, nil, nil, wrap(err)
		}
	}
	records, faults := o.Read(bytes.NewReader(text))
	faults = command.DatesHint(faults)
	var names []string
	var his []protocol.Record
	for _, r := range records {
		if !slices.Contains(names, r.Swimmer) {
			names = append(names, r.Swimmer)
		}
		if swimmer == "" || protocol.FoldName(r.Swimmer) == protocol.FoldName(swimmer) {
			his = append(his, r)
		}
	}
	switch {
	case swimmer == "" && len(names) > 1:
		return rec, nil, faults, fmt.Errorf("week: the sheet has tests of %s: say whose with -swimmer", strings.Join(names, ", "))
	case len(his) == 0 && swimmer != "":
		return rec, nil, faults, fmt.Errorf("week: the sheet has no test of %s; it has those of %s", swimmer, strings.Join(names, ", "))
	case len(his) == 0:
		return rec, nil, faults, errors.New("week: the sheet has no test to train from")
	}
	slices.SortStableFunc(his, func(a, b protocol.Record) int { return a.Date.Compare(b.Date) })
	ready, _ := command.Ready(his)
	if len(ready) == 0 {
		last := his[len(his)-1]
		return rec, nil, faults, fmt.Errorf("week: %s: %s, and there is no other test to train from", command.Whose(last), command.Pending(last))
	}
	last := ready[len(ready)-1]
	if _, err := last.Test(); err != nil {
		return rec, nil, faults, fmt.Errorf("week: the test of %s, %s, has rows with faults, listed above: nobody should train by part of a test, so mend them first",
			last.Swimmer, command.Day(last.Date))
	}
	later := slices.DeleteFunc(his, func(r protocol.Record) bool { return !r.Date.After(last.Date) })
	_, left = command.Ready(later)
	return last, left, faults, nil
}

// readNamedScheme returns a published scheme by name, or one from a file.
func readNamedScheme(name string) (zones.Scheme, error) {
	switch name {
	case "three":
		return zones.ThreeZone(), nil
	case "domains":
		return zones.Domains(), nil
	case "lactate":
		return zones.FiveZoneLactate(), nil
	case "heart-rate":
		return zones.FiveZoneHeartRate(), nil
	}
	f, err := os.Open(name)
	if err != nil {
		return zones.Scheme{}, fmt.Errorf("week: scheme: found %q, expected three, domains, lactate, heart-rate or a file: %w", name, err)
	}
	defer f.Close()
	return zones.ReadScheme(f)
}
