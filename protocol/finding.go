package protocol

import (
	"fmt"
	"strings"
)

// Finding is something that a reader of a record or a plan should know: it
// stops nothing. The zero value says nothing.
type Finding struct {
	Repeat int    `json:"repeat,omitzero"` // number of the repeat; zero where the whole test is meant
	Text   string `json:"text"`            // what was found, and what it means
	Source string `json:"source,omitzero"` // who says so: a publication, "common practice", or "from memory: …"
}

// String returns the finding in one line.
func (f Finding) String() string {
	var b strings.Builder
	if f.Repeat > 0 {
		fmt.Fprintf(&b, "repeat %d: ", f.Repeat)
	}
	b.WriteString(f.Text)
	if f.Source != "" {
		fmt.Fprintf(&b, " (%s)", f.Source)
	}
	return b.String()
}
