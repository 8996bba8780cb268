package sheet

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"slices"
	"strconv"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// Scan reads a sheet one test at a time. It holds no more than one test and its
// faults, so a file can have any length. The rows of a test must stand
// together; [Read] collects them from anywhere.
//
// Each test comes with its good rows. Its faults, each a [*protocol.Fault], are
// in [protocol.Record.Faults], and joined as the error. A fault of no test, as
// in the header, comes with a record without repeats.
//
// A row that names neither swimmer nor date and has the next number goes on with
// the row above, as merged cells do, with a note. Any other row that does not say
// whose it is lacks the swimmer or the date, or cannot be split into cells. It is
// then a fault of the test above. If the next test
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
func Scan(r io.Reader) iter.Seq2[protocol.Record, error] { return Options{}.Scan(r) }

// Scan reads a sheet as [Scan] does, with options.
func (o Options) Scan(r io.Reader) iter.Seq2[protocol.Record, error] {
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
		err := scan(r, o, func(p parsed, faults []*protocol.Fault) bool {
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
func scan(r io.Reader, o Options, each func(parsed, []*protocol.Fault) bool, other func(error) bool) error {
	rows := newRowReader(r)
	fatal, err := rows.readHeader()
	switch {
	case err != nil && !isFault(err):
		return err
	case err != nil && !other(err), fatal:
		return nil
	}
	s := scanner{each: each, other: other, semicolons: rows.comma != ','}
	header, _ := orderOf(rows.units[colDate])
	dates := newDates(o, header)
	take := func(ready []waitingRow) bool {
		for _, w := range ready {
			if !s.take(w.row, w.fault) {
				return false
			}
		}
		return true
	}
	for empty := true; ; {
		row, err := rows.next()
		var fault *protocol.Fault
		switch {
		case err == io.EOF:
			if empty {
				other(&protocol.Fault{Found: "a header line only", Want: "a row for each repeat below the header", Err: ErrEmpty})
			}
			if take(dates.flush()) {
				s.settle(parsed{})
			}
			return nil
		case err != nil && !errors.As(err, &fault):
			if take(dates.flush()) {
				s.settle(parsed{})
			}
			return err
		case fault != nil && fault.Err == ErrHeaderAgain:
			if !other(err) {
				return nil
			}
			continue
		}
		empty = false
		if !take(dates.add(waitingRow{row, fault})) {
			return nil
		}
	}
}

// scanner finds out which test each row is of.
type scanner struct {
	each     func(parsed, []*protocol.Fault) bool
	other    func(error) bool
	nameless nameless
	above    [columnCount]string // cells of the last row that says whose it is

	semicolons bool            // or tabs: the decimal sign may be a comma
	told       *protocol.Fault // of many rows, and told of the sheet
}

// take takes the next row, or the fault of one that cannot be split into cells.
// It reports whether to go on.
func (s *scanner) take(r row, fault *protocol.Fault) bool {
	p, faults := parsed{}, []*protocol.Fault{fault}
	if fault == nil {
		s.goOn(&r)
		p, faults = parseRow(r, s.semicolons)
	}
	if p.key == (key{}) {
		full := s.nameless.add(newOrphan(r, fault == nil, faults))
		return !full || s.settle(parsed{})
	}
	if !s.settle(p) {
		return false
	}
	s.nameless.above = p.key
	s.above = r.cell
	return s.each(p, faults)
}

// goOn fills in what a row leaves out as it goes on with the one above, as merged
// cells do: it names neither swimmer nor date, and has the next number, or that of
// a sample after the repeat above.
func (s *scanner) goOn(r *row) {
	before, err := strconv.Atoi(s.above[colRepeat])
	n, ownErr := strconv.Atoi(r.cell[colRepeat])
	sample := r.cell[colTime] == "" && r.cell[colAfter] != ""
	if err != nil || ownErr != nil || r.cell[colSwimmer] != "" || r.cell[colDate] != "" || !(n == before+1 || n == before && sample) ||
		len(s.nameless.rows) > 0 {
		return
	}
	for _, col := range []column{colSwimmer, colDate, colPool, colDistance} {
		if r.cell[col] == "" {
			r.cell[col] = s.above[col]
		}
	}
	r.note(colSwimmer, noteGoesOn, fmt.Sprintf("a row without name and date goes on with that of %s above", form.Shorten(r.cell[colSwimmer])))
}

// settle hands on the faults of the nameless rows above the next row. It
// reports whether to go on.
func (s *scanner) settle(next parsed) bool {
	ofSheet, ofAbove, ofBelow := s.nameless.settle(next)
	ofSheet = slices.DeleteFunc(ofSheet, func(f *protocol.Fault) bool {
		again := f.Rows > 0 && f == s.told
		if f.Rows > 0 {
			s.told = f
		}
		return again
	})
	return (len(ofSheet) == 0 || s.other(joinFaults(ofSheet))) &&
		(ofAbove == nil || s.each(parsed{key: s.nameless.above}, ofAbove)) &&
		(ofBelow == nil || s.each(parsed{key: next.key}, ofBelow))
}
