package sheet

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// row is one row of a sheet, its fields already sorted to their columns.
type row struct {
	line  int
	cell  [columnCount]string  // trimmed
	extra map[string]string    // cells that are not blank of columns we do not know
	stray []*protocol.Fault    // cells of columns without a name, and dates that disagree
	units *[columnCount]string // of the header
	notes []note

	undecided *protocol.Fault // the date has two readings
	either    [2]string       // and these are they
}

// rowReader reads the header line, and then the rows below it.
type rowReader struct {
	lines   *lineReader
	comma   byte
	header  []string // as found, trimmed
	meaning []column // of each field of the header, or one of the two below
	units   [columnCount]string
	feed    feed
	buffer  *bufio.Reader // of feed
	csv     *csv.Reader   // of buffer; nil after a fault
}

const (
	colExtra  column = -1 // a column we do not know, kept as it is
	colIgnore column = -2 // a column without a name, or one that is at fault
)

// feed hands encoding/csv the text of one row at a time.
type feed struct{ text string }

func (f *feed) Read(p []byte) (int, error) {
	if f.text == "" {
		return 0, io.EOF
	}
	n := copy(p, f.text)
	f.text = f.text[n:]
	return n, nil
}

func newRowReader(r io.Reader) *rowReader {
	rows := &rowReader{lines: newLineReader(r)}
	rows.buffer = bufio.NewReader(&rows.feed)
	return rows
}

// split parses the text of one row.
func (r *rowReader) split(text string) ([]string, error) {
	if r.csv == nil {
		r.buffer.Reset(&r.feed)
		r.csv = csv.NewReader(r.buffer)
		r.csv.Comma = rune(r.comma)
		r.csv.FieldsPerRecord = -1
	}
	r.feed.text = text + "\n"
	fields, err := r.csv.Read()
	if err != nil {
		r.csv, r.feed.text = nil, ""
		return nil, err
	}
	for i, f := range fields {
		fields[i] = bare(strings.TrimSpace(f))
	}
	return fields, nil
}

// gather reads the lines of one row. A row covers several lines if a quoted field
// holds line breaks. If its quotes are not closed soon, the row is at fault and
// only its first line is used up.
func (r *rowReader) gather() (int, []string, error) {
	first, err := r.lines.next()
	for err == nil && strings.Trim(first.text, " \t,;") == "" && !first.long {
		first, err = r.lines.next()
	}
	if err != nil {
		return 0, nil, err
	}
	fault := func(want string) error {
		return &protocol.Fault{Line: first.number, Found: form.Shorten(first.text), Want: want, Err: protocol.ErrRow}
	}
	if first.long {
		return first.number, nil, fault(fmt.Sprintf("a row of no more than %d bytes", maxRow))
	}
	text := first.text
	if r.comma == 0 { // the header line
		text = strings.TrimPrefix(text, "\ufeff")
		if err := r.detect(text); err != nil {
			return first.number, nil, &protocol.Fault{Line: first.number, Found: form.Shorten(text), Want: err.Error(), Err: protocol.ErrRow}
		}
	}
	if !utf8.ValidString(text) {
		return first.number, nil, fault("text in UTF-8")
	}
	var more []line
	for strings.Count(text, `"`)%2 == 1 {
		next, err := r.lines.next()
		if err != nil && err != io.EOF {
			return 0, nil, err
		}
		if err == nil {
			more = append(more, next)
		}
		if err == io.EOF || next.long || len(more) == maxRowLines || len(text)+len(next.text) >= maxRow {
			r.lines.putBack(more)
			return first.number, nil, fault("every quoted field closed again")
		}
		text += "\n" + next.text
	}
	fields, err := r.split(text)
	if err == nil && len(more) > 0 && (r.header == nil || len(fields) != len(r.header) || !utf8.ValidString(text)) {
		err = csv.ErrQuote
	}
	if err != nil {
		r.lines.putBack(more)
		return first.number, nil, fault("fields as RFC 4180 writes them, with every quote closed again before the next separator")
	}
	return first.number, fields, nil
}

// next reads one row. An error that is a [*protocol.Fault] is a fault of that row,
// and the next can be read; any other ends the sheet.
func (r *rowReader) next() (row, error) {
	number, fields, err := r.gather()
	if err != nil {
		return row{line: number}, err
	}
	out := row{line: number, units: &r.units}
	fault := func(found, want string) (row, error) {
		return out, &protocol.Fault{Line: number, Found: form.Shorten(found), Want: want, Err: protocol.ErrRow}
	}
	fields[0] = strings.TrimPrefix(fields[0], "\ufeff")
	for len(fields) > len(r.header) && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	if slices.Equal(fields, r.header) {
		return out, &protocol.Fault{Line: number, Found: form.Shorten(strings.Join(fields, string(rune(r.comma)))), Want: "the header line only once, above the rows", Err: ErrHeaderAgain}
	}
	for i, f := range fields {
		if i >= len(r.meaning) {
			break
		}
		switch c := r.meaning[i]; {
		case c >= 0:
			out.cell[c] = f
		case c == colExtra && f != "":
			if out.extra == nil {
				out.extra = make(map[string]string)
			}
			out.extra[r.header[i]] = f
		case c == colIgnore && f != "" && r.header[i] == "":
			out.stray = append(out.stray, &protocol.Fault{Line: number, Found: form.Shorten(f), Want: fmt.Sprintf("a name in the header for field %d", i+1), Err: protocol.ErrRow, Kept: true})
		}
	}
	if len(fields) > len(r.header) || len(fields) < len(r.header) && filled(fields) <= 2 {
		want := fmt.Sprintf("%d fields, as in the header", len(r.header))
		if r.comma == ',' && len(fields) > len(r.header) {
			want += "; is there a comma inside a field that is not quoted, or a decimal comma?"
		}
		return fault(fmt.Sprintf("%d fields", len(fields)), want)
	}
	return out, nil
}

// filled counts the cells that are not blank.
func filled(fields []string) int {
	n := 0
	for _, f := range fields {
		if f != "" {
			n++
		}
	}
	return n
}
