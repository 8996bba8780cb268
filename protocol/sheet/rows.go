package sheet

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/steptest/internal/form"
	"example.com/steptest/protocol"
)

// row is one row of a sheet, its fields already sorted to their columns. Its methods
// read the cells, and collect their faults.
type row struct {
	parsed
	cell   [allColumns]string // trimmed
	extra  map[string]string  // cells that are not blank of columns we do not know
	size   int                // what it takes in memory, about [bytes]
	broken bool               // it cannot be split into cells, as its one fault says

	units     *[allColumns]string // of the header
	comma     bool                // the decimal sign may be a comma
	undecided *protocol.Fault     // the date has two readings
	either    []string            // and these are they
}

// rowReader reads the header line, and then the rows below it.
type rowReader struct {
	lines  *lineReader
	comma  byte
	header headings
	text   strings.Reader // of one row
	csv    *csv.Reader    // of text; nil after a fault
}

func newRowReader(r io.Reader) *rowReader {
	return &rowReader{lines: newLineReader(r), header: headings{fatal: true}}
}

// each hands on the rows below the header, each once its dates are settled, and faults
// of no row to other, until one of them returns false. The error is that of the reader.
func (r *rowReader) each(o Options, take func(row) bool, other func(error) bool) error {
	dates := newDates(o, r.header.units[colDate])
	pass := func(ready []row) bool {
		return !slices.ContainsFunc(ready, func(r row) bool { return !take(r) })
	}
	for empty := true; ; {
		next, err := r.next()
		switch {
		case err != nil:
			if err == io.EOF {
				err = nil
				if empty {
					other(&protocol.Fault{Found: "a header line only", Want: "a row for each repeat below the header", Err: ErrEmpty})
				}
			}
			pass(dates.flush())
			return err
		case next.broken && next.faults[0].Err == ErrHeaderAgain:
			if !other(next.faults[0]) {
				return nil
			}
			continue
		}
		empty = false
		if !pass(dates.add(next)) {
			return nil
		}
	}
}

// split parses the text of one row.
func (r *rowReader) split(text string) ([]string, error) {
	if r.csv == nil {
		r.csv = csv.NewReader(&r.text)
		r.csv.Comma = rune(r.comma)
		r.csv.FieldsPerRecord = -1
	}
	r.text.Reset(text + "\n")
	fields, err := r.csv.Read()
	if err != nil {
		r.csv = nil
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
	text := first.text
	fault := func(want string) (int, []string, error) {
		return first.number, nil, &protocol.Fault{Line: first.number, Found: form.Shorten(text), Want: want, Err: protocol.ErrRow}
	}
	if first.long {
		return fault(fmt.Sprintf("a row of no more than %d bytes", maxRow))
	}
	if r.comma == 0 { // the header line
		text = strings.TrimPrefix(text, "\ufeff")
		if want := r.detect(text); want != "" {
			return fault(want)
		}
	}
	if !utf8.ValidString(text) {
		return fault("text in UTF-8")
	}
	var more []line
	reject := func(want string) (int, []string, error) {
		r.lines.putBack(more)
		text = first.text
		return fault(want)
	}
	for strings.Count(text, `"`)%2 == 1 {
		next, err := r.lines.next()
		if err != nil && err != io.EOF {
			return 0, nil, err
		}
		if err == nil {
			more = append(more, next)
		}
		if err == io.EOF || next.long || len(more) == maxRowLines || len(text)+len(next.text) >= maxRow {
			return reject("every quoted field closed again")
		}
		text += "\n" + next.text
	}
	fields, err := r.split(text)
	if known := r.header.fields; err != nil || len(more) > 0 && (known == nil || len(fields) != len(known) || !utf8.ValidString(text)) {
		return reject("fields as RFC 4180 writes them, with every quote closed again before the next separator")
	}
	return first.number, fields, nil
}

// next reads one row. The error is that of the reader.
func (r *rowReader) next() (row, error) {
	number, fields, err := r.gather()
	out := row{parsed: parsed{line: number}, size: 1000, comma: r.comma != ',', units: &r.header.units}
	fault := func(found, want string, of error) (row, error) {
		out.broken, out.faults = true, []*protocol.Fault{{Line: number, Found: form.Shorten(found), Want: want, Err: of}}
		return out, nil
	}
	if f := faultOf(err); f != nil {
		out.broken, out.faults = true, []*protocol.Fault{f}
		return out, nil
	} else if err != nil {
		return out, err
	}
	header := r.header.fields
	fields[0] = strings.TrimPrefix(fields[0], "\ufeff")
	for len(fields) > len(header) && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	if slices.Equal(fields, header) {
		return fault(strings.Join(fields, string(rune(r.comma))), "the header line only once, above the rows", ErrHeaderAgain)
	}
	filled := 0
	for i, f := range fields {
		if f == "" {
			continue
		}
		out.size += len(f)
		if filled++; i >= len(header) {
			continue
		}
		switch c := r.header.meaning[i]; {
		case c >= 0:
			out.cell[c] = f
		case c == colExtra:
			if out.extra == nil {
				out.extra = make(map[string]string)
			}
			out.extra[header[i]] = f
		case header[i] == "":
			out.faults = append(out.faults, &protocol.Fault{Line: number, Found: form.Shorten(f), Want: fmt.Sprintf("a name in the header for field %d", i+1), Err: protocol.ErrRow, Kept: true})
		}
	}
	if len(fields) > len(header) || len(fields) < len(header) && filled <= 2 {
		want := fmt.Sprintf("%d fields, as in the header", len(header))
		if r.comma == ',' && len(fields) > len(header) {
			want += "; is there a comma inside a field that is not quoted, or a decimal comma?"
		}
		return fault(fmt.Sprintf("%d fields", len(fields)), want, protocol.ErrRow)
	}
	return out, nil
}
