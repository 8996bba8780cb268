// Command steptest reads the sheet of a step test and prints the answer first: LT1
// and LT2, the training zones on them, how far to trust both, and what to do next.
// Below that stand the thresholds by definition and what to doubt.
//
//	steptest [-brief | -full | -json] [-chart file [-size cm]] [flags] [sheet.csv]
//	steptest -squad [-csv | -html] [flags] [sheet.csv]
//
// With -brief it prints the answer alone, with -full the repeats, the definitions on
// other curves, the stroke and the next test too; -squad is one table of all
// swimmers. Other definitions, another noise and other zones are flags, see -h. With
// -chart it draws each test, and its stroke.
package main

// From the sheet to the printed zones: command.Program.Run reads the sheet (protocol/squad,
// and protocol/sheet below it); report.go works each test out, its zones by command.Zones;
// text.go prints the report and chart.go draws it. squad.go makes one table of all.

import (
	"flag"
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
	"gonum.org/v1/plot/vg"
)

func main() {
	os.Exit(program().Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// settings are the flags of this program.
type settings struct {
	command.Choices
	squad, csv, html bool
	size             chart.Options // its width and height alone
}

func program() command.Program {
	s := new(settings)
	return command.Program{Name: "steptest", Bundled: sheets.Single(), Sheets: 1, Flags: s.define, Help: command.ZonesHelp, Together: s.squadTable,
		Many: 2, ManyHint: "The answers alone, since there are %d tests: -swimmer prints all of one, -full of each, -squad makes one table.",
		WorkOut: func(tests []protocol.Record) (command.Report, error) { return s.reportOn(tests[0]) }}
}

func (s *settings) define(flags *flag.FlagSet, _ *sheet.Options) {
	s.Define(flags)
	flags.BoolVar(&s.squad, "squad", false, "print one table of all swimmers")
	flags.BoolVar(&s.csv, "csv", false, "with -squad: for a spreadsheet")
	flags.BoolVar(&s.html, "html", false, "with -squad: a page to print")
	flags.Func("size", "width of the pictures in `cm`, or width and height, such as 8.5 for a phone or 8.5x12 (default 12)", func(text string) error {
		m := size.FindStringSubmatch(text)
		if m == nil {
			return fmt.Errorf("want a width in cm such as 8.5, or width and height such as 8.5x12")
		}
		cm := func(s string) vg.Length {
			v, _ := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64) // an empty height is none
			return vg.Length(v) * vg.Centimeter
		}
		s.size.Width, s.size.Height = cm(m[1]), cm(m[2])
		return nil
	})
}

var size = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]+)?)(?:x([0-9]+(?:[.,][0-9]+)?))?$`)
