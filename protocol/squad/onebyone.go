package squad

import (
	"errors"
	"hash/maphash"
	"io"
	"time"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
	"example.com/steptest/protocol/sheet"
)

// addByTest adds a sheet test by test, and holds one of them. The error is that of
// sheet.Read. ok is false if nothing was added, since the sheet has to be read as a whole.
func (s *Sheets) addByTest(name string, r io.Reader) (ok bool, beside []error, err error) {
	file, seeks := r.(io.Seeker)
	if !seeks {
		return false, nil, nil
	}
	start, err := file.Seek(0, io.SeekCurrent)
	if err != nil {
		return false, nil, nil
	}
	var held careers
	s.known.begin(name)
	ok, err = readByTest(r, s.Options, func(rec protocol.Record) error {
		counts, odd := s.known.admit(rec)
		if odd != nil {
			beside = append(beside, odd)
		}
		if !counts {
			return nil
		}
		return held.add(rec)
	})
	if ok {
		s.careers.merge(&held)
		return true, beside, err
	}
	s.known.forget()
	if _, err := file.Seek(start, io.SeekStart); err != nil {
		return true, nil, err // the sheet cannot be read as a whole either
	}
	return false, nil, nil
}

// readByTest reads a sheet and hands on each test. The error is that of sheet.Read; ok is
// false if sheet.Read reads the sheet otherwise.
func readByTest(r io.Reader, o sheet.Options, take func(protocol.Record) error) (ok bool, err error) {
	var ofSheet, ofTests []error
	var ofReader error
	alone := separate{maphash.MakeSeed(), map[uint64]bool{}, map[string]string{}, map[protocol.Fault]bool{}}
	for rec, err := range o.Scan(r) {
		switch {
		case rec.Swimmer != "" || !rec.Date.IsZero() || rec.Faults != nil:
			if !alone.admit(rec) {
				return false, nil
			}
			ofTests = few(few(ofTests, err), take(rec))
		case errors.As(err, new(*protocol.Fault)): // of no test
			ofSheet = few(ofSheet, err)
		default:
			ofReader = err
		}
	}
	errs := form.Most(append(ofSheet, ofTests...), sheet.ErrManyFaults)
	return true, errors.Join(append(errs, ofReader)...)
}

// few appends an error unless there are too many to list.
func few(errs []error, err error) []error {
	if err == nil || len(errs) > form.MaxFaults {
		return errs
	}
	return append(errs, err)
}

// separate are the tests of a sheet of which each can be read by itself.
type separate struct {
	seed  maphash.Seed
	seen  map[uint64]bool         // by the hash of folded name and date
	spelt map[string]string       // by the folded name
	told  map[protocol.Fault]bool // without its line
}

// admit takes a test. It reports whether the whole sheet says no more of it: its rows stand
// together, its name has one spelling, and no fault is told once for many rows, which is
// left to package sheet.
func (s *separate) admit(rec protocol.Record) bool {
	name := protocol.FoldName(rec.Swimmer)
	test := maphash.String(s.seed, name+"\n"+rec.Date.Format(time.DateOnly))
	if first, known := s.spelt[name]; s.seen[test] || known && first != rec.Swimmer {
		return false
	}
	s.seen[test], s.spelt[name] = true, rec.Swimmer
	for _, f := range rec.Faults {
		same := *f
		same.Line = 0
		if same.Rows > 0 || s.told[same] {
			return false
		}
		if form.ToldOnce(same.Column) {
			s.told[same] = true
		}
	}
	return true
}
