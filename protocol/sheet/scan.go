package sheet

import (
	"errors"
	"io"
	"iter"

	"example.com/steptest/protocol"
)

// Scan reads a sheet one test at a time. It holds no more than one test and its
// faults, so a file can have any length. The rows of a test must stand
// together; [Read] collects them from anywhere.
//
// Each test comes with its good rows. Its faults, each a [*protocol.Fault], are
// in [protocol.Record.Faults], and joined as the error. A fault of no test, as
// in the header, comes with a record without repeats.
//
// A row may not say whose it is: it lacks the swimmer or the date, or cannot be
// split into cells. It is then a fault of the test above. If the next test
// starts there with another repeat than its first, the row is a fault of that
// test. If its name or date fits neither test, or it has no name, date and
// number, only the sheet is at fault.
//
// A name that equals the one above once case and spaces are ignored is a fault
// of the test. On the same day and in the same pool its rows are read under the
// first spelling.
//
// An error of r ends the sheet and is the last one. The sequence can be used
// once. It is not safe for concurrent use.
func Scan(r io.Reader) iter.Seq2[protocol.Record, error] {
	return func(yield func(protocol.Record, error) bool) {
		var open *collector
		stop := false
		flush := func() {
			if open != nil && !stop {
				rec := open.finish()
				stop = !yield(rec, rec.Err())
			}
			open = nil
		}
		err := scan(r, func(p parsed, faults []*protocol.Fault) bool {
			before, line := key{}, 0
			if open != nil && !open.elsewhere(p) {
				faults = p.respell(open.key, open.line, faults)
			}
			if open != nil && p.key != open.key {
				before, line = open.key, open.line
				flush()
			}
			if open == nil {
				open = newCollector(p, faults)
				if alike(p.key.swimmer, before.swimmer) {
					open.fault(spelling(open.line, p.key.swimmer, before.swimmer, line))
				}
			}
			open.take(p, faults)
			return !stop
		}, func(err error) bool {
			stop = stop || !yield(protocol.Record{}, err)
			return !stop
		})
		flush()
		if err != nil && !stop {
			yield(protocol.Record{}, err)
		}
	}
}

// scan reads a sheet row by row. It hands each row, or faults of a test's rows,
// to each, and faults of no test to other, until one of them returns false. The
// error is that of the reader.
func scan(r io.Reader, each func(parsed, []*protocol.Fault) bool, other func(error) bool) error {
	rows := newRowReader(r)
	fatal, err := rows.readHeader()
	switch {
	case err != nil && !isFault(err):
		return err
	case err != nil && !other(err), fatal:
		return nil
	}
	s := scanner{each: each, other: other}
	for empty := true; ; {
		row, err := rows.next()
		var fault *protocol.Fault
		switch {
		case err == io.EOF:
			if empty {
				other(&protocol.Fault{Found: "a header line only", Want: "a row for each repeat below the header", Err: ErrEmpty})
			}
			s.settle(parsed{})
			return nil
		case err != nil && !errors.As(err, &fault):
			s.settle(parsed{})
			return err
		case fault != nil && fault.Err == ErrHeaderAgain:
			if !other(err) {
				return nil
			}
			continue
		}
		empty = false
		if !s.take(row, fault, rows.comma == ';') {
			return nil
		}
	}
}

// scanner finds out which test each row is of.
type scanner struct {
	each     func(parsed, []*protocol.Fault) bool
	other    func(error) bool
	nameless nameless
}

// take takes the next row, or the fault of one that cannot be split into cells.
// It reports whether to go on.
func (s *scanner) take(r row, fault *protocol.Fault, semicolons bool) bool {
	p, faults := parsed{}, []*protocol.Fault{fault}
	if fault == nil {
		p, faults = parseRow(r, semicolons)
	}
	if p.key == (key{}) {
		full := s.nameless.add(newOrphan(r, fault == nil, faults))
		return !full || s.settle(parsed{})
	}
	if !s.settle(p) {
		return false
	}
	s.nameless.above = p.key
	return s.each(p, faults)
}

// settle hands on the faults of the nameless rows above the next row. It
// reports whether to go on.
func (s *scanner) settle(next parsed) bool {
	ofSheet, ofAbove, ofBelow := s.nameless.settle(next)
	return (ofSheet == nil || s.other(joinFaults(ofSheet))) &&
		(ofAbove == nil || s.each(parsed{key: s.nameless.above}, ofAbove)) &&
		(ofBelow == nil || s.each(parsed{key: next.key}, ofBelow))
}
