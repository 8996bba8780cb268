package table

import (
	"cmp"
	"slices"
	"strconv"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
	"example.com/steptest/pace"
)

// Stages returns a row for each stage of a test, in order of intensity, with
// blanks where a sample was not taken; and, as notes, the samples at rest and
// in recovery.
func Stages(t lactate.Test, o Options) Table {
	o = o.withDefaults("what was done")
	stages := slices.Clone(t.Stages)
	slices.SortStableFunc(stages, func(a, b lactate.Stage) int { return cmp.Compare(a.Intensity, b.Intensity) })
	var vs []float64
	timed := false
	for _, s := range stages {
		vs = append(vs, s.Intensity)
		timed = timed || s.Duration > 0
	}
	width := span(vs...)
	out := Table{Caption: o.Caption, Head: []Column{{o.Noun, true}}}
	if timed {
		out.Head = append(out.Head, Column{"time", true})
	}
	out.Head = append(append(out.Head, o.intensity()...), Column{"lactate, mmol/L", true}, Column{"heart rate, /min", true})
	for i, s := range stages {
		row := []string{strconv.Itoa(i + 1)}
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
	for _, r := range t.Recovery {
		out.Notes = append(out.Notes, pace.FormatTime(r.After, 0)+" after the last "+o.Noun+": "+say.Number(r.Lactate, 1)+" mmol/L.")
	}
	return out
}
