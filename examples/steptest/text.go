package main

import (
	"fmt"
	"math"
	"strings"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

func clock(seconds float64) string { return table.Clock(seconds) }

// Text prints the reports, the answer of each first.
func (rs reports) Text(d command.Detail) string {
	var texts []string
	planned := false
	for _, r := range rs {
		texts = append(texts, r.text(d))
		planned = planned || r.Next != nil
	}
	all := command.Reports(texts)
	switch {
	case !planned:
		return all
	case d == command.Full:
		return command.Sections(all, command.Cautions())
	}
	return command.Sections(all, command.Line("%s", command.Caution))
}

func (r *report) text(d command.Detail) string {
	title := "Step test of " + r.Record.Swimmer + ", " + command.Day(r.Record.Date)
	if r.Record.Pool != (pace.Pool{}) {
		title += fmt.Sprintf(", %v pool", r.Record.Pool)
	}
	doubts := r.Doubts
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
		z := command.Zones(r.Zones, r.Record.Pool)
		z.Head = z.Head[:len(z.Head)-1] // lactate stands below
		parts = append(parts, z.String())
	}
	parts = append(parts, r.trust(len(doubts))+r.next())
	if d == command.Brief {
		return command.Sections(parts...)
	}
	found[1].Caption = "Thresholds by definition   (on the fitted curve: " + lactate.CurveName(r.Analysis.Curve) + ")"
	parts = append(parts, found[1].String(), command.List("What to doubt", doubts))
	if d == command.Full {
		parts = append(parts, r.swum(), r.definitions(), r.strokeText(), r.planText())
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

// swum lists the repeats. Each that has a time is a stage of the test, in the same
// order; the stage's lactate is the one that the curve sees.
func (r *report) swum() string {
	if len(r.Record.Repeats) == 0 {
		return ""
	}
	units := []pace.Length{r.Record.Pool.Per100()}
	if units[0] != 100*pace.Metre {
		units = append(units, 100*pace.Metre)
	}
	t := table.Table{Caption: "What was swum?"}
	for _, name := range []string{"repeat", "distance", "time"} {
		t.Head = append(t.Head, table.Column{Name: name, Number: true})
	}
	for _, u := range units {
		t.Head = append(t.Head, table.Column{Name: "per " + u.String(), Number: true})
	}
	for _, name := range []string{"speed, m/s", "lactate, mmol/L", "heart rate, /min"} {
		t.Head = append(t.Head, table.Column{Name: name, Number: true})
	}
	stage := 0
	for _, rep := range r.Record.Repeats {
		row := []string{fmt.Sprint(rep.Number), rep.Distance.String()}
		y := rep.Lactate
		if v, err := rep.Speed(); err == nil {
			row = append(row, pace.FormatTime(rep.Time, 1))
			for _, u := range units {
				row = append(row, clock(u.Metres()/v.MetresPerSecond()))
			}
			row = append(row, table.Number(v.MetresPerSecond(), 3))
			y = r.test.Stages[stage].Lactate
			stage++
		} else {
			row = append(row, make([]string, 2+len(units))...)
		}
		t.Rows = append(t.Rows, append(row, number(y, 1), number(rep.HeartRate, 0)))
	}
	var also, after []string
	for _, s := range r.Record.Recovery {
		after = append(after, fmt.Sprintf("%s (%.3g min)", number(s.Lactate, 1), s.After.Minutes()))
	}
	if r.Record.Rest > 0 {
		also = append(also, "at rest "+number(r.Record.Rest, 1))
	}
	if len(after) > 0 {
		also = append(also, "after the last "+strings.Join(after, ", "))
	}
	if len(also) > 0 {
		t.Notes = []string{strings.Join(also, "; ") + " mmol/L"}
	}
	return t.String()
}

// number prints v, or a dash if it is missing.
func number(v float64, decimals int) string {
	if v == 0 {
		return "-"
	}
	return table.Number(v, decimals)
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

func (r *report) planText() string {
	if r.Next == nil {
		return ""
	}
	p := r.Next
	t := table.Table{Caption: fmt.Sprintf("What to swim next time?   (about %s; %s rest; all else the same; cautions below)", command.Day(p.Date), command.Clock(p.Rest()[0]))}
	for _, name := range []string{"repeat", "distance", "time", "per " + r.Record.Pool.Per100().String(), "leave at"} {
		t.Head = append(t.Head, table.Column{Name: name, Number: true})
	}
	t.Head = append(t.Head, table.Column{})
	for _, s := range p.Repeats {
		note := ""
		if s.AllOut {
			note = "all out; the time is a guess"
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(s.Number), s.Distance.String(), command.Clock(s.Time),
			pace.FormatTime(s.Split(r.Record.Pool.Per100()), 1), command.Clock(s.Leave), note})
	}
	return t.String()
}
