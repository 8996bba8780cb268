package squad

import (
	"errors"
	"hash/maphash"
	"io"
	"time"

	"example.com/steptest/internal/form"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// scan reads a sheet test by test and hands each to take. It holds one of them. The error
// is that of sheet.Read; ok is false if the sheet is one that sheet.Read reads otherwise:
// the rows of a test do not stand together, a name has two spellings, or a fault is told
// once for many tests.
func scan(r io.Reader, o sheet.Options, take func(protocol.Record) error) (ok bool, err error) {
	var ofSheet, ofTests []error
	var ofReader error
	seed := maphash.MakeSeed()
	seen := map[uint64]bool{}
	spelt := map[string]string{}
	told := map[protocol.Fault]bool{}
	for rec, err := range o.Scan(r) {
		if rec.Swimmer == "" && rec.Date.IsZero() && rec.Faults == nil { // of no test
			var fault *protocol.Fault
			if errors.As(err, &fault) {
				ofSheet = few(ofSheet, err)
			} else {
				ofReader = err
			}
			continue
		}
		name := protocol.FoldName(rec.Swimmer)
		test := maphash.String(seed, name+"\n"+rec.Date.Format(time.DateOnly))
		if first, known := spelt[name]; seen[test] || known && first != rec.Swimmer {
			return false, nil
		}
		seen[test], spelt[name] = true, rec.Swimmer
		for _, f := range rec.Faults {
			same := *f
			same.Line = 0
			if same.Rows > 0 || told[same] {
				return false, nil
			}
			if same.Column == "pool" || same.Column == "distance" {
				told[same] = true
			}
		}
		if err != nil {
			ofTests = few(ofTests, err)
		}
		if err := take(rec); err != nil {
			ofTests = few(ofTests, err)
		}
	}
	errs := append(ofSheet, ofTests...)
	if len(errs) > form.MaxFaults {
		errs = append(errs[:form.MaxFaults:form.MaxFaults], sheet.ErrManyFaults)
	}
	return true, errors.Join(append(errs, ofReader)...)
}

// few appends an error unless there are too many to list.
func few(errs []error, err error) []error {
	if len(errs) > form.MaxFaults {
		return errs
	}
	return append(errs, err)
}
