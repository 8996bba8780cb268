package table

import (
	"fmt"

	"example.com/steptest/lactate"
)

// Influence returns a row for each threshold: what it is with all stages, and
// what it becomes when one of them is left out. The stage that moves it most
// is marked with a star. Stages are named by their number in the test.
func Influence(in *lactate.Influences, o Options) Table {
	if in != nil {
		o = o.withUnit(in.Unit)
	}
	o = o.withDefaults("each threshold with one " + o.noun() + " left out")
	out := Table{Caption: o.Caption, Head: []Column{{"definition", false}, {"all stages", true}}}
	if in == nil {
		return out
	}
	for _, k := range in.LeftOut {
		out.Head = append(out.Head, Column{fmt.Sprintf("without %d", k+1), true})
	}
	var vs []float64
	every := append([]lactate.Influenced{in.LT1, in.LT2}, in.Thresholds...)
	for _, t := range every {
		if t.Whole.Err == nil {
			vs = append(vs, t.Whole.Intensity.Value)
		}
	}
	width := span(vs...)
	cell := func(th lactate.Threshold) string {
		if th.Err != nil {
			return "none"
		}
		return o.axis(width).At(th.Intensity.Value)
	}
	for i, t := range every {
		name := Method(t.Whole.Method)
		if i < 2 {
			name = [2]string{"LT1", "LT2"}[i] + ": " + name
		} else if name == Method(in.LT1.Whole.Method) || name == Method(in.LT2.Whole.Method) {
			continue
		}
		row := []string{name, cell(t.Whole)}
		for k, th := range t.Without {
			s := cell(th)
			if k == t.Most {
				s += " *"
			}
			row = append(row, s)
		}
		out.Rows = append(out.Rows, row)
	}
	out.Notes = append(out.Notes, "* the "+o.Noun+" that moves the threshold most.")
	return out
}
