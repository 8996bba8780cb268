package main

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

const width = 98 // columns

// write prints the reports as text.
func (o output) write(w io.Writer) error {
	var b bytes.Buffer
	for i, r := range o.Tests {
		if i > 0 {
			b.WriteString("\n" + strings.Repeat("-", width) + "\n\n")
		}
		if o.Invented {
			b.WriteString("Invented data. A sheet of your own: go run ./examples/steptest your-sheet.csv\n\n")
		}
		r.write(&b)
	}
	if len(o.Safety) > 0 {
		b.WriteString("\nBefore swimming it\n")
		for _, c := range o.Safety {
			paragraph(&b, "  - ", c)
		}
	}
	_, err := b.WriteTo(w)
	return err
}

func (r *report) write(b *bytes.Buffer) {
	day, _ := time.Parse(time.DateOnly, r.Date)
	fmt.Fprintf(b, "Step test of %s, %s, %s pool\n", r.Swimmer, day.Format("2 January 2006"), r.Pool)
	r.writeRepeats(b)
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
				cells = append(cells, clock(u.Metres()/rep.Speed))
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
		lines = append(lines, "after the last repeat "+strings.Join(after, ", ")+" mmol/L")
	}
	if len(lines) > 0 {
		paragraph(b, "  ", strings.Join(lines, "; "))
	}
}

func (r *report) writeThresholds(b *bytes.Buffer) {
	fmt.Fprintf(b, "\nWhere are the two thresholds?   (in brackets: where each lies with %.0f %% confidence)\n", 100*r.Confidence)
	t := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	row := func(name string, cell func(*threshold) string) {
		fmt.Fprintf(t, "  %s\t%s\t%s\n", name, cell(r.LT1), cell(r.LT2))
	}
	fmt.Fprintln(t, "  \tLT1, where lactate begins to rise\tLT2, where it begins to run away")
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
			func(e lactate.Estimate) string { return paceInterval(e, u) }))
	}
	row("speed, m/s", either(func(th *threshold) *lactate.Estimate { return th.Speed }, interval("%.3f")))
	row("lactate, mmol/L", either(func(th *threshold) *lactate.Estimate { return th.Lactate }, interval("%.1f")))
	row("heart rate, /min", either(func(th *threshold) *lactate.Estimate { return th.HeartRate }, interval("%.0f")))
	row("read by", func(th *threshold) string { return th.Method + ", " + th.Curve })
	t.Flush()
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
		return fmt.Sprintf("%s at %.1f mmol/L", clock(u.Metres()/th.Speed.Value), th.Lactate.Value)
	}
	for _, m := range r.Methods {
		fmt.Fprintf(t, "  %s\t%s\t%s\n", m.Method, cell(m.Exponential), cell(m.Cubic))
	}
	t.Flush()
	for i, n := range notes {
		paragraph(b, fmt.Sprintf("  (%d) ", i+1), n)
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
	day, _ := time.Parse(time.DateOnly, r.Next.Date)
	fmt.Fprintf(b, "\nWhat to swim next time?   (about %s; %.0f s rest; same pool, hour and warm-up)\n",
		day.Format("2 January 2006"), r.Next.Rest)
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
		paragraph(b, "  - ", c)
	}
	if r.Problem != "" {
		paragraph(b, "  - ", "no thresholds: "+r.Problem)
	}
}

// paragraph prints text after a lead, in lines of the width that are indented
// as far as the lead.
func paragraph(b *bytes.Buffer, lead, text string) {
	line := lead
	for i, word := range strings.Fields(text) {
		if i > 0 && len([]rune(line))+1+len([]rune(word)) > width {
			b.WriteString(line + "\n")
			line = strings.Repeat(" ", len([]rune(lead)))
		} else if i > 0 {
			line += " "
		}
		line += word
	}
	b.WriteString(line + "\n")
}

// clock prints seconds as a swim time.
func clock(s float64) string {
	return pace.FormatTime(time.Duration(math.Round(s*1e9)), 1)
}

// number prints v, or a dash where it is missing.
func number(format string, v float64) string {
	if v == 0 {
		return "-"
	}
	return fmt.Sprintf(format, v)
}

// interval returns a printer of estimates with their intervals.
func interval(format string) func(lactate.Estimate) string {
	return func(e lactate.Estimate) string {
		return brackets(e, func(v float64) string { return fmt.Sprintf(format, v) }, e.Low, e.High)
	}
}

// paceInterval prints a speed [m/s] as a pace, the slow end of the interval
// first.
func paceInterval(e lactate.Estimate, per pace.Length) string {
	return brackets(e, func(v float64) string { return clock(per.Metres() / v) }, e.Low, e.High)
}

func brackets(e lactate.Estimate, print func(float64) string, from, to float64) string {
	if !e.HasInterval() {
		return print(e.Value)
	}
	end := func(v float64) string {
		if math.IsInf(v, 0) {
			return "open"
		}
		return print(v)
	}
	return fmt.Sprintf("%s (%s to %s)", print(e.Value), end(from), end(to))
}
