package sheet

import (
	"errors"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// What a fault of the sheet as a whole is about, for errors.Is. The
// [*protocol.Fault] around it gives the place. Faults of single rows are about
// [protocol.ErrRow], [protocol.ErrValue] or [protocol.ErrConflict].
var (
	// ErrEmpty: the sheet holds no line, or a header and no row below it.
	ErrEmpty = errors.New("the sheet holds no repeat")
	// ErrColumns: the header line lacks a required column, names a column
	// twice, or has a name that looks like a slip of the pen.
	ErrColumns = errors.New("the columns are not as they must be")
	// ErrDates: dates have two readings, and nothing says whether the day or the
	// month stands first. [Options] can.
	ErrDates = errors.New("the order of day and month is not known")
	// ErrHeaderAgain: the header line is repeated among the rows, as in two
	// files put together. The rows below it are read.
	ErrHeaderAgain = errors.New("the header line is repeated")
)

// ErrManyFaults ends the faults of a sheet that has too many to list.
var ErrManyFaults = errors.New("sheet: more faults than these")

// faultOf returns the fault of the sheet that an error is; nil if it is one of the reader.
func faultOf(err error) *protocol.Fault {
	var fault *protocol.Fault
	errors.As(err, &fault)
	return fault
}

func joinFaults(faults []*protocol.Fault) error { return protocol.Record{Faults: faults}.Err() }

// joinMany joins the faults of a sheet, and the error of its reader.
func joinMany(errs []error, err error) error {
	return errors.Join(append(form.Most(errs, ErrManyFaults), err)...)
}

// oncePerSheet tells what many rows of a sheet have in common once, though every
// test that has it holds it: dates with two readings, lactate and heart rate
// exchanged, and the same words in the cells of [form.ToldOnce].
type oncePerSheet map[protocol.Fault]*protocol.Fault

// untold returns those faults of a test that are still to be told.
func (o oncePerSheet) untold(all []*protocol.Fault) (out []*protocol.Fault) {
	for _, f := range all {
		if f.Rows == 0 && !form.ToldOnce(f.Column) {
			out = append(out, f)
			continue
		}
		same := *f
		same.Line, same.Rows = 0, 0
		if f.Want == wantExchanged {
			same.Found = ""
		}
		if told := o[same]; told == nil {
			kept := *f
			o[same] = &kept
			out = append(out, &kept)
		} else if f.Line != told.Line { // else one fault, in several tests
			told.Rows = max(told.Rows, 1) + max(f.Rows, 1)
		}
	}
	return out
}
