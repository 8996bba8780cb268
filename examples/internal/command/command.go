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

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
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
	Flags func(*flag.FlagSet)
	Help  string
	// Whole prints all tests together, if that is asked for; else its text is empty.
	// Nil means that it cannot.
	Whole func(records []protocol.Record, invented bool) (text string, err error)
	// Report works tests out. The error joins all that is wrong with them; the
	// report holds the rest, and is nil if there is none.
	Report func(tests []protocol.Record) (Report, error)
	// Latest, instead of Report, works out the two latest tests of a swimmer that are not
	// [Pending], and what is told of those that are, by date. Earlier tests are counted.
	// Sheets of any length then take little memory, except with -json, which has all that
	// a whole sheet says of a test.
	Latest func(tests []protocol.Record, earlier int) (Report, error)
}

// Report is printed as text, or else as JSON: that of the library.
type Report interface {
	Text(Detail) string
	Proposes() bool                         // a test, which needs cautions
	Picture(invented bool) (Picture, error) // for -chart; nil if there is nothing to draw
}

// Second is a report that has another picture.
type Second interface {
	SecondPicture(invented bool) (Picture, error)
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
	if p.Flags != nil {
		p.Flags(flags)
	}
	var o sheet.Options
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
	if errors.Is(err, flag.ErrHelp) {
		return 0
	}
	n := flags.NArg()
	switch {
	case err != nil:
	case n > p.Sheets:
		err = fmt.Errorf("%s: found %d sheets, want at most %d", p.Name, n, p.Sheets)
	case *brief && *full:
		err = fmt.Errorf("%s: found -brief and -full, want one of them", p.Name)
	}
	if err != nil {
		fmt.Fprintln(stderr, err)
		return 1
	}
	status := 0
	fail := func(err error) {
		if err != nil {
			Complain(stderr, err)
			status = 1
		}
	}
	records, held, err := p.read(flags.Args(), stdin, o, *asJSON)
	fail(err)
	if *swimmer != "" {
		if held != nil {
			err = held.swimmer(*swimmer)
		} else {
			records, err = Swimmer(records, *swimmer)
		}
		if err != nil {
			fail(fmt.Errorf("%s: %w", p.Name, err))
			return status
		}
	}
	if p.Whole != nil {
		text, err := p.Whole(records, n == 0)
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
	reports := p.work(records, held)
	out := printer{name: p.Name, to: stdout, invented: n == 0, asJSON: *asJSON, picture: *picture}
	switch {
	case *brief:
		out.detail = Brief
	case *full:
		out.detail = Full
	case p.Whole != nil:
		reports = out.shorten(reports)
	}
	fail(out.begin())
	for r, err := range reports {
		fail(err)
		if r != nil {
			fail(out.report(r))
		}
	}
	fail(out.end())
	return status
}

// Work works all tests out. The error joins all that is wrong with them.
func (p Program) Work(records []protocol.Record) ([]Report, error) {
	var held *latest
	var errs []error
	if p.Latest != nil {
		held = newLatest()
		for _, rec := range records {
			errs = append(errs, held.add(rec))
		}
	}
	reports := []Report{}
	for r, err := range p.work(records, held) {
		errs = append(errs, err)
		if r != nil {
			reports = append(reports, r)
		}
	}
	return reports, errors.Join(errs...)
}

// work works tests out one after the other.
func (p Program) work(records []protocol.Record, held *latest) iter.Seq2[Report, error] {
	if held != nil {
		return held.reports(p.Latest)
	}
	return func(yield func(Report, error) bool) {
		if !p.Season {
			for i := range records {
				if !yield(p.Report(records[i : i+1 : i+1])) {
					return
				}
			}
			return
		}
		for _, tests := range BySwimmer(records) {
			if !yield(p.Report(tests)) {
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

// read reads all sheets: all their tests, or the latest of each swimmer. The error joins
// their faults, and those of the sheets beside one another; the good rows come with it.
func (p Program) read(names []string, stdin io.Reader, o sheet.Options, asJSON bool) ([]protocol.Record, *latest, error) {
	var records []protocol.Record
	var held *latest
	if p.Latest != nil {
		held = newLatest()
	}
	if len(names) == 0 {
		names, stdin = []string{"-"}, bytes.NewReader(p.Bundled)
	}
	all := joined{alone: len(names) == 1}
	var errs []error
	for _, name := range names {
		in := stdin
		if name != "-" {
			f, err := os.Open(name)
			if err != nil {
				errs = append(errs, fmt.Errorf("%s: %w", p.Name, err))
				continue
			}
			defer f.Close()
			in = f
		}
		var beside []error
		var err error
		if held != nil {
			var own *latest
			own, beside, err = all.latest(name, in, o, asJSON)
			held.merge(own)
		} else {
			var own []protocol.Record
			own, err = o.Read(in)
			j := all.begin(name)
			for _, rec := range own {
				if j.take(rec) {
					records = append(records, rec)
				}
			}
			beside = j.end()
		}
		err = DatesHint(err)
		if err != nil && len(names) > 1 {
			err = fmt.Errorf("%s: %w", name, err)
		}
		errs = append(errs, err)
		for _, err := range beside {
			errs = append(errs, fmt.Errorf("%s: %w", p.Name, err))
		}
	}
	return records, held, errors.Join(errs...)
}
