package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"text/tabwriter"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// WriteText prints the reports as text.
func (o *output) WriteText(b *bytes.Buffer) {
	for i, r := range o.Tests {
		if i > 0 {
			command.Rule(b)
		}
		r.write(b)
	}
	if len(o.Safety) > 0 {
		b.WriteString("\nBefore swimming it\n")
		for _, c := range o.Safety {
			command.Paragraph(b, "  - ", c)
		}
	}
}

func (r *report) write(b *bytes.Buffer) {
	fmt.Fprintf(b, "Step test of %s, %s", r.Swimmer, command.DayOf(r.Date))
	if r.Pool != "" {
		fmt.Fprintf(b, ", %s pool", r.Pool)
	}
	b.WriteString("\n")
	if len(r.Repeats) > 0 {
		r.writeRepeats(b)
	}
	if r.LT1 != nil {
		r.writeThresholds(b)
		r.writeMethods(b)
	}
	if r.table != nil {
		fmt.Fprintf(b, "\nHow fast is easy, and how fast is hard?   (%s)\n", r.table.Scheme.Source)
		r.writeZones(b)
	}
	if r.Next != nil {
		r.writeNext(b)
	}
	r.writeCautions(b)
	if r.Technique != nil {
		r.writeTechnique(b)
	}
}

// units are the lengths that paces are printed for: those of the pool and,
// where they differ, 100 m.
func (r *report) units() []pace.Length {
	if p := r.pool.Per100(); p != 100*pace.Metre {
		return []pace.Length{p, 100 * pace.Metre}
	}
	return []pace.Length{100 * pace.Metre}
}

func (r *report) writeRepeats(b *bytes.Buffer) {
	fmt.Fprintf(b, "\nWhat was swum?\n")
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	row := func(cells ...string) { fmt.Fprintln(t, " \t"+strings.Join(cells, "\t")+"\t") }
	head := []string{"repeat", "distance", "time"}
	for _, u := range r.units() {
		head = append(head, "per "+u.String())
	}
	row(append(head, "speed, m/s", "lactate, mmol/L", "heart rate, /min")...)
	for _, rep := range r.Repeats {
		cells := []string{fmt.Sprint(rep.Number), rep.distance.String()}
		if rep.Time > 0 {
			cells = append(cells, pace.FormatTime(rep.time, 1))
			for _, u := range r.units() {
				cells = append(cells, command.Clock(u.Metres()/rep.Speed))
			}
			cells = append(cells, fmt.Sprintf("%.3f", rep.Speed))
		} else {
			cells = append(cells, make([]string, 2+len(r.units()))...)
		}
		row(append(cells, number("%.1f", rep.Lactate), number("%.0f", rep.HeartRate))...)
	}
	t.Flush()
	var after []string
	for _, s := range r.Recovery {
		after = append(after, fmt.Sprintf("%s (%s min)", number("%.1f", s.Lactate), number("%.3g", s.After/60)))
	}
	var lines []string
	if r.Rest > 0 {
		lines = append(lines, fmt.Sprintf("at rest %.1f mmol/L", r.Rest))
	}
	if len(after) > 0 {
		lines = append(lines, "after the last "+strings.Join(after, ", ")+" mmol/L")
	}
	if len(lines) > 0 {
		command.Paragraph(b, "  ", strings.Join(lines, "; "))
	}
}

func (r *report) writeThresholds(b *bytes.Buffer) {
	fmt.Fprintf(b, "\nWhere are the two thresholds?   (in brackets: %.0f %% confidence, if lactate rises as an exponential)\n", 100*r.Confidence)
	t := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	row := func(name string, cell func(*threshold) string) {
		fmt.Fprintf(t, "  %s\t%s\t%s\n", name, cell(r.LT1), cell(r.LT2))
	}
	fmt.Fprintln(t, "  \tLT1, where lactate begins to rise\tLT2, where it begins to run away")
	interval := func(decimals int) func(lactate.Estimate) string {
		return func(e lactate.Estimate) string { return command.Interval(e, command.Number(decimals)) }
	}
	either := func(value func(*threshold) *lactate.Estimate, print func(lactate.Estimate) string) func(*threshold) string {
		return func(th *threshold) string {
			if th.Problem != "" {
				return "none, see the cautions"
			}
			if e := value(th); e != nil {
				return print(*e)
			}
			return "not known"
		}
	}
	for _, u := range r.units() {
		row("per "+u.String(), either(func(th *threshold) *lactate.Estimate { return th.Speed },
			func(e lactate.Estimate) string { return command.PaceInterval(e, u) }))
	}
	row("speed, m/s", either(func(th *threshold) *lactate.Estimate { return th.Speed }, interval(3)))
	row("lactate, mmol/L", either(func(th *threshold) *lactate.Estimate { return th.Lactate }, interval(1)))
	row("heart rate, /min", either(func(th *threshold) *lactate.Estimate { return th.HeartRate }, interval(0)))
	row("read by", func(th *threshold) string { return th.Method + ", " + th.Curve })
	t.Flush()
	for _, th := range []*threshold{r.LT1, r.LT2} {
		if e := th.Speed; e != nil && (math.IsInf(e.Low, 0) || math.IsInf(e.High, 0)) {
			command.Paragraph(b, "  ", "open: as far as the test goes, and perhaps beyond.")
			break
		}
	}
}

func (r *report) writeMethods(b *bytes.Buffer) {
	u := r.pool.Per100()
	fmt.Fprintf(b, "\nWhat do other definitions say?   (pace per %v, and lactate there, on each curve)\n", u)
	t := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	fmt.Fprintln(t, "  \texponential\tcubic")
	var notes []string
	cell := func(th *threshold) string {
		if th == nil {
			return "no such curve"
		}
		if th.Problem != "" {
			notes = append(notes, fmt.Sprintf("%s, %s: %s", th.Method, th.Curve, th.Problem))
			return fmt.Sprintf("none (%d)", len(notes))
		}
		return fmt.Sprintf("%s at %.1f mmol/L", command.Clock(u.Metres()/th.Speed.Value), th.Lactate.Value)
	}
	for _, m := range r.Methods {
		fmt.Fprintf(t, "  %s\t%s\t%s\n", m.Method, cell(m.Exponential), cell(m.Cubic))
	}
	t.Flush()
	command.Paragraph(b, "  ", `Fitted lowest: the lowest lactate on the curve. Dmax: where the curve is farthest below a line from its start to its end; `+
		`modified Dmax: from where lactate begins to rise.`)
	for i, n := range notes {
		command.Paragraph(b, fmt.Sprintf("  (%d) ", i+1), n)
	}
}

func (r *report) writeZones(b *bytes.Buffer) {
	t := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	for _, z := range r.table.Zones {
		heart := ""
		if r.table.Profile.HeartRate != nil {
			heart = z.HeartRateRange()
		}
		fmt.Fprintf(t, "  zone %s, %s\t%s\t%s\t%s\n", z.Name, z.AnchorRange(), z.PaceRange(r.pool), z.SpeedRange(), heart)
	}
	t.Flush()
}

func (r *report) writeNext(b *bytes.Buffer) {
	fmt.Fprintf(b, "\nWhat to swim next time?   (about %s; %.0f s rest; all else the same; cautions below)\n",
		command.DayOf(r.Next.Date), r.Next.Rest)
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(t, " \trepeat\tdistance\ttime\tper %v\tleave at\t\n", r.pool.Per100())
	for _, p := range r.target {
		allOut := ""
		if p.AllOut {
			allOut = "  all out; the time is a guess"
		}
		fmt.Fprintf(t, " \t%d\t%v\t%s\t%s\t%s\t%s\n", p.Number, p.Distance, pace.FormatTime(p.Time, 0),
			pace.FormatTime(p.Split(r.pool.Per100()), 1), pace.FormatTime(p.Leave, 0), allOut)
	}
	t.Flush()
}

func (r *report) writeCautions(b *bytes.Buffer) {
	fmt.Fprintf(b, "\nBefore believing it\n")
	for _, c := range r.Cautions {
		command.Paragraph(b, "  - ", c)
	}
	if r.Problem != "" {
		command.Paragraph(b, "  - ", "no thresholds: "+r.Problem)
	}
}

// number prints v, or a dash where it is missing.
func number(format string, v float64) string {
	if v == 0 {
		return "-"
	}
	return fmt.Sprintf(format, v)
}
