package table

import "strings"

// Tables are the tables of one result. The zero value has none.
type Tables []Table

// HTML returns the tables one below the other.
func (ts Tables) HTML() string { return ts.join("", Table.HTML) }

// Markdown returns the tables one below the other.
func (ts Tables) Markdown() string { return ts.join("\n", Table.Markdown) }

// String returns the tables for a terminal, a blank line between two.
func (ts Tables) String() string { return ts.join("\n", Table.String) }

// join leaves out tables that say nothing.
func (ts Tables) join(between string, text func(Table) string) string {
	var parts []string
	for _, t := range ts {
		if len(t.Rows)+len(t.Notes) > 0 {
			parts = append(parts, text(t))
		}
	}
	return strings.Join(parts, between)
}
