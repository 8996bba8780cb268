package table

import (
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
)

// Thresholds returns a row for LT1, one for LT2, and one for each of the other
// definitions of an analysis: where it lies, its interval, and lactate and
// heart rate there. Where a definition has no answer, the row says why. The
// warnings of the analysis are notes.
func Thresholds(a *lactate.Analysis, o Options) Table {
	o = o.withDefaults("thresholds")
	out := Table{Caption: o.Caption}
	given := a != nil
	if !given {
		a = new(lactate.Analysis)
	}
	out.Head = append([]Column{{"threshold", false}, {"definition", false}}, o.intensity()...)
	out.Head = append(out.Head, Column{say.Interval(a.Confidence), true}, Column{"lactate, mmol/L", true}, Column{"heart rate, /min", true})
	if !given {
		return out
	}
	width := a.Highest - a.Lowest
	add := func(name string, th lactate.Threshold) {
		row := []string{name, say.Method(th.Method)}
		if th.Err != nil {
			row[1] += ": " + say.Reason(th.Err)
			out.Rows = append(out.Rows, row)
			return
		}
		row = append(row, o.at(th.Intensity.Value, width)...)
		row = append(row, o.within(th.Intensity, width), optional(th.Lactate.Value, 1), optional(th.HeartRate.Value, 0))
		out.Rows = append(out.Rows, row)
	}
	add("LT1", a.LT1)
	add("LT2", a.LT2)
	for _, th := range a.Thresholds {
		if m := say.Method(th.Method); m != say.Method(a.LT1.Method) && m != say.Method(a.LT2.Method) {
			add("", th)
		}
	}
	for _, w := range a.Warnings {
		out.Notes = append(out.Notes, w.String()+".")
	}
	return out
}

// SideBySide returns a row for each definition of a panel: what it sets out to
// estimate, its source, and a column for each curve. A definition that does not
// use the curve has its answer in the first of them. Where it has none, a note
// says why.
func SideBySide(p *lactate.Panel, o Options) Table {
	o = o.withDefaults("definitions side by side")
	out := Table{Caption: o.Caption, Head: []Column{{"definition", false}, {"estimates", false}}}
	if p == nil {
		return out
	}
	width := 0.0
	what := o.Quantity
	if !o.Pool.IsZero() {
		what = "pace per 100 " + o.Pool.UnitSymbol()
	}
	for _, c := range p.Curves {
		out.Head = append(out.Head, Column{what + " on " + c.Name, true})
		if c.Analysis != nil {
			width = max(width, c.Analysis.Highest-c.Analysis.Lowest)
		}
		if c.Err != nil {
			out.Notes = append(out.Notes, c.Name+": "+say.Reason(c.Err)+".")
		}
	}
	out.Head = append(out.Head, Column{"source", false}, Column{"known from", false})
	for _, r := range p.Rows {
		row := []string{say.Method(r.Entry.Method), r.Entry.Target.String()}
		for i := range p.Curves {
			switch {
			case i >= len(r.Cells):
				row = append(row, "")
			case r.Cells[i].Err != nil:
				row = append(row, "none")
				note := say.Method(r.Entry.Method) + ": " + say.Reason(r.Cells[i].Err) + "."
				if !slices.Contains(out.Notes, note) {
					out.Notes = append(out.Notes, note)
				}
			default:
				s := o.axis(width).At(r.Cells[i].Intensity.Value)
				if in := o.within(r.Cells[i].Intensity, width); in != "" {
					s += " (" + in + ")"
				}
				row = append(row, s)
			}
		}
		source := r.Entry.Source
		if r.Entry.Year != 0 {
			source += " " + say.Number(float64(r.Entry.Year), 0)
		}
		out.Rows = append(out.Rows, append(row, source, string(r.Entry.Attested)))
	}
	return out
}
