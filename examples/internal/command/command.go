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
	Draws   bool   // the report is Pictured
	// Report works the tests out. The error joins all that is wrong with them;
	// the report holds the rest.
	Report func(records []protocol.Record) (Report, error)
}

// Report is printed as text, or else as JSON.
type Report interface {
	WriteText(*bytes.Buffer)
}

// Invented heads a report on the bundled sheet: its fields are those of JSON.
type envelope struct {
	Invented bool   `json:"invented_data"`
	Report   Report `json:"report"`
}

// Run runs the program and returns its exit status.
func (p Program) Run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet(p.Name, flag.ContinueOnError)
	flags.SetOutput(stderr)
	asJSON := flags.Bool("json", false, "print JSON instead of text")
	picture := new(string)
	draws := ""
	if p.Draws {
		picture = flags.String("chart", "", "also draw it into this `file`: .svg, .png or .pdf; further pictures get a number")
		draws = "[-chart file] "
	}
	var o sheet.Options
	Dates(flags, &o)
	flags.Usage = func() {
		sheets := "[sheet.csv]"
		if p.Sheets > 1 {
			sheets = "[sheet.csv ...]"
		}
		fmt.Fprintf(stderr, "usage: %s [-json] [-dates order] %s%s    (no sheet: the bundled one; -: standard input)\n", p.Name, draws, sheets)
		flags.PrintDefaults()
	}
	if err := Parse(flags, args, stderr, "the sheet"); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
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
	if n := flags.NArg(); n > p.Sheets {
		fail(fmt.Errorf("%s: found %d sheets, expected at most %d", p.Name, n, p.Sheets))
		return status
	}
	records, err := p.read(flags.Args(), stdin, o)
	fail(err)
	report, err := p.Report(records)
	fail(err)

	var b bytes.Buffer
	out := envelope{Invented: flags.NArg() == 0, Report: report}
	if *asJSON {
		enc := json.NewEncoder(&b)
		enc.SetIndent("", "  ")
		fail(enc.Encode(out))
	} else {
		if out.Invented {
			fmt.Fprintf(&b, "Invented data. A sheet of your own: go run ./examples/%s your-sheet.csv\n\n", p.Name)
		}
		report.WriteText(&b)
	}
	if pictured, ok := report.(Pictured); ok && *picture != "" {
		pictures, err := pictured.Pictures(out.Invented)
		fail(err)
		if err := WritePictures(*picture, pictures); err != nil {
			fail(fmt.Errorf("%s: %w", p.Name, err))
		}
	}
	if _, err := b.WriteTo(stdout); err != nil {
		fail(fmt.Errorf("%s: %w", p.Name, err))
	}
	return status
}

// read reads all sheets. The error joins their faults, and those of the sheets
// beside one another; the good rows come with it.
func (p Program) read(names []string, stdin io.Reader, o sheet.Options) ([]protocol.Record, error) {
	if len(names) == 0 {
		return sheet.Read(bytes.NewReader(p.Bundled))
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
		records, err := o.Read(in)
		err = DatesHint(err)
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
