package command

import (
	"flag"
	"fmt"
	"io"

	"example.com/steptest/protocol/sheet"
)

// request is what the command line asks for.
type request struct {
	sheets  []string // their files; none: the bundled one
	options sheet.Options
	swimmer string // alone; empty: all
	asJSON  bool
	detail  Detail
	picture string // its file; empty means none
}

// invented reports whether the data is that of the bundled sheet.
func (q request) invented() bool { return len(q.sheets) == 0 }

// parse reads the command line.
func (p Program) parse(args []string, stderr io.Writer) (q request, err error) {
	flags := flag.NewFlagSet(p.Name, flag.ContinueOnError)
	flags.BoolVar(&q.asJSON, "json", false, "print JSON instead of text")
	brief := flags.Bool("brief", false, "print the answer alone")
	full := flags.Bool("full", false, "print everything")
	flags.StringVar(&q.picture, "chart", "", "also draw it into this `file`: .svg or .png; further pictures get a number")
	flags.StringVar(&q.swimmer, "swimmer", "", "the tests of this swimmer alone, whatever the case of the `name`")
	if p.Flags != nil {
		p.Flags(flags, &q.options)
	}
	Dates(flags, &q.options)
	flags.Usage = func() {
		sheets := "[sheet.csv]"
		if p.Sheets > 1 {
			sheets = "[sheet.csv ...]"
		}
		fmt.Fprintf(stderr, "usage: %s [-brief | -full | -json] [flags] %s    (no sheet: the bundled one; -: standard input)\n", p.Name, sheets)
		flags.PrintDefaults()
		fmt.Fprint(stderr, p.Help)
	}
	err = Parse(flags, args, stderr, "the sheet")
	q.sheets = flags.Args()
	switch n := len(q.sheets); {
	case err != nil:
	case n > p.Sheets:
		err = fmt.Errorf("%s: found %d sheets, want at most %d", p.Name, n, p.Sheets)
	case *brief && *full:
		err = fmt.Errorf("%s: found -brief and -full, want one of them", p.Name)
	case *brief:
		q.detail = Brief
	case *full:
		q.detail = Full
	}
	return q, err
}
