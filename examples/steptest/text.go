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

func clock(seconds float64) string { return table.Clock(seconds) }

// Proposes reports whether the next test is planned.
func (r *report) Proposes() bool { return r.Next != nil }

// Text prints the report, the answer first.
func (r *report) Text(d command.Detail) string {
	title := "Step test of " + r.Record.Swimmer + ", " + command.Day(r.Record.Date)
	if r.Record.Pool != (pace.Pool{}) {
		title += fmt.Sprintf(", %v pool", r.Record.Pool)
	}
	doubts := r.Doubts.Doubts
	if r.Problem != "" {
		doubts = append(doubts, "no thresholds: "+r.Problem)
	}
	if r.Analysis == nil {
		return command.Sections(title+"\n", r.swum(), command.List("What to know", doubts))
	}
	o := command.Tables(r.Record.Pool)
	found := table.Thresholds(r.Analysis, o)
	found[0].Caption = ""
	if r.grave.Says != "" {
		title += "\n" + strings.TrimSuffix(r.trust(len(doubts))+r.next(), "\n")
	}
	parts := []string{title + "\n", found[0].String()}
	if r.Zones != nil {
		z := r.Zones.In(r.Record.Pool)
		z.Head = slices.DeleteFunc(z.Head, func(c table.Column) bool { return c.Name == "speed" || c.Name == "lactate" }) // the last two
		z.Notes = nil
		parts = append(parts, z.String())
	} else {
		why := r.NoZones
		if r.Analysis.LT1.Err != nil || r.Analysis.LT2.Err != nil { // which the notes explain
			why = "no zones: they need LT1 and LT2"
		}
		parts = append(parts, command.Line("%s.", capital(why)))
	}
	if r.grave.Says == "" {
		parts = append(parts, r.trust(len(doubts))+r.next())
	}
	if d == command.Brief {
		return command.Sections(parts...)
	}
	found[1].Caption = "Thresholds by definition   (on the fitted curve: " + lactate.CurveName(r.Analysis.Curve) + ")"
	found[1].Head[len(found[1].Head)-1].Name = "/min" // for a screen's width
	if d == command.Full {
		doubts = append(doubts, aboutBracket)
	}
	doubts = append(doubts, aboutError, aboutChoice)
	parts = append(parts, found[1].String(), command.List("What to know", doubts))
	if d == command.Full {
		parts = append(parts, r.swum(), r.matched(), r.definitions(), r.strokeText())
		if r.Next != nil {
			parts = append(parts, command.Captioned("What to swim next time? (about "+command.Day(r.Next.Date)+"; all else the same; cautions below)", r.Next.Table()))
		}
	}
	return command.Sections(parts...)
}

// What holds of every test.
const (
	aboutBracket = "90 % bracket: nine times in ten the threshold by this definition lies in it"
	aboutError   = "a bracket holds the error of analyser, drop of blood and watch, not how a swimmer differs from day to day; that of a heart rate is that of the pace, in beats"
	aboutChoice  = "a bracket is the error of one definition; how far the definitions lie apart is the error of choosing one"
)

// trust says in one line how far to trust the answer.
func (r *report) trust(things int) string {
	know := fmt.Sprintf("Things to know: %d.", things)
	if things == 0 {
		know = "Nothing unusual."
	}
	if r.grave.Says != "" {
		return command.Line("How far to trust it: little: %s.%s %s", r.grave.Says, r.without(), know)
	}
	per := r.Record.Pool.Per100()
	var parts []string
	unit := ""
	for i, th := range []lactate.Threshold{r.Analysis.LT1, r.Analysis.LT2} {
		switch h := r.half(th); {
		case th.Err != nil:
			parts = append(parts, fmt.Sprintf("there is no LT%d", i+1))
		case math.IsNaN(h):
			parts = append(parts, fmt.Sprintf("LT%d may lie beyond the test", i+1))
		default:
			parts = append(parts, fmt.Sprintf("LT%d to ± %s s", i+1, table.Number(h, 1)))
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
		command.Day(r.Next.Date), len(r.Next.Repeats), last.Distance, command.Clock(first.Time))
}

// capital is a sentence with a capital letter.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// swum lists the repeats with the lactate that the curve sees.
func (r *report) swum() string {
	if len(r.test.Stages) == 0 {
		return ""
	}
	o := command.Tables(r.Record.Pool)
	o.Caption, o.Numbers = "What was swum?", r.Record.Numbers()
	return table.Stages(r.test, o).String()
}

// matched sets what was swum beside the targets of the sheet, if it has any.
func (r *report) matched() string {
	planned := slices.ContainsFunc(r.Record.Repeats, func(rep protocol.Repeat) bool { return rep.Target > 0 })
	t, err := r.Record.Plan().Swum(r.Record, r.Analysis)
	if !planned || err != nil {
		return ""
	}
	return command.Captioned("How near the plan?", t)
}

// definitions are the usual ones on several curves, those of LT1 and of LT2 together, with
// their sources.
func (r *report) definitions() string {
	if r.Definitions == nil {
		return ""
	}
	o := command.Tables(r.Record.Pool)
	o.Caption = "What do other definitions and curves say?"
	t := table.SideBySide(r.Definitions, o)
	t.Head = t.Head[:len(t.Head)-2]
	for _, row := range r.Definitions.Rows {
		e := row.Definition
		t.Notes = append(t.Notes, fmt.Sprintf("%s: %s (%d), %s.", table.Method(e.Method), e.Source, e.Year, e.Attested))
	}
	return t.String()
}
