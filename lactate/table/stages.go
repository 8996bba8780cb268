package table

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
	"example.com/steptest/pace"
)

// Stages returns a row for each stage of a test, in order of intensity and by its
// number, with blanks where a sample was not taken; and, as notes, the samples at rest and
// in recovery.
func Stages(t lactate.Test, o Options) Table {
	o = o.withUnit(t.Unit).withDefaults("what was done")
	order := make([]int, len(t.Stages))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(t.Stages[a].Intensity, t.Stages[b].Intensity) })
	var vs []float64
	timed := false
	for _, s := range t.Stages {
		vs = append(vs, s.Intensity)
		timed = timed || s.Duration > 0
	}
	width := span(vs...)
	out := Table{Caption: o.Caption, Head: []Column{{o.Noun, true}}}
	if timed {
		out.Head = append(out.Head, Column{"time", true})
	}
	out.Head = append(append(out.Head, o.intensity()...), Column{"lactate, mmol/L", true}, Column{"heart rate, /min", true})
	for _, i := range order {
		s, number := t.Stages[i], i+1
		if i < len(o.Numbers) {
			number = o.Numbers[i]
		}
		row := []string{strconv.Itoa(number)}
		if timed {
			d := ""
			if s.Duration > 0 {
				d = pace.FormatTime(s.Duration, 1)
			}
			row = append(row, d)
		}
		row = append(append(row, o.at(s.Intensity, width)...), taken(s.Lactate, 1), taken(s.HeartRate, 0))
		out.Rows = append(out.Rows, row)
	}
	if t.Rest > 0 {
		out.Notes = append(out.Notes, "At rest: "+say.Number(t.Rest, 1)+" mmol/L.")
	}
	var after []string
	for _, r := range t.Recovery {
		after = append(after, pace.FormatTime(r.After, 0)+" "+say.Number(r.Lactate, 1))
	}
	if len(after) > 0 {
		out.Notes = append(out.Notes, "After the last "+o.Noun+": "+strings.Join(after, ", ")+" mmol/L.")
	}
	return out
}
