package table

import (
	"html"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/steptest/lactate/internal/clean"
)

// Table is a table of text. The zero value is an empty one. Wherever it is shown, its texts
// are made safe as by [Clean]; in Markdown and for a terminal each is one line.
type Table struct {
	Caption string
	Head    []Column
	Rows    [][]string // a row may be shorter than the head; what is longer is not shown
	Notes   []string   // a line each, below the table
}

// Column is the head of a column. The zero value has no name and holds text.
type Column struct {
	Name   string // with the unit
	Number bool   // set to the right
}

// HTML returns the table as HTML, without a style but for numbers, which are
// set to the right.
func (t Table) HTML() string {
	var b strings.Builder
	b.WriteString("<table>\n")
	if t.Caption != "" {
		b.WriteString("<caption>" + html.EscapeString(clean.Text(t.Caption)) + "</caption>\n")
	}
	align := func(i int) string {
		if i < len(t.Head) && t.Head[i].Number {
			return ` style="text-align:right"`
		}
		return ` style="text-align:left"`
	}
	b.WriteString("<thead><tr>")
	for i, c := range t.Head {
		b.WriteString(`<th scope="col"` + align(i) + ">" + html.EscapeString(clean.Text(c.Name)) + "</th>")
	}
	b.WriteString("</tr></thead>\n<tbody>\n")
	for _, r := range t.Rows {
		b.WriteString("<tr>")
		for i := range t.Head {
			if i == 0 {
				b.WriteString(`<th scope="row"` + align(i) + ">" + html.EscapeString(clean.Text(cell(r, i))) + "</th>")
			} else {
				b.WriteString("<td" + align(i) + ">" + html.EscapeString(clean.Text(cell(r, i))) + "</td>")
			}
		}
		b.WriteString("</tr>\n")
	}
	b.WriteString("</tbody>\n</table>\n")
	for _, n := range t.Notes {
		b.WriteString("<p>" + html.EscapeString(clean.Text(n)) + "</p>\n")
	}
	return b.String()
}

// Markdown returns the table as Markdown with the tables of GitHub and others.
func (t Table) Markdown() string {
	var b strings.Builder
	if t.Caption != "" {
		b.WriteString("**" + markdown(t.Caption) + "**\n\n")
	}
	line := func(cell func(i int) string) {
		b.WriteString("|")
		for i := range t.Head {
			b.WriteString(" " + cell(i) + " |")
		}
		b.WriteString("\n")
	}
	if len(t.Head) > 0 {
		line(func(i int) string { return markdown(t.Head[i].Name) })
		line(func(i int) string {
			if t.Head[i].Number {
				return "---:"
			}
			return ":---"
		})
		for _, r := range t.Rows {
			line(func(i int) string { return markdown(cell(r, i)) })
		}
	}
	for _, n := range t.Notes {
		b.WriteString("\n" + markdown(n) + "\n")
	}
	return b.String()
}

// String returns the table for a terminal: the caption, columns below it, and the
// notes in lines of [Width]; without columns the notes are a list.
func (t Table) String() string {
	widths := make([]int, len(t.Head))
	for i, c := range t.Head {
		widths[i] = utf8.RuneCountInString(oneLine(c.Name))
		for _, r := range t.Rows {
			widths[i] = max(widths[i], utf8.RuneCountInString(oneLine(cell(r, i))))
		}
	}
	var b strings.Builder
	if t.Caption != "" {
		b.WriteString(oneLine(t.Caption) + "\n")
	}
	line := func(cell func(i int) string) {
		var l strings.Builder
		for i, c := range t.Head {
			s := oneLine(cell(i))
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(s))
			if c.Number {
				s, pad = pad+s, ""
			}
			l.WriteString("  " + s + pad)
		}
		b.WriteString(strings.TrimRight(l.String(), " ") + "\n")
	}
	if slices.ContainsFunc(t.Head, func(c Column) bool { return c.Name != "" }) {
		line(func(i int) string { return t.Head[i].Name })
	}
	for _, r := range t.Rows {
		line(func(i int) string { return cell(r, i) })
	}
	lead := "  "
	if len(t.Head) == 0 {
		lead = "  - "
	}
	for _, n := range t.Notes {
		b.WriteString(Wrap(lead, n, Width))
	}
	return b.String()
}

func cell(row []string, i int) string {
	if i < len(row) {
		return row[i]
	}
	return ""
}

func oneLine(s string) string { return clean.Line(s) }

// escapes are the characters that Markdown reads inside a line; a dollar sign
// starts a formula in notebooks.
var escapes = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "|", `\|`, "~", `\~`, "$", `\$`,
	"<", "&lt;", ">", "&gt;", "&", "&amp;",
)

// markdown escapes a text that is to stand on one line. A line that would start
// a heading, list or quotation starts with its first sign escaped.
func markdown(s string) string {
	s = escapes.Replace(oneLine(s))
	if s != "" && strings.ContainsRune("#+-=", rune(s[0])) {
		s = `\` + s
	}
	return s
}
