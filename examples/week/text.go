package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"text/tabwriter"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/pace"
)

func (r *report) writeText(b *bytes.Buffer) {
	switch {
	case r.InventedTest && r.InventedWeek:
		fmt.Fprintf(b, "Invented data. Yours: go run ./examples/week -test your-sheet.csv your-week.csv\n\n")
	case r.InventedTest:
		fmt.Fprintf(b, "The step test is invented. Yours: go run ./examples/week -test your-sheet.csv your-week.csv\n\n")
	case r.InventedWeek:
		fmt.Fprintf(b, "The week is invented. Yours: go run ./examples/week -test your-sheet.csv your-week.csv\n\n")
	}
	fmt.Fprintf(b, "A week for %s, %s pool, from the step test of %s\n", r.Swimmer, r.Pool, command.DayOf(r.TestDate))
	b.WriteString("\n")
	command.Paragraph(b, "", fmt.Sprintf("How fast is each zone?   (%s; %s)", r.Scheme, r.Source))
	bare := *r.table
	bare.Warnings = nil // they follow, in lines of the width
	var table strings.Builder
	bare.Write(&table, r.record.Pool) // to memory
	for _, line := range strings.Split(strings.TrimSuffix(table.String(), "\n"), "\n") {
		b.WriteString("  " + line + "\n")
	}
	for _, n := range r.Notes {
		command.Paragraph(b, "  - ", n)
	}
	r.writePlan(b)
	r.writeSwum(b)
	r.writeDivision(b)
	if len(r.Cautions) > 0 {
		b.WriteString("\nBefore swimming it\n")
		for _, c := range r.Cautions {
			command.Paragraph(b, "  - ", c)
		}
	}
}

func (r *report) writePlan(b *bytes.Buffer) {
	if len(r.Sets) == 0 {
		return
	}
	b.WriteString("\nWhat to swim?\n")
	w := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	for i, s := range r.Sets {
		rest := fmt.Sprintf("rest %.0f s or more", math.Floor(s.Rest))
		if s.plan.Slow == 0 { // the zone is open there, the send-off is not
			rest += ", down to " + pace.FormatTime(s.plan.Slowest.Truncate(100*time.Millisecond), 1)
		}
		fmt.Fprintf(w, "  %s\t%d × %v in zone %s\t%s\ton %s\t%s\n", r.day(i), s.Repeats, s.plan.Set.Distance, s.Zone,
			s.plan.Target(), pace.FormatTime(s.plan.SendOff, 0), rest)
	}
	w.Flush()
}

// day is what stands before a set: nothing where it goes on with the day above.
func (r *report) day(i int) string {
	if s := r.Sets[i]; i == 0 || !s.goesOn || s.Day != r.Sets[i-1].Day {
		return s.Day
	}
	return ""
}

func (r *report) writeSwum(b *bytes.Buffer) {
	if r.Swum == nil {
		return
	}
	unit := r.record.Pool.Per100()
	fmt.Fprintf(b, "\nWhat was swum?   (drift: from the first repeat to the last, along a line)\n")
	w := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	fmt.Fprintf(w, "  \tzone of each repeat\tmean per %v\tdrift, s\theart rate drift, /min\tagainst the test, /min\n", unit)
	signed := func(v *float64, decimals int) string {
		if v == nil {
			return "not known"
		}
		s := fmt.Sprintf("%+.*f", decimals, *v)
		if strings.Trim(s, "+-0.") == "" {
			return "0"
		}
		return s
	}
	for i, s := range r.Sets {
		if len(s.Swum) == 0 {
			fmt.Fprintf(w, "  %s\tnot swum\t\t\t\t\n", r.day(i))
			continue
		}
		in := make([]string, len(s.Swum))
		for i, x := range s.Swum {
			in[i] = x.Zone
		}
		of := ""
		if len(s.Swum) != s.Repeats {
			of = fmt.Sprintf(" (%d of %d)", len(s.Swum), s.Repeats)
		}
		mean := unit.Metres() * s.review.Distribution.Time.Seconds() / s.review.Distribution.Distance.Metres()
		fmt.Fprintf(w, "  %s\t%s%s\t%s\t%s\t%s\t%s\n", r.day(i), strings.Join(in, " "), of, command.Clock(mean),
			signed(s.PaceDrift, 1), signed(s.HeartRateDrift, 0), signed(s.AgainstTest, 0))
	}
	w.Flush()
	command.Paragraph(b, "  ", "Against the test: the mean heart rate less that of the test's line at the same speeds. "+
		"It differs by a few beats from day to day, and in shorter repeats it lags behind.")
}

func (r *report) writeDivision(b *bytes.Buffer) {
	if r.Planned == nil {
		return
	}
	b.WriteString("\nHow is the week divided?   (time and distance swum, without rest)\n")
	w := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	head, both := "  \tplanned", r.Swum != nil
	if both {
		head += "\tswum"
	}
	fmt.Fprintln(w, head)
	for i := range r.Planned.Zones {
		row := func(d *division) string {
			z := d.distribution.Zones[i]
			if z.Time == 0 {
				return "nothing"
			}
			return fmt.Sprintf("%s, %v, %.0f %% of the time", pace.FormatTime(z.Time, 0), z.Distance, 100*z.TimeShare)
		}
		fmt.Fprintf(w, "  zone %s\t%s", r.Planned.Zones[i].Zone, row(r.Planned))
		if both {
			fmt.Fprintf(w, "\t%s", row(r.Swum))
		}
		fmt.Fprintln(w)
	}
	w.Flush()
	command.Paragraph(b, "  planned: ", r.Planned.distribution.String())
	if both {
		command.Paragraph(b, "  swum:    ", r.Swum.distribution.String())
	}
}
