package sheet

import "strings"

// startsFormula reports whether a field, less the marks before it, starts as a cell does
// that a spreadsheet takes for a formula, and runs when it opens the sheet. A quotation
// mark before it is common practice.
func startsFormula(field string) bool {
	rest := strings.TrimLeft(field, "'")
	return rest != "" && strings.Contains("=+-@", rest[:1])
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
