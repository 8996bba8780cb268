package protocol

import (
	"errors"
	"io"
	"iter"
)

// ScanSheet reads a sheet one test at a time, and never holds more than one
// test and its faults, so that a file of any length can be read. The rows of a
// test stand together; [ReadSheet] does without that.
//
// Each test comes with its good rows, and with its faults, joined, as the
// error; they are in [Record.Faults] too. A fault that belongs to no test (of
// the header, of a row above the first test) comes with a record without
// repeats. A row that does not say whose it is counts as a fault of the test
// above it, which may lack it. An error of r ends the sheet and is the last
// one.
//
// The sequence can be used once. It is not safe for concurrent use.
func ScanSheet(r io.Reader) iter.Seq2[Record, error] {
	return func(yield func(Record, error) bool) {
		var open *collector
		stop := false
		flush := func() {
			if open != nil && !stop {
				rec := open.finish()
				stop = !yield(rec, rec.Err())
			}
			open = nil
		}
		err := scan(r, func(p parsed, faults []*SheetError) bool {
			if open != nil && p.key != (key{}) && p.key != open.key {
				flush()
			}
			if open == nil && p.key != (key{}) {
				open = &collector{key: p.key}
			}
			switch {
			case stop:
			case open == nil:
				stop = !yield(Record{}, joinFaults(faults))
			case len(faults) == 0:
				open.add(p)
			default:
				for _, f := range faults {
					open.fault(f)
				}
			}
			return !stop
		}, func(err error) bool {
			stop = stop || !yield(Record{}, err)
			return !stop
		})
		flush()
		if err != nil && !stop {
			yield(Record{}, err)
		}
	}
}

// maxSheetFaults is how many errors of one sheet ReadSheet joins.
const maxSheetFaults = 1000

// ErrManyFaults ends the faults of a sheet that has too many to list.
var ErrManyFaults = errors.New("protocol: the sheet has more faults than these")

// ReadSheet reads a whole sheet. It collects the rows of a test wherever they
// stand, and returns the tests in the order of their first rows.
//
// The error joins all faults of the sheet, each a [*SheetError] (the first
// thousand, then [ErrManyFaults]), and an error of r, if any. Tests come back
// even so, each with its good rows; a test that has faulty rows has them in
// [Record.Faults].
func ReadSheet(r io.Reader) ([]Record, error) {
	var (
		errs  []error
		tests []*collector
		at    = map[key]*collector{}
		last  *collector
	)
	err := scan(r, func(p parsed, faults []*SheetError) bool {
		c := last
		if p.key != (key{}) {
			if c = at[p.key]; c == nil {
				c = &collector{key: p.key}
				at[p.key] = c
				tests = append(tests, c)
			}
			last = c
		}
		switch {
		case len(faults) == 0:
			c.add(p)
		case c == nil:
			errs = append(errs, joinFaults(faults))
		default:
			for _, f := range faults {
				c.fault(f)
			}
		}
		return true
	}, func(err error) bool {
		errs = append(errs, err)
		return true
	})
	records := make([]Record, 0, len(tests))
	for _, c := range tests {
		rec := c.finish()
		if rec.Faults != nil {
			errs = append(errs, rec.Err())
		}
		records = append(records, rec)
	}
	if len(errs) > maxSheetFaults {
		errs = append(errs[:maxSheetFaults:maxSheetFaults], ErrManyFaults)
	}
	return records, errors.Join(append(errs, err)...)
}

// scan reads a sheet row by row. It hands every row, or its faults, to each,
// and faults that are of no row of a test to other, until one of them returns
// false. The error is that of the reader.
func scan(r io.Reader, each func(parsed, []*SheetError) bool, other func(error) bool) error {
	rows := newRowReader(r)
	fatal, err := rows.readHeader()
	if err != nil {
		if !isSheetError(err) {
			return err
		}
		if !other(err) {
			return nil
		}
	}
	if fatal {
		return nil
	}
	for n := 0; ; {
		row, err := rows.next()
		var fault *SheetError
		switch {
		case err == io.EOF:
			if n == 0 {
				other(&SheetError{Found: "a header line only", Want: "a row for each repeat below the header", Err: ErrEmptySheet})
			}
			return nil
		case errors.As(err, &fault) && fault.Err == ErrHeaderAgain:
			if !other(err) {
				return nil
			}
			continue
		case err != nil && fault == nil:
			return err
		}
		n++
		p, faults := parsed{}, []*SheetError{fault}
		if fault == nil {
			p, faults = parseRow(row, rows.comma == ';')
		}
		if !each(p, faults) {
			return nil
		}
	}
}

// isSheetError tells faults of the sheet from errors of the reader.
func isSheetError(err error) bool {
	var fault *SheetError
	return errors.As(err, &fault)
}

func joinFaults(faults []*SheetError) error { return Record{Faults: faults}.Err() }
