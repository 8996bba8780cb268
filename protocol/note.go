package protocol

import "fmt"

// Note is how a sheet was read where another reading was possible, or a question
// about it. It is no fault, and costs nothing. The zero value says nothing.
type Note struct {
	Line   int    `json:"line"`             // of the first row that it is about
	Column string `json:"column,omitempty"` // name of the column
	Text   string `json:"text"`
}

// String returns the note in one line.
func (n Note) String() string {
	if n.Column == "" {
		return fmt.Sprintf("sheet line %d: %s", n.Line, n.Text)
	}
	return fmt.Sprintf("sheet line %d, %s: %s", n.Line, n.Column, n.Text)
}
