// Command steptest reads the sheet of a step test and prints what a swimmer
// asks of it: what was swum, where the two thresholds lie and how sure that
// is, what other definitions say, training zones, and the next test.
//
//	steptest [-json] [-chart file] [sheet.csv]
//
// Without a sheet it reads the bundled one, which is invented; "-" reads
// standard input. A sheet may hold several tests: each is reported. Faults go
// to standard error and make the exit status 1; what can be read is reported
// even so. With -chart it draws each test too.
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
	return command.Program{Name: "steptest", Bundled: sheets.Single(), Sheets: 1, Report: reportAll, Draws: true}
}
