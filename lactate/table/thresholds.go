package table

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
	"example.com/steptest/lactate/internal/straight"
)

// Thresholds returns the answer of an analysis, all its definitions, and its
// warnings, in three tables. The first has LT1, LT2 and, if it was read, Dmax: where
// each lies, its bracket, heart rate, and the definition that it was read by; below
// it stands how far apart the definitions of each threshold lie. The second has
// every definition, those of LT1 and of LT2 together, with a footnote on their names. A definition without an answer
// says why.
func Thresholds(a *lactate.Analysis, o Options) Tables {
	if a == nil {
		a = new(lactate.Analysis)
	}
	o = o.withUnit(a.Unit).withDefaults("LT1 and LT2")
	answer, all := o.answerTable(a), o.definitions(a)
	if anyOpen(a.Thresholds...) && !anyOpen(inAnswer(a)...) { // else the answer has it
		all.Notes = append(all.Notes, aboutOpen)
	}
	return Tables{answer, all, Warnings(a.Warnings, Options{Noun: o.Noun})}
}

// answerTable has a row for LT1, one for LT2, and one for Dmax.
func (o Options) answerTable(a *lactate.Analysis) Table {
	out := Table{Caption: o.Caption, Head: []Column{{"", false}, o.place(), {bracket(a.Confidence), true}, {"heart rate, /min", true}, {"read by", false}}}
	if a.LT1.Method == nil && a.LT2.Method == nil {
		return out
	}
	width := a.Highest - a.Lowest
	var why []string
	row := func(name, by string, th lactate.Threshold) {
		if th.Err != nil {
			why = append(why, because(strings.Trim(name+", "+by, ", "), th.Method, th.Err))
			out.Rows = append(out.Rows, []string{name, "none", "", "", by})
			return
		}
		out.Rows = append(out.Rows, []string{name, o.axis(width).At(th.Intensity.Value), o.within(th.Intensity, width), heart(th.HeartRate), by})
	}
	row("LT1", Method(a.LT1.Method), a.LT1)
	row("LT2", Method(a.LT2.Method), a.LT2)
	names := Method(a.LT1.Method) + Method(a.LT2.Method)
	if th, ok := dmax(a); ok {
		by := ""
		if !a.Counts(th.Method) {
			by = "not counted for LT2"
		}
		row("Dmax", by, th)
	}
	var spreads []lactate.Spread
	for _, target := range []lactate.Target{lactate.FirstThreshold, lactate.SecondThreshold} {
		if s := a.Spread(target); s.Answers > 1 {
			spreads = append(spreads, s)
			of := ""
			if s.Refusals > 0 {
				of = fmt.Sprintf(" of %d", s.Answers+s.Refusals)
			}
			out.Notes = append(out.Notes, fmt.Sprintf("%v by %d%s definitions: from %s (%s) to %s (%s).", target, s.Answers, of,
				o.axis(width).At(s.Lowest.Intensity), Method(s.Lowest.Method), o.axis(width).At(s.Highest.Intensity), Method(s.Highest.Method)))
		}
	}
	if len(spreads) == 2 && spreads[0].Highest.Intensity >= spreads[1].Lowest.Intensity {
		verb := "overlap"
		if at := o.axis(width).At; at(spreads[0].Highest.Intensity) == at(spreads[1].Lowest.Intensity) {
			verb = "meet"
		}
		out.Notes = append(out.Notes, "The two "+verb+": what one definition takes for LT1 another takes for LT2.")
	}
	out.Notes = append(out.Notes, why...)
	if anyOpen(inAnswer(a)...) {
		out.Notes = append(out.Notes, aboutOpen)
	}
	if strings.Contains(names, "baseline") {
		out.Notes = append(out.Notes, baseline(a))
	}
	if len(out.Rows) == 3 || strings.Contains(names, "Dmax") {
		out.Notes = append(out.Notes, "Dmax depends on how the curve bends and on where the test starts and ends.")
	}
	return out
}

// baseline is the footnote on the baseline, with its value if a threshold was read from it.
func baseline(a *lactate.Analysis) string {
	for _, th := range []lactate.Threshold{a.LT1, a.LT2} {
		if m, ok := fromLowest(th); ok {
			fitted := th.Lactate.Value - m.Rise
			lowest := slices.Min(append(sampled(a).Ys, fitted))
			note := fmt.Sprintf("Baseline: %s mmol/L, %s", say.Number(fitted, 1), ofBaseline)
			if fitted-lowest > 0.1 {
				note = strings.TrimSuffix(note, ".") + fmt.Sprintf("; the lowest sample is %s.", say.Number(lowest, 1))
			}
			return note
		}
	}
	return aboutBaseline
}

// byHand is the footnote on what a ruler reads: straight lines between the samples, from the
// lowest. Nothing if neither threshold is read from the baseline, or none is reached.
func (o Options) byHand(a *lactate.Analysis) string {
	var at []string
	var path straight.Path
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
		if m, ok := fromLowest(th); ok {
			path = sampled(a)
			if x, ok := path.Risen(m.Rise); ok {
				at = append(at, fmt.Sprintf("LT%d at %s", i+1, o.axis(a.Highest-a.Lowest).At(x)))
			}
		}
	}
	if at == nil {
		return ""
	}
	return fmt.Sprintf("Straight lines between samples, from the lowest (%s mmol/L): %s.", say.Number(slices.Min(path.Ys), 1), strings.Join(at, ", "))
}

// fromLowest returns the rise above the lowest of the curve that a threshold was read by.
func fromLowest(th lactate.Threshold) (m lactate.AboveBaseline, ok bool) {
	m, ok = th.Method.(lactate.AboveBaseline)
	return m, ok && th.Err == nil && m.Rise > 0 && m.From == lactate.BaselineFittedLowest
}

// sampled joins the samples of the stages by straight lines.
func sampled(a *lactate.Analysis) straight.Path {
	var points []straight.Point
	for _, s := range a.Test().Sampled() {
		points = append(points, straight.Point{X: s.Intensity, Y: s.Lactate})
	}
	return straight.Through(points)
}

// aboutOpen is the footnote on a bracket that is open.
const aboutOpen = "Open: that end may lie outside the tested range; no figure can be given."

// anyOpen reports whether a threshold has a bracket with an open end.
func anyOpen(all ...lactate.Threshold) bool {
	return slices.ContainsFunc(all, func(th lactate.Threshold) bool {
		e := th.Intensity
		return th.Err == nil && e.HasInterval() && !say.Finite(e.Low, e.High)
	})
}

// inAnswer are the thresholds of the answer: LT1, LT2, and Dmax if it stands beside them.
func inAnswer(a *lactate.Analysis) []lactate.Threshold {
	all := []lactate.Threshold{a.LT1, a.LT2}
	if th, ok := dmax(a); ok && (a.LT1.Method != nil || a.LT2.Method != nil) {
		all = append(all, th)
	}
	return all
}

// dmax returns Dmax, if it was read and is neither LT1 nor LT2.
func dmax(a *lactate.Analysis) (lactate.Threshold, bool) {
	if a.LT1.Method == (lactate.MaxDistance{}) || a.LT2.Method == (lactate.MaxDistance{}) {
		return lactate.Threshold{}, false
	}
	i := slices.IndexFunc(a.Thresholds, func(th lactate.Threshold) bool { return th.Method == lactate.MaxDistance{} })
	if i < 0 {
		return lactate.Threshold{}, false
	}
	return a.Thresholds[i], true
}

// because says why a definition has no answer.
func because(name string, m lactate.Method, err error) string {
	reason := Reason(err)
	if m != nil {
		reason = strings.TrimPrefix(reason, m.String()+": ")
		if e, ok := notReached(err); ok && m == (lactate.Fixed{Lactate: e.Level}) { // its name says where it lies
			verb, end := ended(e)
			reason = fmt.Sprintf("not reached: the curve %s at %s mmol/L", verb, say.Number(end, 1))
		}
	}
	return name + ": " + strings.TrimRight(reason, ".?") + "."
}

// Reason says an error of an analysis on one line, without the name of the package:
// of a level that was not reached, where the curve starts or ends.
func Reason(err error) string {
	e, ok := notReached(err)
	if !ok {
		reason := say.Reason(err)
		if _, why, ok := strings.Cut(reason, lactate.ErrShape.Error()+": "); ok { // what the definition is called stands beside it
			return why
		}
		return reason
	}
	verb, end := ended(e)
	level, at := "", ""
	for decimals := 1; level == at && decimals < 9; decimals++ {
		level, at = say.Number(e.Level, decimals), say.Number(end, decimals)
	}
	return fmt.Sprintf("not reached: it lies at %s mmol/L, and the curve %s at %s", level, verb, at)
}

// notReached returns a lactate that the curve does not reach, if the error is one of that.
func notReached(err error) (e *lactate.NotReachedError, ok bool) {
	return e, errors.As(err, &e) && e.Of == "" && e.Unit == ""
}

// ended says at which end of the curve a level was not reached, and the lactate there.
func ended(e *lactate.NotReachedError) (verb string, at float64) {
	if e.Above() {
		return "ends", e.Highest
	}
	return "starts", e.Lowest
}

// heart prints a heart rate with its interval, and says where it was not taken.
func heart(e lactate.Estimate) string {
	if !say.Finite(e.Value) {
		return "not known"
	}
	return Within(e, func(v float64) string { return say.Number(v, 0) })
}

// definitions has a row for each definition, those of LT1 first, then those of LT2, then
// the others; the first of each threshold is the one that it was read by.
func (o Options) definitions(a *lactate.Analysis) Table {
	out := Table{Caption: "thresholds by definition, on the fitted curve", Head: []Column{{"", false}, {"definition", false}, o.place(),
		{bracket(a.Confidence), true}, {"lactate, mmol/L", true}, {"heart rate, /min", true}}}
	if a.Curve != nil {
		out.Caption = "thresholds by definition, curve: " + lactate.CurveName(a.Curve)
	}
	width := a.Highest - a.Lowest
	var names []string
	for _, d := range grouped(a) {
		th, name := d.Threshold, Method(d.Method)
		names = append(names, name)
		if th.Err != nil {
			out.Rows = append(out.Rows, []string{d.target.String(), name, "none"})
			if _, isDmax := dmax(a); !d.chosen && !(isDmax && th.Method == lactate.MaxDistance{}) { // the answer has theirs
				out.Notes = append(out.Notes, because(name, th.Method, th.Err))
			}
			continue
		}
		if d.target == lactate.SecondThreshold && !a.Counts(th.Method) {
			name += ", not counted"
		}
		out.Rows = append(out.Rows, []string{d.target.String(), name, o.axis(width).At(th.Intensity.Value), o.within(th.Intensity, width),
			optional(th.Lactate.Value, 1), optional(th.HeartRate.Value, 0)})
	}
	for _, n := range footnotes(names) {
		if n != aboutBaseline || !strings.Contains(Method(a.LT1.Method)+Method(a.LT2.Method), "baseline") { // the answer has it
			out.Notes = append(out.Notes, n)
		}
	}
	if n := o.byHand(a); n != "" {
		out.Notes = append(out.Notes, n)
	}
	return out
}

// definition is a threshold with what it is taken for.
type definition struct {
	lactate.Threshold
	target lactate.Target
	chosen bool // LT1 or LT2 was read by it
}

// grouped returns the definitions of an analysis, those of LT1, of LT2 and the others
// after one another, each once, the chosen one first.
func grouped(a *lactate.Analysis) []definition {
	all := []definition{{a.LT1, lactate.FirstThreshold, true}, {a.LT2, lactate.SecondThreshold, true}}
	all = slices.DeleteFunc(all, func(d definition) bool { return d.Method == nil })
	targets := map[string]lactate.Target{}
	for _, e := range lactate.Catalogue("m/s") {
		targets[e.Method.String()] = e.Target
	}
	for _, th := range a.Thresholds {
		if th.Method != nil && !slices.ContainsFunc(all, func(d definition) bool { return d.Method.String() == th.Method.String() }) {
			all = append(all, definition{th, targets[th.Method.String()], false})
		}
	}
	slices.SortStableFunc(all, func(a, b definition) int { return order(a.target) - order(b.target) })
	return all
}

// order puts what is neither threshold last.
func order(t lactate.Target) int {
	if t == lactate.OtherPoint {
		return math.MaxInt32
	}
	return int(t)
}

// SideBySide returns a row for each definition of a panel: what it sets out to
// estimate, its source, and a column for each curve. A definition that does not
// use the curve has its answer in the first of them. Where it has none, a note
// says why.
func SideBySide(p *lactate.Panel, o Options) Table {
	if p != nil {
		for _, c := range p.Curves {
			o = o.withUnitOf(c.Analysis)
		}
	}
	o = o.withDefaults("definitions side by side")
	out := Table{Caption: o.Caption, Head: []Column{{"definition", false}, {"estimates", false}}}
	if p == nil {
		return out
	}
	out.Notes = append(out.Notes, "In each column: "+o.place().Name+", on that curve.")
	width := 0.0
	for _, c := range p.Curves {
		out.Head = append(out.Head, Column{c.Name, true})
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
