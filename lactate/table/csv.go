package table

import (
	"encoding/csv"
	"strconv"
	"strings"
)

// CSV returns the head and the rows as CSV with commas, for a spreadsheet. A text that
// a spreadsheet would take for a formula, since it begins with =, +, -, @, a tab or a
// carriage return, stands behind an apostrophe; numbers stay as they are. (What counts
// as the start of a formula: OWASP, CSV Injection, from memory.) Caption and notes are
// left out.
func (t Table) CSV() string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	write := func(cell func(i int) string) {
		record := make([]string, len(t.Head))
		for i := range record {
			record[i] = noFormula(cell(i))
		}
		w.Write(record) // a strings.Builder does not fail
	}
	write(func(i int) string { return t.Head[i].Name })
	for _, r := range t.Rows {
		write(func(i int) string { return cell(r, i) })
	}
	w.Flush()
	return b.String()
}

// noFormula returns a text that no spreadsheet runs.
func noFormula(s string) string {
	if s == "" {
		return s
	}
	if _, err := strconv.ParseFloat(s, 64); err == nil {
		return s
	}
	if first := []rune(strings.TrimLeft(s, " \u00a0\n")); len(first) > 0 && strings.ContainsRune("=+-@\t\r＝＋－＠", first[0]) {
		return "'" + s
	}
	return s
}
