package sheet

import (
	"io"
	"iter"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// Read reads a whole sheet. It collects the rows of a test from anywhere in the
// sheet, and returns the tests in the order of their first rows. Rows that do
// not say whose they are, and spellings of a name, are treated as [Scan] does.
//
// The error joins all faults of the sheet, each a [*protocol.Fault] (the first thousand,
// then [ErrManyFaults]), and an error of r, if any. Tests come back even then, each with
// its good rows. A test with faulty rows has them in [protocol.Record.Faults].
func Read(r io.Reader) ([]protocol.Record, error) { return Options{}.Read(r) }

// Read reads a whole sheet as [Read] does, with options.
func (o Options) Read(r io.Reader) ([]protocol.Record, error) {
	in := newAssigner(r)
	tests := tests{at: map[inPool]*collector{}, spelt: map[key]*collector{}}
	var errs []error
	for p, fault := range in.rows(o) {
		if fault != nil {
			errs = append(errs, fault)
		} else {
			tests.add(p)
		}
	}
	tests.compareNames()
	tests.askAboutNames()
	records := make([]protocol.Record, 0, len(tests.all))
	once := oncePerSheet{}
	for _, c := range tests.all {
		rec := c.finish()
		if news := once.untold(rec.Faults); news != nil {
			errs = append(errs, joinFaults(news))
		}
		records = append(records, rec)
	}
	askAboutPools(records)
	return records, joinMany(errs, in.from.err)
}

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
		in := newAssigner(r)
		var open *collector
		hand := func() bool {
			if open == nil {
				return true
			}
			rec := open.finish()
			return yield(rec, rec.Err())
		}
		for p, fault := range in.rows(o) {
			if fault != nil {
				if !yield(protocol.Record{}, fault) {
					return
				}
				continue
			}
			if open == nil || !open.claims(&p) {
				if !hand() {
					return
				}
				next := newCollector(p)
				if open != nil && alike(p.key.swimmer, open.key.swimmer) {
					next.fault(spelling(next.line, p.key.swimmer, open))
				}
				open = next
			}
			open.add(p)
		}
		if hand() && in.from.err != nil {
			yield(protocol.Record{}, in.from.err)
		}
	}
}

// tests are the tests of a sheet whose rows may stand anywhere.
type tests struct {
	all   []*collector          // in order of their first rows
	at    map[inPool]*collector // by folded name; the first without its pool
	spelt map[key]*collector    // by the name as it stands: the last test it was in
}

// inPool is a test in a pool of its own.
type inPool struct {
	key  key
	pool pace.Pool
}

// add gives a row, or [lost] ones, to its test.
func (t *tests) add(p parsed) {
	c := t.of(p)
	c.respell(&p)
	c.add(p)
}

// of returns the test of a row, and starts it if need be.
func (t *tests) of(p parsed) *collector {
	at := inPool{key: key{protocol.FoldName(p.key.swimmer), p.key.date}}
	c := t.at[at]
	switch {
	case c == nil:
	case p.pool.IsZero() && t.spelt[p.key] != nil: // the pool cannot be read: the test above
		c = t.spelt[p.key]
	case c.elsewhere(p): // a test of its own
		at.pool = p.pool
		c = t.at[at]
	}
	if c == nil {
		c = newCollector(p)
		t.all, t.at[at] = append(t.all, c), c
	}
	t.spelt[p.key] = c
	return c
}
