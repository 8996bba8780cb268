package sheet

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// readHeader reads the header line, whose columns understand finds out. The error joins
// its faults.
func (r *rowReader) readHeader(understand func(line int, fields []string) headings) error {
	number, fields, err := r.headerLine()
	switch {
	case faultOf(err) != nil:
		return err
	case err != nil:
		r.err = err
		return nil
	}
	r.header = understand(number, fields)
	return errors.Join(r.header.faults...)
}

// headerLine reads the fields of the header line.
func (r *rowReader) headerLine() (number int, fields []string, err error) {
	if err := r.skipTitle(); err != nil {
		return 0, nil, err
	}
	number, fields, err = r.fields()
	if err == io.EOF {
		err = &protocol.Fault{Want: "a header line, and a row for each repeat", Err: ErrEmpty}
	}
	for len(fields) > 0 && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	return number, fields, err
}

// maxTitle is how many lines may stand above the header.
const maxTitle = 20

// skipTitle goes on to the first line that names three columns or more, if there
// is one near the top. What stands above it is a title.
func (r *rowReader) skipTitle() error {
	var seen []line
	for range maxTitle + 1 {
		l, err := r.lines.next()
		if err == io.EOF {
			break
		} else if err != nil {
			return err
		}
		if seen = append(seen, l); l.long {
			break
		} else if looksLikeHeader(l.text) {
			seen = seen[len(seen)-1:]
			break
		}
	}
	r.lines.putBack(seen)
	return nil
}

func looksLikeHeader(text string) bool {
	return slices.ContainsFunc([]string{",", ";", "\t"}, func(sep string) bool {
		known := 0
		for f := range strings.SplitSeq(strings.TrimPrefix(text, "\ufeff"), sep) {
			if _, _, ok := heading(strings.Trim(strings.TrimSpace(f), `"`), columnCount); ok {
				known++
			}
		}
		return known >= 3
	})
}

// detect finds out what separates the fields: a comma, or the semicolon that
// spreadsheets write if the comma is the decimal sign, or the tab of cells that
// were copied. It returns what is wanted if the text is none of these.
func (r *rowReader) detect(header string) (want string) {
	r.separator = ','
	switch {
	case strings.HasPrefix(header, "PK\x03\x04"):
		return "text; this looks like a workbook: save it as CSV"
	case strings.HasPrefix(header, "\xff\xfe") || strings.HasPrefix(header, "\xfe\xff") || strings.Contains(header, "\x00"):
		return "text in UTF-8; this looks like UTF-16"
	case strings.Contains(header, "\r"):
		return "lines that end in a line feed, or carriage return and line feed"
	case strings.Count(header, ";") > strings.Count(header, ","):
		r.separator = ';'
	case strings.Contains(header, "\t") && !strings.Contains(header, ","):
		r.separator = '\t'
	}
	return ""
}

const (
	colExtra  column = -1 // a column we do not know, kept as it is
	colIgnore column = -2 // a column without a name, or one that is at fault
)

// headings says which column each field of the header line means.
type headings struct {
	line    int
	fields  []string
	meaning []column // of each field, or one of the two above
	units   [allColumns]string
	at      [allColumns]int // number of the field that means the column, or would but for a fault, from 1
	faults  []error
	fatal   bool // a column is missing without which no row can be read
}

// sheetHeadings finds out which column each field of a sheet's header line means.
func sheetHeadings(line int, fields []string) headings {
	h := headings{line: line, fields: fields}
	blank := func(f string) bool { return f == "" }
	if _, _, known := heading(strings.Join(fields, ""), columnCount); !known && len(slices.DeleteFunc(slices.Clone(fields), blank)) <= 1 {
		h.fault("", strings.Join(fields, ""), "the header line, with swimmer, date, pool, distance, repeat, time and lactate; is there a title above it? The sheet starts with its header")
		h.fatal = true
		return h
	}
	h.findKnown(columnCount)
	h.judgeUnknown()
	h.findMissing()
	return h
}

func (h *headings) fault(column, found, want string) {
	h.faults = append(h.faults, &protocol.Fault{Line: h.line, Column: column, Found: form.Shorten(found), Want: want, Err: ErrColumns})
}

// findKnown finds the fields that name a column before the one given, each once and in
// its unit.
func (h *headings) findKnown(before column) {
	h.meaning = make([]column, len(h.fields))
	for i, f := range h.fields {
		c, unit, ok := heading(f, before)
		h.meaning[i] = colIgnore
		switch {
		case f == "":
		case !ok:
			h.meaning[i] = colExtra
		case h.at[c] != 0:
			h.fault(c.String(), f, fmt.Sprintf("this column only once; field %d, %q, is the same", h.at[c], form.Shorten(h.fields[h.at[c]-1])))
		case !c.unitFits(unit):
			h.fault(c.String(), f, c.wantUnit())
			h.at[c] = i + 1 // it is there, though at fault: not to be reported as missing, too
		default:
			h.meaning[i], h.at[c], h.units[c] = c, i+1, unit
		}
	}
}

// wantUnit says which unit a header may give for the column.
func (c column) wantUnit() string {
	const none = "no unit in the header"
	switch {
	case c.unit() != "":
		return "values in " + c.unit()
	case c.holds() == holdsTime:
		return none + " but s, or a form such as min:s; times are written 5:32.4"
	case c.holds() == holdsLength:
		return none + " but m or yd"
	}
	return none
}

// judgeUnknown refuses those of the other fields that look like a slip, or
// cannot be the name of a column that is kept.
func (h *headings) judgeUnknown() {
	for i, f := range h.fields {
		if h.meaning[i] != colExtra {
			continue
		}
		name, _ := fold(f)
		if name == "strokes" || name == "stroke count" {
			h.fault("", f, fmt.Sprintf("%q, one cycle being two arm strokes in crawl and backstroke, so that nobody counts twice or half", colCycles))
		} else if c, ok := slipOf(name, func(c column) bool { return h.at[c] != 0 }); ok {
			h.fault("", f, fmt.Sprintf("%q, if that is what this column is; any other name if not", c))
			h.at[c] = i + 1 // not to be reported as missing, too
		} else if !form.Printable(f) || strings.ContainsAny(f, "\n\t;") {
			h.fault("", f, "a name without control characters and semicolons")
		} else if slices.Index(h.fields, f) < i {
			h.fault("", f, "every column name only once")
		} else {
			continue
		}
		h.meaning[i] = colIgnore
	}
}

// findMissing reports the required columns that are not there, with the fields that are
// not understood: each, or all at once if there are many.
func (h *headings) findMissing() {
	var required, missing, unknown []string
	for c := range columnCount {
		if !c.required() {
			continue
		}
		h.fatal = h.fatal || !slices.Contains(h.meaning, c)
		required = append(required, c.String())
		if h.at[c] == 0 {
			missing = append(missing, c.String())
		}
	}
	for i, f := range h.fields {
		if h.meaning[i] == colExtra {
			unknown = append(unknown, f)
		}
	}
	also := ""
	if unknown != nil {
		also = "; not understood: " + form.Quoted(unknown)
	}
	if len(missing) >= 3 { // this is likely no header
		want := "the columns " + strings.Join(required, ", ") + "; header not understood"
		if len(missing) < len(required) {
			want += ", missing: " + strings.Join(missing, ", ")
		}
		want += also
		if h.at == ([allColumns]int{}) {
			want += "; is there a title above the header, or no header?"
		}
		h.fault("", strings.Join(h.fields, ","), want)
		return
	}
	for _, name := range missing {
		h.fault(name, "", "this column"+also)
		also = ""
	}
}
