// Package command is what the examples share: their arguments, the sheets they
// read, and how they print. It is for them alone.
package command

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"iter"
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
	// Many is how many tests are printed as asked for; of more, the answers alone, with the
	// words of ManyHint (their number) below. Zero means any number.
	Many     int
	ManyHint string
	// Together prints all tests as one, if that is asked for. Nil means that it cannot.
	Together func(records []protocol.Record, invented bool) (text string, asked bool, err error)
	// WorkOut works tests out. The error joins all that is wrong with them; the
	// report holds the rest, and is nil if there is none.
	WorkOut func(tests []protocol.Record) (Report, error)
	// WorkOutLatest, instead of WorkOut, works out the two latest tests of a swimmer that are not
	// pending, and what is told of those that are, by date. Earlier tests are counted.
	// Sheets of any length then take little memory, except with -json, which has all that
	// a whole sheet says of a test.
	WorkOutLatest func(tests []protocol.Record, earlier int) (Report, error)
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

// Run runs the program and returns its exit status: the command line (request.go), the
// sheets (sheets.go), and then all tests together, or one report after the other, worked
// out by the program and printed (printer.go).
func (p Program) Run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	q, err := p.parse(args, stderr)
	if err != nil {
		return Status(stderr, err)
	}
	status := 0
	fail := func(err error) { status = max(status, Status(stderr, err)) }
	all, err := p.read(q, stdin)
	fail(err)
	if err := p.only(all, q.swimmer); err != nil {
		fail(err)
		return status
	}
	text, asked, err := p.together(all, q)
	fail(err)
	if asked {
		_, err = io.WriteString(stdout, text)
		fail(err)
		return status
	}
	out := printer{name: p.Name, to: stdout, request: q}
	if p.Many > 0 && q.detail == Usual && len(all.Records()) > p.Many {
		out.request.detail, out.hint = Brief, p.ManyHint
	}
	fail(out.begin())
	for r, err := range p.workOut(all) {
		fail(err)
		if r != nil {
			fail(out.print(r))
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

// only lets go of all swimmers but the one that is asked for, if one is.
func (p Program) only(all *squad.Sheets, swimmer string) error {
	if swimmer == "" {
		return nil
	}
	name, err := meant(all.Names(), swimmer)
	if err != nil {
		return fmt.Errorf("%s: %w", p.Name, err)
	}
	all.Only(name)
	return nil
}

// together is all tests as one text, if that is asked for.
func (p Program) together(all *squad.Sheets, q request) (text string, asked bool, err error) {
	if p.Together == nil {
		return "", false, nil
	}
	text, asked, err = p.Together(all.Records(), q.invented())
	if asked && (q.asJSON || q.detail != Usual || q.picture != "") {
		err = errors.Join(err, fmt.Errorf("%s: -json, -brief, -full and -chart are of single tests, and left out", p.Name))
	}
	return text, asked, err
}

// WorkOutAll works all tests out. The error joins all that is wrong with them.
func (p Program) WorkOutAll(records []protocol.Record) ([]Report, error) {
	all := &squad.Sheets{Latest: p.WorkOutLatest != nil}
	var errs []error
	for _, rec := range records {
		errs = append(errs, all.Put(rec))
	}
	reports := []Report{}
	for r, err := range p.workOut(all) {
		errs = append(errs, err)
		if r != nil {
			reports = append(reports, r)
		}
	}
	return reports, errors.Join(errs...)
}

// workOut works tests out one after the other, or those of one swimmer after the other's.
func (p Program) workOut(all *squad.Sheets) iter.Seq2[Report, error] {
	return func(yield func(Report, error) bool) {
		if !p.Season && p.WorkOutLatest == nil {
			for tests := range slices.Chunk(all.Records(), 1) {
				if !yield(p.WorkOut(tests)) {
					return
				}
			}
			return
		}
		for s, err := range all.Swimmers() {
			var r Report
			switch {
			case err != nil:
			case p.WorkOutLatest != nil:
				r, err = p.WorkOutLatest(s.Tests, s.Earlier)
			default:
				r, err = p.WorkOut(s.Tests)
			}
			if !yield(r, err) {
				return
			}
		}
	}
}
