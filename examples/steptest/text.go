package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// Proposes reports whether the next test is planned.
func (r *report) Proposes() bool { return r.Next != nil }

// Text prints the report, the answer first.
func (r *report) Text(d command.Detail) string {
	title := "Step test of " + r.Record.Swimmer + ", " + table.Day(r.Record.Date)
	if r.Record.Pool != (pace.Pool{}) {
		title += fmt.Sprintf(", %v pool", r.Record.Pool)
	}
	if r.Analysis == nil {
		return command.Sections(title+"\n", table.Tables{r.swum()}.String(), command.List("What to know", append(r.Doubts.Doubts, "no thresholds: "+r.Problem)))
	}
	know := r.know(d)
	o := command.Tables(r.Record.Pool)
	found := table.Thresholds(r.Analysis, o)
	answer, definitions := &found[0], &found[1]
	answer.Caption = ""
	if r.grave.Says != "" {
		title += "\n" + strings.TrimSuffix(r.trust(len(know), d)+r.next(), "\n")
	}
	parts := []string{title + "\n", answer.String()}
	if r.Zones != nil {
		parts = append(parts, r.zones().String())
	} else {
		why := r.NoZones
		if r.Analysis.LT1.Err != nil || r.Analysis.LT2.Err != nil { // whose reasons stand below the table
			why = "no zones: they need LT1 and LT2"
		}
		parts = append(parts, command.Line("%s.", table.Capital(why)))
	}
	if r.grave.Says == "" {
		parts = append(parts, r.trust(len(know), d)+r.next())
	}
	if d == command.Brief {
		return command.Sections(parts...)
	}
	definitions.Caption = "Thresholds by definition   (on the fitted curve: " + lactate.CurveName(r.Analysis.Curve) + ")"
	definitions.Head[len(definitions.Head)-1].Name = "/min" // for a screen's width
	parts = append(parts, definitions.String(), command.List("What to know", know))
	if d == command.Full {
		parts = append(parts, r.details().String())
	}
	return command.Sections(parts...)
}

// zones are the zones by what is seen in the water: paces, and heart rates if they are known.
func (r *report) zones() table.Table {
	t := r.Zones.Table(r.Record.Pool)
	seen := 3 // zone, where and pace; speed and lactate stand last
	if r.Zones.Profile.HeartRate != nil {
		seen++
	}
	t.Head, t.Notes = t.Head[:seen], nil
	return t
}

// know lists what to know: what is unusual, and what holds of every test.
func (r *report) know(d command.Detail) []string {
	texts := slices.Clone(r.Doubts.Doubts)
	if d == command.Full {
		texts = append(texts, "90 % bracket: nine times in ten the threshold by this definition lies in it")
	}
	return append(texts, "a bracket holds the error of analyser, drop of blood and watch, not how a swimmer differs from day to day; that of a heart rate is that of the pace, in beats",
		"a bracket is the error of one definition; how far the definitions lie apart is the error of choosing one")
}

// trust says in one line how far to trust the answer.
func (r *report) trust(things int, d command.Detail) string {
	know := fmt.Sprintf("Things to know: %d.", things)
	if d == command.Brief {
		know = fmt.Sprintf("Things to know: %d (-full).", things)
	}
	if len(r.Doubts.Doubts) == 0 {
		know = "Nothing unusual."
	}
	if r.grave.Says != "" {
		return command.Line("How far to trust it: little: %s.%s %s", r.grave.Says, r.without(), know)
	}
	per := r.Record.Pool.Per100()
	var parts []string
	unit := ""
	for i, th := range []lactate.Threshold{r.Analysis.LT1, r.Analysis.LT2} {
		half := pace.Saved(per, pace.Speed(th.Intensity.Low), pace.Speed(th.Intensity.High)) / 2
		switch {
		case th.Err != nil:
			parts = append(parts, fmt.Sprintf("there is no LT%d", i+1))
		case !(th.Intensity.High-th.Intensity.Low < math.Inf(1)): // an end is open
			parts = append(parts, fmt.Sprintf("LT%d may lie beyond the test", i+1))
		default:
			parts = append(parts, fmt.Sprintf("LT%d to ± %s s", i+1, table.Number(half, 1)))
			unit = fmt.Sprintf(" (per %v)", per)
		}
	}
	return command.Line("How far to trust it: %s%s. %s", strings.Join(parts, ", "), unit, know)
}

// next says what to do next.
func (r *report) next() string {
	if r.grave.Do != "" {
		return command.Line("What to do next: %s.", command.Advice(r.grave))
	}
	if r.Next == nil {
		return ""
	}
	first, last := r.Next.Repeats[0], r.Next.Repeats[len(r.Next.Repeats)-1]
	return command.Line("What to do next: the same test about %s, %d × %v from %s to all out.",
		table.Day(r.Next.Date), len(r.Next.Repeats), last.Distance, command.Clock(first.Time))
}

// swum lists the repeats with the lactate that the curve sees.
func (r *report) swum() (t table.Table) {
	if len(r.test.Stages) > 0 {
		o := command.Tables(r.Record.Pool)
		o.Numbers = r.Record.Numbers()
		t = table.Stages(r.test, o)
	}
	t.Caption = "What was swum?"
	return t
}

// details are what was swum, beside the targets of the sheet if it has any, the usual
// definitions on several curves with their sources, the stroke, and the next test.
func (r *report) details() table.Tables {
	all := table.Tables{r.swum()}
	add := func(caption string, t table.Table) {
		t.Caption = caption
		all = append(all, t)
	}
	planned := slices.ContainsFunc(r.Record.Repeats, func(rep protocol.Repeat) bool { return rep.Target > 0 })
	if t, err := r.Record.Plan().Swum(r.Record, r.Analysis); planned && err == nil {
		add("How near the plan?", t)
	}
	if r.Definitions != nil {
		t := table.SideBySide(r.Definitions, command.Tables(r.Record.Pool))
		t.Head = t.Head[:len(t.Head)-2]
		for _, row := range r.Definitions.Rows {
			e := row.Definition
			t.Notes = append(t.Notes, fmt.Sprintf("%s: %s (%d), %s.", table.Method(e.Method), e.Source, e.Year, e.Attested))
		}
		add("What do other definitions and curves say?", t)
	}
	if r.Technique != nil {
		add(fmt.Sprintf("What does the stroke do?   (%s; in brackets: error of count and watch)", r.Technique.CountedBy()), r.Technique.Table(r.Analysis))
	}
	if r.Next != nil {
		add("What to swim next time? (about "+table.Day(r.Next.Date)+"; all else the same; cautions below)", r.Next.Table())
	}
	return all
}
