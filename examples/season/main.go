// Command season follows a swimmer through any number of step tests: how far
// the curve has moved from the first one, whether there is a trend, and where
// the next test is to be expected.
//
//	season [-brief | -full | -json] [-chart file] [-readings file [-today day]] [sheet.csv ...]
//
// All sheets are read together; a test that stands in two of them counts once, and
// one that has nothing to read yet is left out with a note. With -brief it prints the
// trend alone. With -chart it draws each season too.
//
// With -readings it first follows the curve between the tests, by lactates taken in
// training, see sheet.ReadReadings: where it is, what was news, whether a test is worth
// its blood. Its picture comes before that of the season.
//
// It compares speeds. If tests were swum in pools of different lengths it says so:
// a short pool has more turns, and is faster.
package main

import (
	"os"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/testdata/sheets"
)

func main() {
	os.Exit(program().Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

func program() command.Program {
	var f readings
	return command.Program{Name: "season", Bundled: sheets.Season(), Sheets: 100, Season: true, Flags: f.define, WorkOut: f.reportOn}
}
