package protocol

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"unicode"
)

// What a fault of a sheet is about, for errors.Is; the [*SheetError] around it
// says where.
var (
	// ErrEmptySheet: the sheet holds no line, or a header and no row below it.
	ErrEmptySheet = errors.New("the sheet holds no repeat")
	// ErrColumns: the header line lacks a column that a sheet must have, names
	// one twice, or names one that looks like a slip of the pen.
	ErrColumns = errors.New("the columns are not as they must be")
	// ErrRow: a line is no row of this sheet: too long, badly quoted, or with
	// too few or too many fields.
	ErrRow = errors.New("the line is no row of the sheet")
	// ErrHeaderAgain: the header line stands once more among the rows, as where
	// two files were put together. The rows below it are read.
	ErrHeaderAgain = errors.New("the header line is repeated")
	// ErrValue: a field cannot be read, or cannot be true.
	ErrValue = errors.New("the value cannot be right")
	// ErrConflict: a row contradicts another row of the same test.
	ErrConflict = errors.New("the row contradicts another")
)

// SheetError is one fault of a sheet: where it stands, what was found there
// and what was expected. Errors hold a pointer to it, which is what errors.As
// finds. The zero value is no fault.
type SheetError struct {
	Line   int    // counted from 1; zero where the fault is of the whole sheet
	Column string // name of the column; empty where the whole row is meant
	Found  string // what was found, shortened; empty where nothing was
	Want   string // what was expected
	Err    error  // one of the sentinels of this package
	// Kept says that the fault costs this cell only: its row is kept, as if
	// the cell were blank. False means that the row is left out.
	Kept bool
}

func (e *SheetError) Error() string {
	var b strings.Builder
	b.WriteString("protocol: sheet")
	if e.Line > 0 {
		fmt.Fprintf(&b, " line %d", e.Line)
	}
	if e.Column != "" {
		fmt.Fprintf(&b, ", %s", e.Column)
	}
	if e.Found != "" {
		fmt.Fprintf(&b, ": found %q", e.Found)
	} else {
		b.WriteString(": found nothing")
	}
	fmt.Fprintf(&b, ", want %s", e.Want)
	return b.String()
}

// sentinels are what a fault of a sheet may be about.
func sentinels() []error {
	return []error{ErrEmptySheet, ErrColumns, ErrRow, ErrHeaderAgain, ErrValue, ErrConflict}
}

// writtenFault is a fault as it stands in JSON.
type writtenFault struct {
	Line   int    `json:"line,omitzero"`
	Column string `json:"column,omitzero"`
	Found  string `json:"found,omitzero"`
	Want   string `json:"want,omitzero"`
	Err    string `json:"error,omitzero"`
	Kept   bool   `json:"kept,omitzero"`
}

// MarshalJSON writes the sentinel in words.
func (e *SheetError) MarshalJSON() ([]byte, error) {
	out := writtenFault{Line: e.Line, Column: e.Column, Found: e.Found, Want: e.Want, Kept: e.Kept}
	if e.Err != nil {
		out.Err = e.Err.Error()
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads what MarshalJSON writes, with the sentinel that the words
// are of.
func (e *SheetError) UnmarshalJSON(data []byte) error {
	var in writtenFault
	if err := json.Unmarshal(data, &in); err != nil {
		return err
	}
	*e = SheetError{Line: in.Line, Column: in.Column, Found: in.Found, Want: in.Want, Kept: in.Kept}
	for _, err := range sentinels() {
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

// Unwrap returns the sentinel, so that errors.Is sees it.
func (e *SheetError) Unwrap() error { return e.Err }

// shorten cuts what was found to a length that fits a message, and makes its
// control characters visible as spaces.
func shorten(s string) string {
	const most = 40
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
	if runes := []rune(s); len(runes) > most {
		s = string(runes[:most]) + "…"
	}
	return s
}
