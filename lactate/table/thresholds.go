package table

import (
	"slices"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
)

// Thresholds returns the answer of an analysis, all its definitions, and its
// warnings, in three tables. The first has LT1 and LT2: where each lies, its
// interval, heart rate, and the definition that it was read by. The second has
// every definition, with a footnote on their names. A definition without an answer
// says why.
func Thresholds(a *lactate.Analysis, o Options) Tables {
	if a == nil {
		a = new(lactate.Analysis)
	}
	o = o.in(a.Unit).withDefaults("LT1 and LT2")
	return Tables{o.answer(a), o.definitions(a), Warnings(a.Warnings, Options{Noun: o.Noun})}
}

// answer has a row for LT1 and one for LT2.
func (o Options) answer(a *lactate.Analysis) Table {
	out := Table{Caption: o.Caption, Head: append([]Column{{"", false}, o.place(), {say.Interval(a.Confidence), true}, {"heart rate, /min", true}}, o.intensity()[1:]...)}
	out.Head = append(out.Head, Column{"read by", false})
	if a.LT1.Method == nil && a.LT2.Method == nil {
		return out
	}
	width := a.Highest - a.Lowest
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
		row := []string{[2]string{"LT1", "LT2"}[i]}
		by := Method(th.Method)
		if th.Err != nil {
			out.Notes = append(out.Notes, because(row[0]+", "+by, th.Method, th.Err))
			row = append(append(row, "none"), make([]string, len(out.Head)-3)...)
			out.Rows = append(out.Rows, append(row, by))
			continue
		}
		at := o.at(th.Intensity.Value, width)
		row = append(row, at[0], o.within(th.Intensity, width), heart(th.HeartRate))
		out.Rows = append(out.Rows, append(append(row, at[1:]...), by))
	}
	if slices.ContainsFunc(out.Rows, func(r []string) bool { return strings.Contains(r[2], "open") }) {
		out.Notes = append(out.Notes, "Open: as far as the test goes, and perhaps beyond.")
	}
	if strings.Contains(Method(a.LT1.Method)+Method(a.LT2.Method), "baseline") {
		out.Notes = append(out.Notes, aboutBaseline)
	}
	return out
}

// because says why a definition has no answer.
func because(name string, m lactate.Method, err error) string {
	reason := strings.TrimPrefix(say.Reason(err), say.Method(m)+": ")
	return name + ": " + strings.TrimRight(reason, ".?") + "."
}

// heart prints a heart rate with its interval, and says where it was not taken.
func heart(e lactate.Estimate) string {
	if !say.Finite(e.Value) {
		return "not known"
	}
	return Within(e, func(v float64) string { return say.Number(v, 0) })
}

// definitions has a row for each definition, LT1's and LT2's by their names.
func (o Options) definitions(a *lactate.Analysis) Table {
	out := Table{Caption: "thresholds by definition, on the fitted curve", Head: []Column{{"definition", false}, o.place(),
		{say.Interval(a.Confidence), true}, {"lactate, mmol/L", true}, {"heart rate, /min", true}}}
	if a.Curve != nil {
		out.Caption = "thresholds by definition, curve: " + lactate.CurveName(a.Curve)
	}
	all := slices.Clone(a.Thresholds)
	for _, th := range []lactate.Threshold{a.LT2, a.LT1} {
		if th.Method != nil && !slices.ContainsFunc(all, func(t lactate.Threshold) bool { return say.Method(t.Method) == say.Method(th.Method) }) {
			all = slices.Insert(all, 0, th)
		}
	}
	width := a.Highest - a.Lowest
	var names []string
	for _, th := range all {
		name := Method(th.Method)
		names = append(names, name)
		switch say.Method(th.Method) {
		case say.Method(a.LT1.Method):
			name = "LT1: " + name
		case say.Method(a.LT2.Method):
			name = "LT2: " + name
		}
		if th.Err != nil {
			out.Rows = append(out.Rows, []string{name, "none"})
			if name == Method(th.Method) { // the answer has LT1's and LT2's
				out.Notes = append(out.Notes, because(name, th.Method, th.Err))
			}
			continue
		}
		out.Rows = append(out.Rows, []string{name, o.axis(width).At(th.Intensity.Value), o.within(th.Intensity, width),
			optional(th.Lactate.Value, 1), optional(th.HeartRate.Value, 0)})
	}
	for _, n := range footnotes(names) {
		if n != aboutBaseline || !strings.Contains(Method(a.LT1.Method)+Method(a.LT2.Method), "baseline") { // the answer has it
			out.Notes = append(out.Notes, n)
		}
	}
	return out
}

// SideBySide returns a row for each definition of a panel: what it sets out to
// estimate, its source, and a column for each curve. A definition that does not
// use the curve has its answer in the first of them. Where it has none, a note
// says why.
func SideBySide(p *lactate.Panel, o Options) Table {
	if p != nil {
		for _, c := range p.Curves {
			o = o.as(c.Analysis)
		}
	}
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
		row := []string{Method(r.Definition.Method), r.Definition.Target.String()}
		for i := range p.Curves {
			switch {
			case i >= len(r.Cells):
				row = append(row, "")
			case r.Cells[i].Err != nil:
				row = append(row, "none")
				note := because(Method(r.Definition.Method), r.Definition.Method, r.Cells[i].Err)
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
		source := r.Definition.Source
		if r.Definition.Year != 0 {
			source += " " + say.Number(float64(r.Definition.Year), 0)
		}
		out.Rows = append(out.Rows, append(row, source, string(r.Definition.Attested)))
	}
	return out
}
