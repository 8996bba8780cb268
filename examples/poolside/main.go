// Command poolside keeps company while a step test is swum. It reads the sheet of a
// plan, asks for each time and each sample, or reads them as someone else fills the
// sheet in, and says after each where the curve stands, what is odd about the sample,
// what to swim next and why, whether enough has been learned, and when to stop.
//
//	poolside [flags] sheet.csv
//
// The sheet is the only state: each answer is written at once, whole or not at all, so
// that the program may be closed, or killed, and started again. Other tests of the
// swimmer in the sheet, or in that of -last, say what is known before. Without input it
// says where the test stands, and ends. Faults of the sheet make the exit status 1.
package main

// The walk: follow (this file) loads the sheet (sheet.go), says where the test stands
// (tell.go), asks, and puts each answer into the test (answer.go), which is saved.

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	set := flag.NewFlagSet("poolside", flag.ContinueOnError)
	c := &companion{out: stdout}
	set.StringVar(&c.swimmer, "swimmer", "", "whose test, if the sheet has several swimmers")
	set.StringVar(&c.last, "last", "", "sheet with earlier tests of the swimmer")
	command.Dates(set, &c.dates)
	set.Usage = func() {
		fmt.Fprintln(stderr, "usage: poolside [flags] sheet.csv    (a sheet to fill in: go run ./examples/plan -best 4:56 -swimmer NAME -date 2026-11-28 -csv > sheet.csv)")
		set.PrintDefaults()
		fmt.Fprint(stderr, "\nwhat can be typed:\n"+help)
	}
	err := command.Parse(set, args, stderr, "the sheet")
	if err == nil && set.NArg() != 1 {
		err = fmt.Errorf("poolside: found %d sheets, want one, made by: go run ./examples/plan -best 4:56 -swimmer NAME -date 2026-11-28 -csv > sheet.csv", set.NArg())
	}
	if err == nil {
		c.file = set.Arg(0)
		if err = c.follow(stdin); err != nil {
			err = fmt.Errorf("poolside: %w", err)
		}
	}
	return command.Status(stderr, err)
}

// companion follows one test. What it knows of the test stands in the sheet.
type companion struct {
	file, swimmer, last string
	dates               sheet.Options
	out                 io.Writer

	text    []byte // as last read or written
	records []protocol.Record
	at      int   // of the test among the records
	fault   error // of the sheet
	known   forecast.Expected
	noRest  bool // no resting sample is wanted
	typed   bool // an answer is being worked on
}

// follow talks until the input ends.
func (c *companion) follow(in io.Reader) error {
	if err := c.load(); err != nil {
		return err
	}
	rec := c.test()
	c.say("Step test of %s, %s, %v pool: %d × %v. Written to %s after every answer; ? lists what can be typed.",
		rec.Swimmer, table.Day(rec.Date), rec.Pool, len(rec.Repeats), rec.Repeats[0].Distance, c.file)
	fmt.Fprint(c.out, "\n", command.List("Before anyone swims", protocol.Cautions()), "\n")
	c.stand()
	lines := make(chan string)
	go func() {
		defer close(lines)
		for s := bufio.NewScanner(in); s.Scan(); {
			lines <- s.Text()
		}
	}()
	second := time.NewTicker(time.Second)
	defer second.Stop()
	for asked := false; ; {
		if !asked {
			_, _, question := c.asked()
			fmt.Fprint(c.out, question, " ")
			asked = true
		}
		select {
		case line, ok := <-lines:
			if !ok {
				fmt.Fprintln(c.out)
				return c.fault
			}
			if !c.answer(line) {
				return c.fault
			}
			asked = false
		case <-second.C:
			asked = !c.look()
		}
	}
}

// look reads the sheet again if someone else has written it, and reports whether
// something was said.
func (c *companion) look() bool {
	b, err := os.ReadFile(c.file)
	if err != nil || bytes.Equal(b, c.text) {
		return false
	}
	fmt.Fprintln(c.out, "\n\nThe sheet has changed.")
	before := slices.Clone(c.test().Repeats)
	if err := c.load(); err != nil { // it may be half written
		c.say("%v", err)
		c.text = b
		return false
	}
	c.sayOdd(before)
	c.stand()
	return true
}

func (c *companion) say(format string, args ...any) { fmt.Fprint(c.out, command.Line(format, args...)) }
