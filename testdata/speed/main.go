// Command speed fits the same points with this library and with other software,
// and says what each fit takes, how many times that is what it takes here, and
// whether all found the same least sum of squares. Points are invented.
//
//	speed                  # what this library and gonum find and take, as the other programs print it
//	speed -write folder    # points.csv and start.csv, for the other programs
//	speed -table < rows    # compare rows of all programs
//	speed -bracket         # what a bracket of LT1 takes
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
	read := flags.Bool("table", false, "read rows from standard input instead of fitting")
	brackets := flags.Bool("bracket", false, "print what a bracket of LT1 takes")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	var t table
	var err error
	switch {
	case *folder != "":
		err = writeSets(*folder, invent())
	case *brackets:
		err = bracket(invent(), stdout)
	case *read:
		if err = t.read(stdin); err == nil {
			err = t.write(stdout)
		}
	default:
		if err = ours(&t, invent()); err == nil {
			err = t.writeRows(stdout)
		}
	}
	if err != nil {
		fmt.Fprintln(stderr, "speed:", err)
		return 1
	}
	return 0
}
