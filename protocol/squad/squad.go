// Package squad reads sheets together: all their tests, each once, or, of sheets of any
// length, the two latest tests of each swimmer.
//
//	s := squad.Sheets{Latest: true}
//	beside, err := s.Add("2025.csv", file) // what is odd beside earlier sheets, and faults
//	for swimmer, err := range s.Swimmers() { … }
//
// With Latest a sheet that can be read again from its start, such as a file, is read test
// by test and held in part: the two latest tests of each swimmer that are not
// [protocol.Record.Pending], and what there is to tell of those that are. It is read as a
// whole, by [sheet.Options.Read], if that tells more: if the rows of a test stand apart, a
// name has two spellings, or a fault is told once for many rows. Either way the tests and
// the faults are those of whole sheets.
package squad

// The walk: Sheets.Add (this file) reads a sheet, test by test (onebyone.go) or as a whole.
// Each test that no earlier sheet has (known.go) is kept: all, or the two latest of each
// swimmer (careers.go). Swimmers hands them on.

import (
	"errors"
	"io"
	"iter"
	"slices"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// Sheets are sheets that are read together. The zero value holds none, and all tests of
// those that are added. It is not safe for concurrent use.
type Sheets struct {
	Options sheet.Options
	// Latest holds the two latest tests of each swimmer alone, without their notes.
	Latest bool
	// Notes keeps the notes with Latest too: then each sheet is read as a whole.
	Notes bool

	known   known
	records []protocol.Record
	careers careers
}

// Add reads a sheet. beside says which of its tests stand in an earlier sheet already,
// and are left out, and which names differ from one there by no more than case and
// blanks; name is how the sheet is called there. The error is that of
// [sheet.Options.Read]; the good rows are taken even so.
func (s *Sheets) Add(name string, r io.Reader) (beside []error, err error) {
	if s.Latest && !s.Notes {
		if ok, beside, err := s.addByTest(name, r); ok {
			return beside, err
		}
	}
	records, err := s.Options.Read(r)
	s.known.begin(name)
	for _, rec := range records {
		counts, odd := s.known.admit(rec)
		if odd != nil {
			beside = append(beside, odd)
		}
		if counts {
			if full := s.Put(rec); full != nil {
				err = errors.Join(err, full)
			}
		}
	}
	return beside, err
}

// Put takes a test as if a sheet had it.
func (s *Sheets) Put(rec protocol.Record) error {
	if s.Latest {
		return s.careers.add(rec)
	}
	s.records = append(s.records, rec)
	return nil
}

// Records returns all tests in the order of the sheets; none with Latest.
func (s *Sheets) Records() []protocol.Record { return s.records }

// Swimmer is a swimmer with tests by date: all, or with [Sheets.Latest] the two latest and
// the number of those before. The zero value is nobody.
type Swimmer struct {
	Name    string
	Tests   []protocol.Record
	Earlier int
}

// Swimmers returns the swimmers one after the other, in the order of their first tests.
func (s *Sheets) Swimmers() iter.Seq2[Swimmer, error] {
	return func(yield func(Swimmer, error) bool) {
		for _, c := range s.careers.swimmers {
			tests, err := c.records()
			if !yield(Swimmer{c.name, tests, c.earlier}, err) {
				return
			}
		}
		for _, tests := range protocol.BySwimmer(s.records) {
			if !yield(Swimmer{tests[0].Swimmer, tests, 0}, nil) {
				return
			}
		}
	}
}

// Names returns the names of the swimmers.
func (s *Sheets) Names() (names []string) {
	for _, c := range s.careers.swimmers {
		names = append(names, c.name)
	}
	for _, tests := range protocol.BySwimmer(s.records) {
		names = append(names, tests[0].Swimmer)
	}
	return names
}

// Only lets go of the tests of all but one swimmer, and puts those in order of their days.
func (s *Sheets) Only(name string) {
	s.careers.swimmers = slices.DeleteFunc(s.careers.swimmers, func(c *career) bool { return c.name != name })
	parts := protocol.BySwimmer(s.records)
	s.records = nil
	for _, tests := range parts {
		if tests[0].Swimmer == name {
			s.records = tests
		}
	}
}
