package protocol

import (
	"errors"
	"io"
	"iter"

	"example.com/steptest/pace"
)

// ScanSheet reads a sheet one test at a time, and never holds more than one
// test and its faults, so that a file of any length can be read. The rows of a
// test stand together; [ReadSheet] does without that.
//
// Each test comes with its good rows, and with its faults, each a [*SheetError],
// joined, as the error; they are in [Record.Faults] too. A fault that belongs to no test (of
// the header, of a row above the first test) comes with a record without
// repeats. A row that does not say whose it is (no swimmer, no date, no
// readable line) is a fault of the test below it, if that one starts there and
// not with its first repeat, and else of the test above it: the test that may
// lack it is marked. It is a fault of no test where what it does say, a name or
// a date, is not of the test, or where it has no name, date or number. A name
// that differs from the one above by no more than case or blanks is a fault of
// the test; on the same day and in the same pool its rows are read as those of the
// first spelling. An error of r ends the sheet and is the last one.
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
			before, line := key{}, 0
			if open != nil && !open.elsewhere(p) {
				faults = p.respell(open.key, open.line, faults)
			}
			if open != nil && p.key != open.key {
				before, line = open.key, open.line
				flush()
			}
			if open == nil {
				open = newCollector(p.key)
				open.line = lineOf(p, faults)
				if alike(p.key.swimmer, before.swimmer) {
					open.speltLike(before, line)
				}
			}
			open.take(p, faults)
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

// inPool is a test in a pool of its own.
type inPool struct {
	key  key
	pool pace.Pool
}

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
		at    = map[key]*collector{}    // by folded name
		apart = map[inPool]*collector{} // by folded name, in another pool
		spelt = map[key]*collector{}    // by name as it stands, where it was last
	)
	start := func(p parsed, faults []*SheetError) *collector {
		c := newCollector(p.key)
		c.line = lineOf(p, faults)
		tests = append(tests, c)
		return c
	}
	err := scan(r, func(p parsed, faults []*SheetError) bool {
		folded := key{foldName(p.key.swimmer), p.key.date}
		c := at[folded]
		switch {
		case c == nil:
			c = start(p, faults)
			at[folded] = c
		case p.pool.IsZero() && spelt[p.key] != nil:
			c = spelt[p.key]
		case c.elsewhere(p):
			if c = apart[inPool{folded, p.pool}]; c == nil {
				c = start(p, faults)
				apart[inPool{folded, p.pool}] = c
			}
		}
		spelt[p.key] = c
		faults = p.respell(c.key, c.line, faults)
		c.take(p, faults)
		return true
	}, func(err error) bool {
		errs = append(errs, err)
		return true
	})
	firsts := map[string]*collector{}
	for _, c := range tests {
		name := foldName(c.key.swimmer)
		first := firsts[name]
		if first == nil {
			firsts[name] = c
			continue
		}
		if first.key.swimmer != c.key.swimmer {
			c.speltLike(first.key, first.line)
		}
	}
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

// scan reads a sheet row by row. It hands every row, or the faults of a test's
// rows, to each, and faults that are of no test to other, until one of them
// returns false. The error is that of the reader.
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
	var (
		above     key      // of the last row that said whose it is
		orphans   []orphan // rows that did not say, since then
		unsettled int      // their faults
	)
	// settle finds whose the orphans are: of the owner, where they stand; else
	// of the test on their other side.
	settle := func(owner, below key) bool {
		ofTest := map[key][]*SheetError{}
		for _, o := range orphans {
			k := key{}
			switch {
			case o.mayBeOf(owner):
				k = owner
			case o.says() && o.mayBeOf(above):
				k = above
			case o.says() && o.mayBeOf(below):
				k = below
			}
			ofTest[k] = append(ofTest[k], o.faults...)
		}
		orphans, unsettled = nil, 0
		if none := ofTest[key{}]; none != nil && !other(joinFaults(none)) {
			return false
		}
		if faults := ofTest[above]; above != (key{}) && faults != nil && !each(parsed{key: above}, faults) {
			return false
		}
		if faults := ofTest[below]; below != above && below != (key{}) && faults != nil && !each(parsed{key: below}, faults) {
			return false
		}
		return true
	}
	for n := 0; ; {
		row, err := rows.next()
		var fault *SheetError
		if err != nil && !errors.As(err, &fault) {
			if err == io.EOF {
				err = nil
				if n == 0 {
					other(&SheetError{Found: "a header line only", Want: "a row for each repeat below the header", Err: ErrEmptySheet})
				}
			}
			settle(above, key{})
			return err
		}
		if fault != nil && fault.Err == ErrHeaderAgain {
			if !other(err) {
				return nil
			}
			continue
		}
		n++
		p, faults := parsed{}, []*SheetError{fault}
		if fault == nil {
			p, faults = parseRow(row, rows.comma == ';')
		}
		if p.key == (key{}) {
			orphans = append(orphans, newOrphan(row, fault == nil, faults))
			if unsettled += len(faults); unsettled >= maxFaults && !settle(above, key{}) {
				return nil
			}
			continue
		}
		owner := above
		if p.key != above && p.repeat.Number != 1 {
			owner = p.key
		}
		if !settle(owner, p.key) {
			return nil
		}
		above = p.key
		if !each(p, faults) {
			return nil
		}
	}
}

// lineOf returns the line of a row or of its faults.
func lineOf(p parsed, faults []*SheetError) int {
	if p.line == 0 && len(faults) > 0 {
		return faults[0].Line
	}
	return p.line
}

// isSheetError tells faults of the sheet from errors of the reader.
func isSheetError(err error) bool {
	var fault *SheetError
	return errors.As(err, &fault)
}

func joinFaults(faults []*SheetError) error { return Record{Faults: faults}.Err() }
