package sheet

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// row is one row of a sheet, its fields already sorted to their columns.
type row struct {
	line  int
	cell  [columnCount]string // trimmed
	extra map[string]string   // cells that are not blank of columns we do not know
	stray []*protocol.Fault   // cells of columns without a name
}

// rowReader reads the header line, and then the rows below it.
type rowReader struct {
	lines   *lineReader
	comma   byte
	header  []string // as found, trimmed
	meaning []column // of each field of the header, or one of the two below
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
		fields[i] = strings.TrimSpace(f)
	}
	return fields, nil
}

// gather reads the lines of one row. Where a quoted field holds line breaks
// the row covers several; where its quotes are not closed soon, the row is at
// fault and only its first line is used up.
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

// detect finds out what separates the fields: a comma, or the semicolon that
// spreadsheets write where the comma is the decimal sign.
func (r *rowReader) detect(header string) error {
	r.comma = ','
	switch {
	case strings.HasPrefix(header, "\xff\xfe") || strings.HasPrefix(header, "\xfe\xff") || strings.Contains(header, "\x00"):
		return errors.New("text in UTF-8; this looks like UTF-16")
	case strings.Contains(header, "\r"):
		return errors.New("lines that end in a line feed, or carriage return and line feed")
	case strings.Count(header, ";") > strings.Count(header, ","):
		r.comma = ';'
	case strings.Contains(header, ","):
	case strings.Contains(header, "\t"):
		return errors.New("fields separated by commas; these are separated by tabs")
	}
	return nil
}

// readHeader reads the header line. Its faults are returned joined, and fatal
// says whether no row can be read because of them.
func (r *rowReader) readHeader() (fatal bool, err error) {
	number, fields, err := r.gather()
	if err == io.EOF {
		return true, &protocol.Fault{Want: "a header line, and a row for each repeat", Err: ErrEmpty}
	}
	if err != nil {
		return true, err
	}
	for len(fields) > 0 && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	r.header = fields
	if one, ok := onlyText(fields); ok {
		return true, &protocol.Fault{Line: number, Found: form.Shorten(one), Want: "the header line, with swimmer, date, pool, distance, repeat, time and lactate; is there a title above it? The sheet starts with its header", Err: ErrColumns}
	}
	r.meaning, fatal, err = understand(number, fields)
	return fatal, err
}

// onlyText returns the one text of a line, if there is no more and it is no
// column that we know.
func onlyText(fields []string) (string, bool) {
	one := ""
	for _, f := range fields {
		if f != "" && one != "" {
			return "", false
		}
		one += f
	}
	name, _ := fold(one)
	_, known := columnNamed(name)
	return one, !known
}

// notUnderstood lists the columns that are kept as they are.
func notUnderstood(fields []string, meaning []column) string {
	const most = 8
	var names []string
	for i, f := range fields {
		if meaning[i] == colExtra {
			names = append(names, strconv.Quote(form.Shorten(f)))
		}
	}
	if n := len(names); n > most {
		names = append(names[:most], fmt.Sprintf("%d more", n-most))
	}
	return strings.Join(names, ", ")
}

// understand finds out which column each field of the header line means.
// Fatal says that a column is missing without which no row can be read.
func understand(number int, fields []string) (meaning []column, fatal bool, err error) {
	var errs []error
	fault := func(column, found, want string) {
		errs = append(errs, &protocol.Fault{Line: number, Column: column, Found: form.Shorten(found), Want: want, Err: ErrColumns})
	}
	meaning = make([]column, len(fields))
	var at [columnCount]int // field number, from 1
	for i, f := range fields {
		meaning[i] = colIgnore
		if f == "" {
			continue
		}
		name, unit := fold(f)
		c, ok := columnNamed(name)
		switch {
		case !ok:
			meaning[i] = colExtra
		case at[c] != 0:
			fault(c.String(), f, fmt.Sprintf("this column only once; field %d, %q, is the same", at[c], fields[at[c]-1]))
		case !c.unitFits(unit):
			want := "no unit in the header"
			switch {
			case c.unit() != "":
				want = "values in " + strings.Replace(c.unit(), "/l", "/L", 1)
			case c.clock():
				want += " but a form such as min:s; times are written 5:32.4"
			}
			fault(c.String(), f, want)
			at[c] = i + 1
		default:
			meaning[i], at[c] = c, i+1
		}
	}
	for i, f := range fields {
		if meaning[i] != colExtra {
			continue
		}
		name, _ := fold(f)
		if name == "strokes" || name == "stroke count" {
			fault("", f, fmt.Sprintf("%q, one cycle being two arm strokes in crawl and backstroke, so that nobody counts twice or half", colCycles))
			meaning[i] = colIgnore
		} else if c, ok := slipOf(name, func(c column) bool { return at[c] != 0 }); ok {
			fault("", f, fmt.Sprintf("%q, if that is what this column is; any other name if not", c))
			meaning[i] = colIgnore
			at[c] = i + 1
			fatal = fatal || c.required()
		} else if !form.Printable(f) || strings.ContainsAny(f, "\n\t;") {
			fault("", f, "a name without control characters and semicolons")
			meaning[i] = colIgnore
		} else if j := slices.Index(fields, f); j < i {
			fault("", f, "every column name only once")
			meaning[i] = colIgnore
		}
	}
	fatalTold := false // what is not understood is said once
	for c := range columnCount {
		if c.required() && at[c] == 0 {
			want := "this column"
			if unknown := notUnderstood(fields, meaning); !fatalTold && unknown != "" {
				want += "; not understood: " + unknown
			}
			if at == ([columnCount]int{}) && !fatalTold {
				want += "; is there a title above the header, or no header?"
			}
			fatalTold = true
			fault(c.String(), "", want)
			fatal = true
		}
		if c.required() && at[c] != 0 && meaning[at[c]-1] != c {
			fatal = true
		}
	}
	return meaning, fatal, errors.Join(errs...)
}

// next reads one row. An error that is a [*protocol.Fault] is a fault of that row,
// and the next can be read; any other ends the sheet.
func (r *rowReader) next() (row, error) {
	number, fields, err := r.gather()
	if err != nil {
		return row{line: number}, err
	}
	out := row{line: number}
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
	if len(fields) != len(r.header) {
		want := fmt.Sprintf("%d fields, as in the header", len(r.header))
		if r.comma == ',' && len(fields) > len(r.header) {
			want += "; is there a comma inside a field that is not quoted, or a decimal comma?"
		}
		return fault(fmt.Sprintf("%d fields", len(fields)), want)
	}
	return out, nil
}
