// Command steptest reads the sheet of a step test and prints what a swimmer
// asks of it: what was swum, where the two thresholds lie and how sure that
// is, what other definitions say, training zones, and the next test.
//
//	steptest [-json] [sheet.csv]
//
// Without a sheet it reads the bundled one, which is invented; "-" reads
// standard input. A sheet may hold several tests: each is reported. Faults go
// to standard error and make the exit status 1; what can be read is reported
// even so.
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/steptest/protocol"
	"example.com/steptest/testdata/sheets"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is main with its surroundings as arguments. It returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("steptest", flag.ContinueOnError)
	flags.SetOutput(stderr)
	asJSON := flags.Bool("json", false, "print JSON instead of text")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: steptest [-json] [sheet.csv]    (no sheet: the bundled one; -: standard input)")
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); err != nil {
		if err == flag.ErrHelp {
			return 0
		}
		return 1
	}
	if flags.NArg() > 1 {
		fmt.Fprintf(stderr, "steptest: found %d sheets, expected at most one\n", flags.NArg())
		flags.Usage()
		return 1
	}

	status := 0
	fail := func(err error) {
		fmt.Fprintln(stderr, err)
		status = 1
	}
	out := output{Tests: []*report{}}
	in := io.Reader(bytes.NewReader(sheets.Single()))
	switch name := flags.Arg(0); name {
	case "":
		out.Invented = true
	case "-":
		in = stdin
	default:
		f, err := os.Open(name)
		if err != nil {
			fail(fmt.Errorf("steptest: %w", err))
			return status
		}
		defer f.Close()
		in = f
	}
	records, err := protocol.ReadSheet(in)
	if err != nil {
		fail(err)
	}
	for _, rec := range records {
		r := reportOn(rec)
		if r.Problem != "" {
			fail(fmt.Errorf("steptest: %s, %s: %s", r.Swimmer, r.Date, r.Problem))
		}
		if r.Next != nil {
			out.Safety = protocol.Cautions()
		}
		out.Tests = append(out.Tests, r)
	}
	if *asJSON {
		enc := json.NewEncoder(stdout)
		enc.SetIndent("", "  ")
		err = enc.Encode(out)
	} else {
		err = out.write(stdout)
	}
	if err != nil {
		fail(fmt.Errorf("steptest: %w", err))
	}
	return status
}
