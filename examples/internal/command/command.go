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
	"os"

	"example.com/steptest/protocol"
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
	// Report works the tests out. The error joins all that is wrong with them;
	// the report holds the rest.
	Report func(records []protocol.Record) (Report, error)
}

// Report is printed as text, or else as JSON: that of the library.
type Report interface {
	Text(Detail) string
	// Pictures draws each part of the report, for -chart. The error joins what
	// cannot be drawn; the rest is.
	Pictures(invented bool) ([]Picture, error)
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
	picture := flags.String("chart", "", "also draw it into this `file`: .svg, .png or .pdf; further pictures get a number")
	flags.Usage = func() {
		sheets := "[sheet.csv]"
		if p.Sheets > 1 {
			sheets = "[sheet.csv ...]"
		}
		fmt.Fprintf(stderr, "usage: %s [-brief | -full | -json] [-chart file] %s    (no sheet: the bundled one; -: standard input)\n", p.Name, sheets)
		flags.PrintDefaults()
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
			fmt.Fprintln(stderr, err)
			status = 1
		}
	}
	records, err := p.read(flags.Args(), stdin)
	fail(err)
	report, err := p.Report(records)
	fail(err)
	if *asJSON {
		fail(WriteJSON(stdout, n == 0, report))
	} else {
		detail := Usual
		if *brief {
			detail = Brief
		} else if *full {
			detail = Full
		}
		text := report.Text(detail)
		if n == 0 {
			text = fmt.Sprintf("Invented data. A sheet of your own: go run ./examples/%s your-sheet.csv\n\n", p.Name) + text
		}
		_, err := io.WriteString(stdout, text)
		fail(err)
	}
	if *picture != "" {
		pictures, err := report.Pictures(n == 0)
		fail(err)
		if err := WritePictures(*picture, pictures); err != nil {
			fail(fmt.Errorf("%s: %w", p.Name, err))
		}
	}
	return status
}

// WriteJSON writes a report, and whether its data is invented.
func WriteJSON(w io.Writer, invented bool, report any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(struct {
		Invented bool   `json:"invented_data"`
		Unit     string `json:"intensity_unit"`
		Report   any    `json:"report"`
	}{invented, "m/s", report})
}

// read reads all sheets. The error joins their faults, and those of the sheets
// beside one another; the good rows come with it.
func (p Program) read(names []string, stdin io.Reader) ([]protocol.Record, error) {
	if len(names) == 0 {
		return protocol.ReadSheet(bytes.NewReader(p.Bundled))
	}
	var all joined
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
		records, err := protocol.ReadSheet(in)
		if err != nil && len(names) > 1 {
			err = fmt.Errorf("%s: %w", name, err)
		}
		errs = append(errs, err)
		for _, err := range all.add(name, records) {
			errs = append(errs, fmt.Errorf("%s: %w", p.Name, err))
		}
	}
	return all.records, errors.Join(errs...)
}
