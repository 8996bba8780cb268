package main

import (
	"bytes"
	"fmt"
	"text/tabwriter"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/pace"
)

// WriteText prints the seasons as text.
func (r *report) WriteText(b *bytes.Buffer) {
	for i, s := range r.Seasons {
		if i > 0 {
			command.Rule(b)
		}
		s.write(b)
	}
}

func (s *season) write(b *bytes.Buffer) {
	per := s.pool.Per100()
	yards := per == 100*pace.Yard
	n := len(s.Tests)
	fmt.Fprintf(b, "%s: %d tests from %s to %s\n", s.Swimmer, n, command.DayOf(s.Tests[0].Date), command.DayOf(s.Tests[n-1].Date))

	fmt.Fprintf(b, "\nHow far has the curve moved since the first test?   (per %v; in brackets: %.0f %% confidence)\n", per, 100*confidence)
	t := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	fmt.Fprintf(t, "  date\tpool\tLT2\tat the same lactate\tmoved?\tmore than a day's?\n")
	for _, tt := range s.Tests {
		lt2 := "none"
		if tt.LT2 != nil {
			lt2 = command.Clock(per.Metres() / tt.LT2.Value)
		}
		gain := tt.Per100M
		if yards {
			gain = tt.Per100Yd
		}
		if gain == nil {
			fmt.Fprintf(t, "  %s\t%s\t%s\tfirst test\t-\t-\n", command.DayOf(tt.Date), tt.Pool, lt2)
			continue
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t%s\t%s\n", command.DayOf(tt.Date), tt.Pool, lt2, command.Faster(*gain), short(tt.Measured), short(tt.Between))
	}
	t.Flush()

	gain, least := s.Trend.Per100M, s.Trend.DetectablePer
	if yards {
		gain, least = s.Trend.Per100Yd, s.Trend.DetectableYd
	}
	fmt.Fprintf(b, "\nIs there a trend?   (a straight line; days that differ by %.1f %% of speed are reckoned with)\n", 100*dayToDay)
	headline := map[string]string{
		"moved right": "Yes, to the right: faster from test to test.",
		"moved left":  "Yes, to the left: slower from test to test.",
	}[s.Trend.Verdict]
	if headline == "" {
		headline = "None that these tests could see."
	}
	fmt.Fprintf(b, "  %s\n", headline)
	fmt.Fprintf(b, "  Every four weeks, per %v: %s, which is %s m/s.\n", per, command.Faster(gain), command.Interval(s.Trend.Shift, command.Number(3)))
	fmt.Fprintf(b, "  Tests like these see a true trend of %.1f s per %v in four weeks %.0f times in a hundred.\n", least, per, 100*power)
	command.Paragraph(b, "  ", command.Seen(falseAlarms, confidence))

	if s.Next != nil {
		paces := s.Next.Per100M
		if yards {
			paces = s.Next.Per100Yd
		}
		fmt.Fprintf(b, "\nWhere will the next test be?   (about %s, if the trend goes on)\n", command.DayOf(s.Next.Date))
		fmt.Fprintf(b, "  The lactate that came at %s per %v in the first test (its LT2) is expected at %s,\n",
			command.Clock(per.Metres()/s.At), per, command.Clock(paces.Value))
		fmt.Fprintf(b, "  between %s and %s; a place outside that would be news.\n", command.Clock(paces.High), command.Clock(paces.Low))
	}

	fmt.Fprintf(b, "\nBefore believing it\n")
	for _, text := range s.Cautions {
		command.Paragraph(b, "  - ", text)
	}
	command.Paragraph(b, "  - ", "\"moved?\" weighs a shift against measurement error; \"more than a day's?\" against the swimmer's "+
		"good and bad days as well")
	command.Paragraph(b, "  - ", "LT2 of each test is read on its own curve; the shifts come from one shape for all tests, and are the surer of the two")
}

// short gives a verdict in a word.
func short(verdict string) string {
	switch verdict {
	case "moved right":
		return "right"
	case "moved left":
		return "left"
	}
	return "not seen"
}
