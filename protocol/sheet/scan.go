package sheet

import (
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
			if open != nil && !open.elsewhere(p) {
				p.respell(open.key, open.line)
			}
			if open == nil || p.key != open.key {
				if !hand() {
					return
				}
				next := newCollector(p)
				if open != nil && alike(p.key.swimmer, open.key.swimmer) {
					next.fault(spelling(next.line, p.key.swimmer, open.key.swimmer, open.line))
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
