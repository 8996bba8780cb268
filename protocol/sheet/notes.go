package sheet

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/steptest/protocol"
)

func (r *row) note(col column, format string, args ...any) {
	r.notes = append(r.notes, note{col, format, fmt.Sprintf(format, args...), r.line, 1})
}

// countNotes counts the notes of a row.
func (c *collector) countNotes(notes []note) {
	for _, n := range notes {
		i := slices.IndexFunc(c.notes, func(k note) bool { return k.col == n.col && k.kind == n.kind })
		if i < 0 {
			c.notes = append(c.notes, n)
		} else {
			c.notes[i].rows++
		}
	}
}

// placeNotes writes the notes into the record.
func (c *collector) placeNotes() {
	slices.SortStableFunc(c.notes, func(a, b note) int { return cmp.Compare(a.line, b.line) })
	for _, n := range c.notes {
		if n.rows > 1 {
			n.text += fmt.Sprintf("; so are %d more rows", n.rows-1)
		}
		c.record.Notes = append(c.record.Notes, protocol.Note{Line: n.line, Column: n.col.String(), Text: n.text})
	}
}
