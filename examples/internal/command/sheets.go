package command

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/protocol/squad"
)

// read reads all sheets. The error joins their faults, and those of the sheets beside one
// another; the good rows come with it.
func (p Program) read(q request, stdin io.Reader) (*squad.Sheets, error) {
	names := q.sheets
	if q.invented() {
		names, stdin = []string{"-"}, bytes.NewReader(p.Bundled)
	}
	all := &squad.Sheets{Options: q.options, Latest: p.WorkOutLatest != nil, Notes: q.asJSON}
	var errs []error
	for _, name := range names {
		in, called := stdin, "standard input"
		if name != "-" {
			f, err := os.Open(name)
			if err != nil {
				errs = append(errs, fmt.Errorf("%s: %w", p.Name, err))
				continue
			}
			defer f.Close()
			in, called = f, name
		}
		beside, err := all.Add(called, in)
		if len(names) > 1 {
			err = inFile(called, err)
		}
		errs = append(errs, DatesHint(err))
		for _, err := range beside {
			errs = append(errs, fmt.Errorf("%s: %w", p.Name, err))
		}
	}
	return all, errors.Join(errs...)
}

// inFile puts the name of the file before each of the errors that are joined.
func inFile(name string, err error) error {
	if err == nil {
		return nil
	}
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return fmt.Errorf("%s: %w", name, err)
	}
	var all []error
	for _, part := range joined.Unwrap() {
		all = append(all, inFile(name, part))
	}
	return errors.Join(all...)
}

// ReadFile reads the sheet of that name, or the bundled one if the name is empty, and
// returns its faults apart from an error of the file.
func ReadFile(name string, bundled []byte, o sheet.Options) (records []protocol.Record, faults, err error) {
	text := bundled
	if name != "" {
		if text, err = os.ReadFile(name); err != nil {
			return nil, nil, err
		}
	}
	records, faults = o.Read(bytes.NewReader(text))
	return records, DatesHint(faults), nil
}
