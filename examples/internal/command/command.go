// Package command is what the examples share: their arguments, the sheets they
// read, and how they print. It is for them alone.
package command

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.com/steptest/lactate/table"
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
	Flags func(*flag.FlagSet, *sheet.Options)
	Help  string
	// Whole prints all tests together, if that is asked for; else its text is empty.
	// Nil means that it cannot.
	Whole func(records []protocol.Record, invented bool) (text string, err error)
	// Report works tests out. The error joins all that is wrong with them; the
	// report holds the rest, and is nil if there is none.
	Report func(tests []protocol.Record) (Report, error)
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
	return Status(stderr, p.run(args, stdin, stdout, stderr))
}

// Status says an error, and returns the exit status of a program that ends with it.
func Status(stderr io.Writer, err error) int {
	if err == nil || errors.Is(err, flag.ErrHelp) {
		return 0
	}
	Complain(stderr, err)
	return 1
}

// run runs the program. The error joins all that is wrong.
func (p Program) run(args []string, stdin io.Reader, stdout, stderr io.Writer) error {
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
	if err := Parse(flags, args, stderr, "the sheet"); err != nil {
		return err
	}
	n := flags.NArg()
	invented := n == 0
	switch {
	case n > p.Sheets:
		return fmt.Errorf("%s: found %d sheets, want at most %d", p.Name, n, p.Sheets)
	case *brief && *full:
		return fmt.Errorf("%s: found -brief and -full, want one of them", p.Name)
	}
	records, err := p.read(flags.Args(), stdin, o)
	errs := []error{err}
	if *swimmer != "" {
		if records, err = Swimmer(records, *swimmer); err != nil {
			return errors.Join(errs[0], fmt.Errorf("%s: %w", p.Name, err))
		}
	}
	if p.Whole != nil {
		text, err := p.Whole(records, invented)
		errs = append(errs, err)
		if text != "" {
			if *asJSON || *brief || *full || *picture != "" {
				errs = append(errs, fmt.Errorf("%s: -json, -brief, -full and -chart are of single tests, and left out", p.Name))
			}
			_, err = io.WriteString(stdout, text)
			return errors.Join(append(errs, err)...)
		}
	}
	reports, err := p.Work(records)
	errs = append(errs, err)
	if *asJSON {
		errs = append(errs, WriteJSON(stdout, invented, reports))
	} else {
		detail := Usual
		shortened := p.Whole != nil && len(reports) > 2 && !*brief && !*full
		if *brief || shortened {
			detail = Brief
		} else if *full {
			detail = Full
		}
		text := p.text(reports, detail)
		if shortened {
			text = Sections(text, Line("The answers alone, since there are %d tests: -swimmer prints all of one, -full of each, -squad makes one table.", len(reports)))
		}
		if invented {
			text = fmt.Sprintf("Invented data. A sheet of your own: go run ./examples/%s your-sheet.csv\n\n", p.Name) + text
		}
		errs = append(errs, Print(stdout, text))
	}
	if *picture != "" {
		errs = append(errs, p.draw(*picture, reports, invented))
	}
	return errors.Join(errs...)
}

// Work works all tests out. The error joins all that is wrong with them.
func (p Program) Work(records []protocol.Record) ([]Report, error) {
	parts := protocol.BySwimmer(records)
	if !p.Season {
		parts = slices.Collect(slices.Chunk(records, 1))
	}
	reports := []Report{}
	var errs []error
	for _, tests := range parts {
		r, err := p.Report(tests)
		errs = append(errs, err)
		if r != nil {
			reports = append(reports, r)
		}
	}
	return reports, errors.Join(errs...)
}

// text prints the reports, a rule between two, and the cautions below them.
func (p Program) text(reports []Report, d Detail) string {
	var texts []string
	proposed := false
	for _, r := range reports {
		texts = append(texts, r.Text(d))
		proposed = proposed || r.Proposes()
	}
	all := strings.Join(texts, "\n"+strings.Repeat("-", table.Width)+"\n\n")
	switch {
	case !proposed:
		return all
	case d == Full:
		return Sections(all, List("Before swimming it", protocol.Cautions()))
	}
	return Sections(all, Line("%s", caution))
}

// draw draws the pictures of each report.
func (p Program) draw(file string, reports []Report, invented bool) error {
	var pictures []Picture
	var errs []error
	for _, r := range reports {
		for _, draw := range r.Pictures(invented) {
			if picture, err := draw(); err == nil {
				pictures = append(pictures, picture)
			} else {
				errs = append(errs, fmt.Errorf("%s: %w", p.Name, err))
			}
		}
	}
	if err := WritePictures(file, pictures); err != nil {
		errs = append(errs, fmt.Errorf("%s: %w", p.Name, err))
	}
	return errors.Join(errs...)
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

// read reads all sheets. The error joins their faults, and those of the sheets
// beside one another; the good rows come with it.
func (p Program) read(names []string, stdin io.Reader, o sheet.Options) ([]protocol.Record, error) {
	if len(names) == 0 {
		names = []string{""}
	}
	var all joined
	var errs []error
	for _, name := range names {
		records, faults, err := ReadFile(name, p.Bundled, stdin, o)
		if faults != nil && len(names) > 1 {
			faults = fmt.Errorf("%s: %w", name, faults)
		}
		errs = append(errs, faults)
		for _, err := range append(all.add(name, records), err) {
			if err != nil {
				errs = append(errs, fmt.Errorf("%s: %w", p.Name, err))
			}
		}
	}
	return all.records, errors.Join(errs...)
}
