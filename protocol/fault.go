package protocol

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol/internal/form"
)

// What a fault in the rows of a test is about, for errors.Is. The [*Fault]
// around it gives the place. Package sheet adds those of the sheet as a whole.
var (
	// ErrRow: a line is no row of the sheet: too long, badly quoted, or with
	// too few or too many fields.
	ErrRow = errors.New("the line is no row of the sheet")
	// ErrValue: a field cannot be read, or cannot be true.
	ErrValue = errors.New("the value cannot be right")
	// ErrConflict: a row contradicts another row of the same test.
	ErrConflict = errors.New("the row contradicts another")
)

// Fault is one fault of a sheet: the place, what was found there and what was
// wanted. Errors hold a pointer to it, which is what errors.As finds. The zero
// value is no fault.
type Fault struct {
	Line   int    // counted from 1; zero means the whole sheet
	Column string // name of the column; empty means the whole row
	Found  string // what was found, shortened; empty means nothing
	Want   string // what was wanted
	Err    error  // what it is about: [ErrRow], [ErrValue], [ErrConflict], or one of package sheet
	// Kept says that the fault costs this cell only: its row is kept, with the
	// cell blank. False means that the row is left out.
	Kept bool
	// Rows is the number of rows that have this fault, told once for all of them;
	// Line is the first. Zero means one.
	Rows int
}

// costsCurve reports whether the fault can change the points of the curve.
func (e *Fault) costsCurve() bool {
	if !e.Kept {
		return true
	}
	switch e.Column {
	case "time", "distance", "lactate", "pool", "repeat", "":
		return true
	}
	return false
}

func (e *Fault) Error() string {
	var b strings.Builder
	b.WriteString("protocol: sheet")
	if e.Line > 0 {
		fmt.Fprintf(&b, " line %d", e.Line)
	}
	if e.Rows > 1 {
		fmt.Fprintf(&b, " and %d more", e.Rows-1)
	}
	if e.Column != "" {
		fmt.Fprintf(&b, ", %s", form.Shorten(e.Column))
	}
	if e.Found != "" {
		fmt.Fprintf(&b, ": found %q", table.Short(e.Found, 200))
	} else {
		b.WriteString(": found nothing")
	}
	fmt.Fprintf(&b, ", want %s", table.Short(e.Want, 1000))
	return b.String()
}

// Faults returns every fault that an error holds, in order, such as that of reading a
// sheet. Nil means none.
func Faults(err error) (all []*Fault) {
	switch e := err.(type) {
	case nil:
	case *Fault:
		if e != nil {
			all = append(all, e)
		}
	case interface{ Unwrap() []error }:
		for _, part := range e.Unwrap() {
			all = append(all, Faults(part)...)
		}
	default:
		return Faults(errors.Unwrap(err))
	}
	return all
}

// writtenFault is a fault as it stands in JSON.
type writtenFault struct {
	Line   int    `json:"line,omitzero"`
	Column string `json:"column,omitzero"`
	Found  string `json:"found,omitzero"`
	Want   string `json:"want,omitzero"`
	Err    string `json:"error,omitzero"`
	Kept   bool   `json:"kept,omitzero"`
	Rows   int    `json:"rows,omitzero"`
}

// MarshalJSON writes the sentinel in words.
func (e *Fault) MarshalJSON() ([]byte, error) {
	out := writtenFault{Line: e.Line, Column: e.Column, Found: e.Found, Want: e.Want, Kept: e.Kept, Rows: e.Rows}
	if e.Err != nil {
		out.Err = e.Err.Error()
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads what MarshalJSON writes. Words that are not those of a
// sentinel of this package become an error of these words.
func (e *Fault) UnmarshalJSON(data []byte) error {
	var in writtenFault
	if err := json.Unmarshal(data, &in); err != nil {
		return err
	}
	*e = Fault{Line: in.Line, Column: in.Column, Found: in.Found, Want: in.Want, Kept: in.Kept, Rows: in.Rows}
	for _, err := range []error{ErrRow, ErrValue, ErrConflict} {
		if in.Err == err.Error() {
			e.Err = err
			return nil
		}
	}
	if in.Err != "" {
		e.Err = errors.New(in.Err)
	}
	return nil
}

// Unwrap returns the sentinel, for errors.Is.
func (e *Fault) Unwrap() error { return e.Err }
