package protocol

import (
	"fmt"
	"io"
	"strings"
	"time"

	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol/internal/form"
)

// WriteText writes the plan as one page to print and take to the pool: the
// targets with their splits and leave times, blanks to fill in, and the
// [Cautions]. Lines have no more than 90 characters.
func (p Plan) WriteText(w io.Writer) error {
	var b strings.Builder
	title := "Step test"
	if p.Swimmer != "" {
		title += " of " + table.Line(p.Swimmer)
	}
	if !p.Date.IsZero() {
		title += ", " + p.Date.Format("Monday 2 January 2006")
	}
	fmt.Fprintf(&b, "%s\nPool %s", title, p.Pool)
	if p.WarmUp > 0 {
		fmt.Fprintf(&b, "; warm-up %s easy", distanceText(p.WarmUp, p.Pool))
	}
	unit := p.Pool.UnitSymbol()
	fmt.Fprintf(&b, "; push start, even pace\n\nResting lactate ______ mmol/L\n\n")
	fmt.Fprintf(&b, "%2s %9s %7s %8s %8s %8s  %8s %7s %7s\n", "no", "distance", "leave", "target", "100 "+unit, "length", "time", "lactate", "HR")
	for _, t := range p.Repeats {
		target, hundred, length := "all out", "", ""
		if t.Time > 0 {
			target = pace.FormatTime(t.Time, decimalsOf(t.Time))
			hundred = pace.FormatTime(t.Split(p.Pool.Per100()), 1)
			length = pace.FormatTime(t.Split(p.Pool.Length()), 1)
			if t.AllOut {
				target = "~" + target
			}
		}
		fmt.Fprintf(&b, "%2d %9s %7s %8s %8s %8s  %8s %7s %7s\n", t.Number, distanceText(t.Distance, p.Pool), pace.FormatTime(t.Leave, decimalsOf(t.Leave)), target, hundred, length, "________", "_______", "_______")
	}
	if n := len(p.Repeats); n > 0 && p.Repeats[n-1].AllOut {
		fmt.Fprintf(&b, "\nThe last repeat is swum all out")
		if p.Repeats[n-1].Time > 0 {
			b.WriteString(": ~ is what is expected, not a limit")
		}
		b.WriteString(".\n")
	}
	if len(p.After) > 0 {
		b.WriteString("Samples after it, min:")
		for _, t := range p.After {
			fmt.Fprintf(&b, "  %s ______", form.Minutes(t))
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "%s; %s swum without the warm-up; %s in all, without it.\n", counted(p.Samples(), "blood sample"), distanceText(p.Distance(), p.Pool), pace.FormatTime(p.Duration(), 0))
	if !p.Next.IsZero() {
		fmt.Fprintf(&b, "Next test: %s.\n", p.Next.Format("Monday 2 January 2006"))
	}
	b.WriteString("\nCautions\n")
	for _, c := range Cautions() {
		b.WriteString(table.Wrap("- ", c, 90))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// decimalsOf returns 0 for whole seconds, and else 1.
func decimalsOf(t time.Duration) int {
	if t%time.Second == 0 {
		return 0
	}
	return 1
}
