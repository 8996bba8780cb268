package protocol

import "fmt"

// Note is how a sheet was read where another reading was possible, or a question
// about it. It is no fault, and costs nothing. The zero value says nothing.
type Note struct {
	Line   int    `json:"line,omitzero"`    // of the first row that it is about; zero means the whole test
	Column string `json:"column,omitempty"` // name of the column
	Text   string `json:"text"`
}

// String returns the note in one line.
func (n Note) String() string {
	place := "sheet"
	if n.Line > 0 {
		place += fmt.Sprintf(" line %d", n.Line)
	}
	if n.Column != "" {
		place += ", " + n.Column
	}
	return place + ": " + n.Text
}
