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
		return command.Sections(title+"\n", r.swum(), command.List("What to doubt", doubts))
	}
	o := command.Tables(r.Record.Pool)
	found := table.Thresholds(r.Analysis, o)
	found[0].Caption = ""
	parts := []string{title + "\n", found[0].String()}
	if r.Zones != nil {
		z := r.Zones.In(r.Record.Pool)
		z.Head, z.Notes = z.Head[:len(z.Head)-1], nil // lactate stands below, the edges above
		parts = append(parts, z.String())
	}
	parts = append(parts, r.trust(len(doubts))+r.next())
	if d == command.Brief {
		return command.Sections(parts...)
	}
	found[1].Caption = "Thresholds by definition   (on the fitted curve: " + lactate.CurveName(r.Analysis.Curve) + ")"
	parts = append(parts, found[1].String(), command.List("What to doubt", doubts))
	if d == command.Full {
		parts = append(parts, r.swum(), r.matched(), r.definitions(), r.strokeText())
		if r.Next != nil {
			parts = append(parts, command.Captioned("What to swim next time? (about "+command.Day(r.Next.Date)+"; all else the same; cautions below)", r.Next.Table()))
		}
	}
	return command.Sections(parts...)
}

// trust says in one paragraph how far to trust the answer.
func (r *report) trust(doubts int) string {
	per := r.Record.Pool.Per100()
	var parts []string
	for i, th := range []lactate.Threshold{r.Analysis.LT1, r.Analysis.LT2} {
		name := fmt.Sprintf("LT%d", i+1)
		switch h := r.half(th); {
		case th.Err != nil:
			parts = append(parts, name+": "+command.InWords(th.Err).Error())
			continue
		case math.IsNaN(h):
			parts = append(parts, name+" is not bracketed")
		default:
			parts = append(parts, fmt.Sprintf("%s is good to ± %s s per %v", name, table.Number(h, 1), per))
		}
		if r.Definitions != nil {
			parts[i] += ", other definitions say " + r.span([]lactate.Target{lactate.FirstThreshold, lactate.SecondThreshold}[i])
		}
	}
	return command.Line("How far to trust it: %s. Things to doubt: %d.", strings.Join(parts, "; "), doubts)
}

// next says what to do next.
func (r *report) next() string {
	if r.Next == nil {
		return ""
	}
	first, last := r.Next.Repeats[0], r.Next.Repeats[len(r.Next.Repeats)-1]
	return command.Line("What to do next: the same test about %s, %d × %v from %s to all out, about %s (-full has all of it). Then examples/retest says whether the curve has moved.",
		command.Day(r.Next.Date), len(r.Next.Repeats), last.Distance, command.Clock(first.Time), command.Clock(last.Time))
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

// definitions are the usual ones on several curves, without their sources.
func (r *report) definitions() string {
	if r.Definitions == nil {
		return ""
	}
	o := command.Tables(r.Record.Pool)
	o.Caption = "What do other definitions and curves say?"
	t := table.SideBySide(r.Definitions, o)
	t.Head = t.Head[:len(t.Head)-2]
	return t.String()
}
