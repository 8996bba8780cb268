package command

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// Width of the text [columns].
const Width = 98

// Paragraph prints text after a lead, in lines of the width that are indented
// as far as the lead.
func Paragraph(b *bytes.Buffer, lead, text string) {
	line := lead
	for i, word := range strings.Fields(text) {
		switch {
		case i == 0:
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > Width:
			b.WriteString(line + "\n")
			line = strings.Repeat(" ", utf8.RuneCountInString(lead))
		default:
			line += " "
		}
		line += word
	}
	b.WriteString(line + "\n")
}

// Rule prints a line between two parts of a report.
func Rule(b *bytes.Buffer) {
	b.WriteString("\n" + strings.Repeat("-", Width) + "\n\n")
}

// Day prints a date.
func Day(t time.Time) string { return t.Format("2 January 2006") }

// DayOf prints a date as it stands in JSON.
func DayOf(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return Day(t)
}

// Clock prints seconds as a swim time.
func Clock(s float64) string {
	return pace.FormatTime(time.Duration(math.Round(s*1e9)), 1)
}

// Interval prints an estimate with its interval, if it has one.
func Interval(e lactate.Estimate, print func(float64) string) string {
	if !e.HasInterval() {
		return print(e.Value)
	}
	end := func(v float64) string {
		if math.IsInf(v, 0) {
			return "open"
		}
		return print(v)
	}
	return fmt.Sprintf("%s (%s to %s)", print(e.Value), end(e.Low), end(e.High))
}

// Number returns a printer of numbers, for Interval. It never prints −0.
func Number(decimals int) func(float64) string {
	return func(v float64) string {
		s := fmt.Sprintf("%.*f", decimals, v)
		if strings.Trim(s, "-0.") == "" {
			return strings.TrimPrefix(s, "-")
		}
		return s
	}
}

// PaceInterval prints a speed [m/s] as the time per length, the slow end of the
// interval first.
func PaceInterval(e lactate.Estimate, per pace.Length) string {
	return Interval(e, func(v float64) string { return Clock(per.Metres() / v) })
}

// Faster prints a gain in time [s] in words: "1.2 s faster (0.7 to 1.7)", or,
// where the interval holds zero, "0.3 s faster (0.4 slower to 1.0 faster)".
func Faster(e lactate.Estimate) string {
	word := func(v float64) string {
		if v < 0 {
			return "slower"
		}
		return "faster"
	}
	s := fmt.Sprintf("%.1f s %s", math.Abs(e.Value), word(e.Value))
	if !e.HasInterval() {
		return s
	}
	near, far := e.Low, e.High
	if e.Value < 0 {
		near, far = far, near
	}
	end := func(v float64) string {
		if math.IsInf(v, 0) {
			return "open"
		}
		return fmt.Sprintf("%.1f", math.Abs(v))
	}
	if e.Low < 0 && e.High > 0 {
		return fmt.Sprintf("%s (%s %s to %s %s)", s, end(near), word(near), end(far), word(far))
	}
	return fmt.Sprintf("%s (%s to %s)", s, end(near), end(far))
}

// Seen says when a change is called seen, and why the interval of a confidence
// may leave zero out beside one that is not: it asks for less.
func Seen(falseAlarms, confidence float64) string {
	s := fmt.Sprintf("Seen: chance alone would show as much fewer than %.3g times in a hundred.", 100*falseAlarms)
	if 1-confidence-falseAlarms > 1e-9 {
		s += fmt.Sprintf(" A bracket of %.3g %% that just leaves zero out falls short of that.", 100*confidence)
	}
	return s
}

// Paces turns an estimate of a speed [m/s] into one of a pace [s]. The fast end
// of the speed is the low end of the pace.
func Paces(e lactate.Estimate, per pace.Length) lactate.Estimate {
	at := func(v float64) float64 {
		if math.IsInf(v, 0) {
			return -v
		}
		return per.Metres() / v
	}
	return lactate.Estimate{Value: at(e.Value), Low: at(e.High), High: at(e.Low)}
}

// Gain turns a shift of the speed v [m/s] into the time that it saves over a
// length [s]: above zero is faster.
func Gain(shift lactate.Estimate, v float64, per pace.Length) lactate.Estimate {
	at := func(d float64) float64 {
		if math.IsInf(d, 0) {
			return d
		}
		return per.Metres()/v - per.Metres()/(v+d)
	}
	return lactate.Estimate{Value: at(shift.Value), Low: at(shift.Low), High: at(shift.High)}
}
