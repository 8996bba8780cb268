package protocol

import (
	"fmt"

	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// Table returns a row for each repeat: its distance, when it starts, its target with
// the splits per 100 of the pool and per length.
func (p Plan) Table() table.Table {
	hundred := p.Pool.Per100()
	var t table.Table
	for _, name := range []string{"repeat", "distance", "leave at", "target", "per " + hundred.String(), "per length"} {
		t.Head = append(t.Head, table.Column{Name: name, Number: true})
	}
	for _, s := range p.Repeats {
		row := []string{fmt.Sprint(s.Number), distanceText(s.Distance, p.Pool), pace.FormatTime(s.Leave, decimalsOf(s.Leave)), "all out", "", ""}
		if s.Time > 0 {
			row = append(row[:3], pace.FormatTime(s.Time, decimalsOf(s.Time)), pace.FormatTime(s.Split(hundred), 1), pace.FormatTime(s.Split(p.Pool.Length()), 1))
			if s.AllOut {
				row[3] = "~" + row[3]
				t.Notes = []string{"~ all out: what is expected, not a limit."}
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
