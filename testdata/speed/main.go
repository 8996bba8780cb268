// Command speed fits the same points with this library and with other software,
// and says what each fit takes, how many times that is what it takes here, and
// whether all found the same least sum of squares. Points are invented.
//
//	speed                  # this library and gonum
//	speed -write folder    # points.csv and start.csv, for the other programs
//	speed -rows            # as the other programs print it
//	speed -table < rows    # compare rows of all programs
//	speed -bracket         # what a bracket of LT1 takes
//	speed -bench < output  # the smallest times of go test -bench, as a table
//
// compare.sh does all of it: it installs the GNU Scientific Library, SciPy and R
// from Debian, runs each on the same points in turn, and prints the table. The
// exit status is 1 where two programs found different minima.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("speed", flag.ContinueOnError)
	flags.SetOutput(stderr)
	folder := flags.String("write", "", "write points.csv and start.csv into this `folder`, and do no more")
	rows := flags.Bool("rows", false, "print rows instead of a table")
	read := flags.Bool("table", false, "read rows from standard input instead of fitting")
	brackets := flags.Bool("bracket", false, "print what a bracket of LT1 takes")
	bench := flags.Bool("bench", false, "read the output of go test -bench from standard input, print the smallest times")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	if *bench {
		if err := smallest(stdin, stdout); err != nil {
			fmt.Fprintln(stderr, "speed:", err)
			return 1
		}
		return 0
	}
	if *brackets {
		if err := bracket(invent(), stdout); err != nil {
			fmt.Fprintln(stderr, "speed:", err)
			return 1
		}
		return 0
	}
	var t table
	var err error
	switch {
	case *folder != "":
		err = writeSets(*folder, invent())
	case *read:
		err = t.read(stdin)
	default:
		err = ours(&t, invent())
	}
	switch {
	case err != nil || *folder != "":
	case *rows:
		err = t.writeRows(stdout)
	default:
		err = t.write(stdout)
	}
	if err != nil {
		fmt.Fprintln(stderr, "speed:", err)
		return 1
	}
	return 0
}
