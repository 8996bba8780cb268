package sheet

import "strings"

// A spreadsheet takes a cell that starts with one of these for a formula, and runs it
// when it opens the sheet: common practice is a quotation mark before it.
const formulaSigns = "=+-@"

// startsFormula reports whether a field, less the marks before it, starts a formula.
func startsFormula(field string) bool {
	rest := strings.TrimLeft(field, "'")
	return rest != "" && strings.IndexByte(formulaSigns, rest[0]) >= 0
}

// guarded returns the field as it stands in the file, with a mark before what a
// spreadsheet would run. bare is its inverse.
func guarded(field string) string {
	if startsFormula(field) {
		return "'" + field
	}
	return field
}

// bare returns what a field of the file says.
func bare(field string) string {
	if strings.HasPrefix(field, "'") && startsFormula(field) {
		return field[1:]
	}
	return field
}
