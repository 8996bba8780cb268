package sheet

import (
	"cmp"
	"io"
	"iter"
	"strconv"

	"example.com/steptest/internal/form"
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
// A row that names neither swimmer nor date and has the next number goes on with
// the row above, as merged cells do, with a note. Any other row that does not say
// whose it is lacks the swimmer or the date, or cannot be split into cells. It is
// then a fault of the test above. If the next test starts there with another repeat
// than its first, the row is a fault of that test. If its name or date fits neither
// test, or it has no name, date and number, only the sheet is at fault.
//
// An error of r ends the sheet and is the last one. The sequence can be used
// once. It is not safe for concurrent use.
func Scan(r io.Reader) iter.Seq2[protocol.Record, error] { return Options{}.Scan(r) }

// Scan reads a sheet as [Scan] does, with options.
func (o Options) Scan(r io.Reader) iter.Seq2[protocol.Record, error] {
	return func(yield func(protocol.Record, error) bool) {
		var open *collector
		more := true
		hand := func(rec protocol.Record, err error) bool {
			more = more && yield(rec, err)
			return more
		}
		flush := func() {
			if open != nil {
				rec := open.finish()
				hand(rec, rec.Err())
			}
			open = nil
		}
		err := scan(r, o, func(p parsed) bool {
			var before *collector
			if open != nil && !open.elsewhere(p) {
				p.respell(open.key, open.line)
			}
			if open != nil && p.key != open.key {
				before = open
				flush()
			}
			if open == nil {
				open = newCollector(p)
				if before != nil && alike(p.key.swimmer, before.key.swimmer) {
					open.fault(spelling(open.line, p.key.swimmer, before.key.swimmer, before.line))
				}
			}
			open.take(p)
			return more
		}, func(err error) bool { return hand(protocol.Record{}, err) })
		flush()
		if err != nil {
			hand(protocol.Record{}, err)
		}
	}
}

// scan reads a sheet row by row. It hands each row, or faults of a test's rows,
// to each, and faults of no test to other, until one of them returns false. The
// error is that of the reader.
func scan(r io.Reader, o Options, each func(parsed) bool, other func(error) bool) error {
	rows := newRowReader(r)
	err := rows.readHeader()
	if err != nil && faultOf(err) == nil {
		return err
	}
	if err != nil && !other(err) || rows.header.fatal {
		return nil
	}
	s := scanner{each: each, other: other}
	err = rows.each(o, s.take, other)
	s.settle(parsed{})
	return err
}

// scanner finds out which test each row is of.
type scanner struct {
	each    func(parsed) bool
	other   func(error) bool
	above   key                // test of the last row that says whose it is; zero at the top
	cells   [allColumns]string // of that row
	waiting []nameless
	faults  int             // of those
	told    *protocol.Fault // of many rows, and told of the sheet
}

// take takes the next row. It reports whether to go on.
func (s *scanner) take(r row) bool {
	if !r.broken {
		s.goOn(&r)
		r.parse()
	}
	if r.key == (key{}) {
		s.waiting = append(s.waiting, newNameless(r))
		s.faults += len(r.faults)
		return s.faults < maxFaults || s.settle(parsed{})
	}
	if !s.settle(r.parsed) {
		return false
	}
	s.above, s.cells = r.key, r.cell
	return s.each(r.parsed)
}

// goOn fills in what a row leaves out as it goes on with the one above, as merged
// cells do: it names neither swimmer nor date, and has the next number, or that of
// a sample after the repeat above.
func (s *scanner) goOn(r *row) {
	before, err := strconv.Atoi(s.cells[colRepeat])
	n, ownErr := strconv.Atoi(r.cell[colRepeat])
	sample := r.cell[colTime] == "" && r.cell[colAfter] != ""
	if err != nil || ownErr != nil || r.cell[colSwimmer] != "" || r.cell[colDate] != "" || !(n == before+1 || n == before && sample) ||
		len(s.waiting) > 0 {
		return
	}
	for _, col := range []column{colSwimmer, colDate, colPool, colDistance} {
		r.cell[col] = cmp.Or(r.cell[col], s.cells[col])
	}
	r.note(colSwimmer, "a row without name and date goes on with that of %s above", form.Shorten(r.cell[colSwimmer]))
}

// settle hands on the faults of the nameless rows above the next row, which is zero if
// there is none yet. It reports whether to go on.
func (s *scanner) settle(next parsed) bool {
	var ofSheet []*protocol.Fault
	above, below := parsed{key: s.above}, parsed{key: next.key}
	for _, n := range s.waiting {
		switch n.whose(s.above, next) {
		case key{}:
			for _, f := range n.faults {
				if f.Rows > 0 && f == s.told {
					continue
				} else if f.Rows > 0 {
					s.told = f
				}
				ofSheet = append(ofSheet, f)
			}
		case above.key:
			above.faults = append(above.faults, n.faults...)
		default:
			below.faults = append(below.faults, n.faults...)
		}
	}
	s.waiting, s.faults = nil, 0
	return (len(ofSheet) == 0 || s.other(joinFaults(ofSheet))) &&
		(above.faults == nil || s.each(above)) && (below.faults == nil || s.each(below))
}
