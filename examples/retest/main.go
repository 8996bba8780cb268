// Command retest asks whether a swimmer's curve has moved between two step
// tests, or whether the difference is noise.
//
//	retest [-brief | -full | -json] [-chart file] [sheet.csv ...]
//
// It compares the two latest tests of each swimmer in the sheets, which are
// read together; one that has nothing to read yet is left out with a note. With -brief
// it prints the answer alone. With -chart it draws each comparison too. Of a file of any
// length it holds the two latest tests of each swimmer.
//
// It compares speeds. If the two tests were swum in pools of different lengths it
// says so: a short pool has more turns, and is faster.
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
	return command.Program{Name: "retest", Bundled: sheets.Retest(), Sheets: 100, WorkOutLatest: reportOn}
}
