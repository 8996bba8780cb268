// Command steptest reads the sheet of a step test and prints the answer first: LT1
// and LT2, the training zones on them, how far to trust both, and what to do next.
// Below that stand the thresholds by definition and what to doubt.
//
//	steptest [-brief | -full | -json] [-chart file] [sheet.csv]
//
// With -brief it prints the answer alone, with -full the repeats, the definitions on
// another curve, the stroke and the next test too. Without a sheet it reads the
// bundled one, which is invented; "-" reads standard input. Faults go to standard
// error and make the exit status 1; what can be reported is reported even so. With
// -chart it draws each test.
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
	return command.Program{Name: "steptest", Bundled: sheets.Single(), Sheets: 1, Report: reportOn}
}
