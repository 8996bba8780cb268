package sheet

import (
	"encoding/csv"
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// rowReader reads the header line, and then the rows below it.
type rowReader struct {
	lines     *lineReader
	separator byte // of fields; zero until the header line shows it
	header    headings
	text      strings.Reader // of one row
	csv       *csv.Reader    // of text; nil after a fault
	err       error          // of the reader, after the last row
}

func newRowReader(r io.Reader) *rowReader {
	return &rowReader{lines: newLineReader(r), header: headings{fatal: true}}
}

// rows yields the rows below the header, each once its dates are known. Faults of the
// header, or of no row, come alone. r.err is then the error of the reader. understand is
// sheetHeadings, or ofReadings.
func (r *rowReader) rows(o Options, understand func(line int, fields []string) headings) iter.Seq2[row, error] {
	return func(yield func(row, error) bool) {
		if fault := r.readHeader(understand); fault != nil && !yield(row{}, fault) || r.header.fatal {
			return
		}
		dates := newDates(o, r.header.units[colDate])
		pass := func(rows []row) bool {
			return !slices.ContainsFunc(rows, func(r row) bool { return !yield(r, nil) })
		}
		empty := true
		next, err := r.next()
		for ; err == nil || faultOf(err) != nil; next, err = r.next() {
			if err != nil && !yield(row{}, err) || err == nil && !pass(dates.add(next)) {
				return
			}
			empty = empty && err != nil
		}
		if err != io.EOF {
			r.err = err
		} else if empty && !yield(row{}, &protocol.Fault{Found: "a header line only", Want: "a row for each repeat below the header", Err: ErrEmpty}) {
			return
		}
		pass(dates.release())
	}
}

// next reads one row. The error is a fault of no row, or that of the reader.
func (r *rowReader) next() (row, error) {
	number, fields, err := r.fields()
	if f := faultOf(err); f != nil {
		return row{parsed: parsed{line: number, faults: []*protocol.Fault{f}}, size: usualRow, broken: true}, nil
	} else if err != nil {
		return row{}, err
	}
	fields[0] = strings.TrimPrefix(fields[0], "\ufeff")
	for len(fields) > len(r.header.fields) && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	if slices.Equal(fields, r.header.fields) {
		return row{}, &protocol.Fault{Line: number, Found: form.Shorten(strings.Join(fields, string(rune(r.separator)))), Want: "the header line only once, above the rows", Err: ErrHeaderAgain}
	}
	return r.inColumns(number, fields), nil
}

// fields reads the fields of one row, or of the header line. A row covers several lines
// if a quoted field holds line breaks. If its quotes are not closed soon, the row is at
// fault and only its first line is used up.
func (r *rowReader) fields() (number int, fields []string, err error) {
	first, err := r.filledLine()
	if err != nil {
		return 0, nil, err
	}
	want := r.wantLine(&first)
	if want == "" {
		text, more, closed, err := r.closeQuotes(first.text)
		if err != nil {
			return 0, nil, err
		}
		if !closed {
			want = "every quoted field closed again"
		} else if fields, err = r.split(text); err != nil || len(more) > 0 && (len(fields) != len(r.header.fields) || !utf8.ValidString(text)) {
			want = "fields as RFC 4180 writes them, with every quote closed again before the next separator"
		} else {
			return first.number, fields, nil
		}
		r.lines.putBack(more)
	}
	return first.number, nil, &protocol.Fault{Line: first.number, Found: form.Shorten(first.text), Want: want, Err: protocol.ErrRow}
}

// filledLine reads the next line that is not blank.
func (r *rowReader) filledLine() (l line, err error) {
	for l, err = r.lines.next(); err == nil && strings.Trim(l.text, " \t,;") == "" && !l.long; {
		l, err = r.lines.next()
	}
	return l, err
}

// wantLine returns what is wanted instead of a line that no row can start with; nothing
// if it can. The header line shows what separates the fields.
func (r *rowReader) wantLine(l *line) (want string) {
	if l.long {
		return fmt.Sprintf("a row of no more than %d bytes", maxRow)
	}
	if r.separator == 0 { // the header line
		l.text = strings.TrimPrefix(l.text, "\ufeff")
		want = r.detect(l.text)
	}
	if want == "" && !utf8.ValidString(l.text) {
		want = "text in UTF-8"
	}
	return want
}

// closeQuotes reads more lines until all quotes are closed. closed is false if they are
// not closed soon.
func (r *rowReader) closeQuotes(first string) (text string, more []line, closed bool, err error) {
	for text = first; strings.Count(text, `"`)%2 == 1; {
		next, err := r.lines.next()
		if err == io.EOF {
			return text, more, false, nil
		} else if err != nil {
			return text, more, false, err
		}
		more = append(more, next)
		if next.long || len(more) == maxRowLines || len(text)+len(next.text) >= maxRow {
			return text, more, false, nil
		}
		text += "\n" + next.text
	}
	return text, more, true, nil
}

// split parses the text of one row.
func (r *rowReader) split(text string) ([]string, error) {
	if r.csv == nil {
		r.csv = csv.NewReader(&r.text)
		r.csv.Comma = rune(r.separator)
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

// usualRow is what a row takes in memory beside its texts, about [bytes].
const usualRow = 1000

// inColumns puts each field into the cell of its column.
func (r *rowReader) inColumns(number int, fields []string) row {
	header := r.header.fields
	out := row{parsed: parsed{line: number}, size: usualRow, decimalComma: r.separator != ',', units: &r.header.units}
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
		if r.separator == ',' && len(fields) > len(header) {
			want += "; is there a comma inside a field that is not quoted, or a decimal comma?"
		}
		out.broken, out.faults = true, []*protocol.Fault{{Line: number, Found: fmt.Sprintf("%d fields", len(fields)), Want: want, Err: protocol.ErrRow}}
	}
	return out
}
