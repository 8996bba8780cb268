// Package command is what the examples share: their arguments, the sheets they
// read, and how they print. It is for them alone.
package command

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"iter"
	"os"
	"slices"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/protocol/squad"
)

// Program is an example: sheets go in, a report comes out.
//
// Without a sheet it reads the bundled one; "-" is standard input. A test that
// stands in two sheets counts once, and is a fault of the later. Faults go to
// standard error and make the exit status 1; what can be reported is reported
// even so.
type Program struct {
	Name    string
	Bundled []byte // an invented sheet
	Sheets  int    // most sheets that are read together
	// Season says that all tests of a swimmer make one report, by date; else each
	// test makes one.
	Season bool
	// Flags are further flags of the program; Help follows them. Nil means none.
	Flags func(*flag.FlagSet, *sheet.Options)
	Help  string
	// Whole prints all tests together, if that is asked for; else its text is empty.
	// Nil means that it cannot.
	Whole func(records []protocol.Record, invented bool) (text string, err error)
	// Report works tests out. The error joins all that is wrong with them; the
	// report holds the rest, and is nil if there is none.
	Report func(tests []protocol.Record) (Report, error)
	// Latest, instead of Report, works out the two latest tests of a swimmer that are not
	// pending, and what is told of those that are, by date. Earlier tests are counted.
	// Sheets of any length then take little memory, except with -json, which has all that
	// a whole sheet says of a test.
	Latest func(tests []protocol.Record, earlier int) (Report, error)
}

// Report is printed as text, or else as JSON: that of the library.
type Report interface {
	Text(Detail) string
	Proposes() bool                   // a test, which needs cautions
	Pictures(invented bool) []Drawing // for -chart
}

// Detail is how much a report says.
type Detail int

// From the answer alone to everything.
const (
	Brief Detail = iota - 1
	Usual
	Full
)

// Run runs the program and returns its exit status.
func (p Program) Run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet(p.Name, flag.ContinueOnError)
	asJSON := flags.Bool("json", false, "print JSON instead of text")
	brief := flags.Bool("brief", false, "print the answer alone")
	full := flags.Bool("full", false, "print everything")
	picture := flags.String("chart", "", "also draw it into this `file`: .svg or .png; further pictures get a number")
	swimmer := flags.String("swimmer", "", "the tests of this swimmer alone, whatever the case of the `name`")
	var o sheet.Options
	if p.Flags != nil {
		p.Flags(flags, &o)
	}
	Dates(flags, &o)
	flags.Usage = func() {
		sheets := "[sheet.csv]"
		if p.Sheets > 1 {
			sheets = "[sheet.csv ...]"
		}
		fmt.Fprintf(stderr, "usage: %s [-brief | -full | -json] [flags] %s    (no sheet: the bundled one; -: standard input)\n", p.Name, sheets)
		flags.PrintDefaults()
		fmt.Fprint(stderr, p.Help)
	}
	err := Parse(flags, args, stderr, "the sheet")
	n := flags.NArg()
	switch {
	case err != nil:
	case n > p.Sheets:
		err = fmt.Errorf("%s: found %d sheets, want at most %d", p.Name, n, p.Sheets)
	case *brief && *full:
		err = fmt.Errorf("%s: found -brief and -full, want one of them", p.Name)
	}
	if err != nil {
		return Status(stderr, err)
	}
	status := 0
	fail := func(err error) { status = max(status, Status(stderr, err)) }
	all, err := p.read(flags.Args(), stdin, o, *asJSON)
	fail(err)
	if *swimmer != "" {
		var names []protocol.Record
		for _, name := range all.Names() {
			names = append(names, protocol.Record{Swimmer: name})
		}
		one, err := Swimmer(names, *swimmer)
		if err != nil {
			fail(fmt.Errorf("%s: %w", p.Name, err))
			return status
		}
		all.Only(one[0].Swimmer)
	}
	if p.Whole != nil {
		text, err := p.Whole(all.Records(), n == 0)
		fail(err)
		if text != "" {
			if *asJSON || *brief || *full || *picture != "" {
				fail(fmt.Errorf("%s: -json, -brief, -full and -chart are of single tests, and left out", p.Name))
			}
			_, err = io.WriteString(stdout, text)
			fail(err)
			return status
		}
	}
	out := printer{name: p.Name, to: stdout, invented: n == 0, asJSON: *asJSON, picture: *picture}
	switch {
	case *brief:
		out.detail = Brief
	case *full:
		out.detail = Full
	case p.Whole != nil && len(all.Records()) > 2:
		out.detail, out.shortened = Brief, true
	}
	if n == 0 && !*asJSON {
		fail(Print(stdout, fmt.Sprintf("Invented data. A sheet of your own: go run ./examples/%s your-sheet.csv\n\n", p.Name)))
	}
	for r, err := range p.work(all) {
		fail(err)
		if r != nil {
			fail(out.report(r))
		}
	}
	fail(out.end())
	return status
}

// Status says an error, and returns the exit status of a program that ends with it.
func Status(stderr io.Writer, err error) int {
	if err == nil || errors.Is(err, flag.ErrHelp) {
		return 0
	}
	Complain(stderr, err)
	return 1
}

// Work works all tests out. The error joins all that is wrong with them.
func (p Program) Work(records []protocol.Record) ([]Report, error) {
	all := &squad.Sheets{Latest: p.Latest != nil}
	var errs []error
	for _, rec := range records {
		errs = append(errs, all.Put(rec))
	}
	reports := []Report{}
	for r, err := range p.work(all) {
		errs = append(errs, err)
		if r != nil {
			reports = append(reports, r)
		}
	}
	return reports, errors.Join(errs...)
}

// work works tests out one after the other, or those of one swimmer after the other's.
func (p Program) work(all *squad.Sheets) iter.Seq2[Report, error] {
	return func(yield func(Report, error) bool) {
		if !p.Season && p.Latest == nil {
			for tests := range slices.Chunk(all.Records(), 1) {
				if !yield(p.Report(tests)) {
					return
				}
			}
			return
		}
		for s, err := range all.Swimmers() {
			var r Report
			switch {
			case err != nil:
			case p.Latest != nil:
				r, err = p.Latest(s.Tests, s.Earlier)
			default:
				r, err = p.Report(s.Tests)
			}
			if !yield(r, err) {
				return
			}
		}
	}
}

// WriteJSON writes a report, and whether its data is invented.
func WriteJSON(w io.Writer, invented bool, report any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return Unheard(enc.Encode(struct {
		Invented bool   `json:"invented_data"`
		Unit     string `json:"intensity_unit"`
		Report   any    `json:"report"`
	}{invented, "m/s", report}))
}

// read reads all sheets. The error joins their faults, and those of the sheets beside one
// another; the good rows come with it.
func (p Program) read(names []string, stdin io.Reader, o sheet.Options, asJSON bool) (*squad.Sheets, error) {
	if len(names) == 0 {
		names, stdin = []string{"-"}, bytes.NewReader(p.Bundled)
	}
	all := &squad.Sheets{Options: o, Latest: p.Latest != nil, Notes: asJSON}
	var errs []error
	for _, name := range names {
		in, called := stdin, "standard input"
		if name != "-" {
			f, err := os.Open(name)
			if err != nil {
				errs = append(errs, fmt.Errorf("%s: %w", p.Name, err))
				continue
			}
			defer f.Close()
			in, called = f, name
		}
		beside, err := all.Add(called, in)
		if err = DatesHint(err); err != nil && len(names) > 1 {
			err = fmt.Errorf("%s: %w", name, err)
		}
		errs = append(errs, err)
		for _, err := range beside {
			errs = append(errs, fmt.Errorf("%s: %w", p.Name, err))
		}
	}
	return all, errors.Join(errs...)
}
