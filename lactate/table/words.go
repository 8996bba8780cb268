package table

import (
	"fmt"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/clean"
	"example.com/steptest/lactate/internal/say"
	"example.com/steptest/pace"
)

// Width of a line for a terminal [columns].
const Width = 98

// Clean returns a text from outside as a terminal or a page may show it: without control
// characters but line feeds, and without marks that turn the direction of writing.
func Clean(s string) string { return clean.Text(s) }

// Line returns a text from outside on one line, as [Clean] does. Tables and [Wrap] do it
// themselves.
func Line(s string) string { return clean.Line(s) }

// Short is [Line], cut to so many letters: what an error repeats of what it found.
func Short(s string, most int) string { return clean.Short(s, most) }

// Capital returns a text with its first letter in upper case.
func Capital(s string) string { return clean.Capital(s) }

// Bare returns the text of an error of this module without the names of packages that head it, or
// a line of it.
func Bare(err error) string { return clean.Bare(err) }

// Day writes a date, "2 January 2006".
func Day(t time.Time) string { return say.Day(t) }

// Wrap breaks a text into lines of at most so many columns, the first behind a
// lead and the others indented as far. A longer word has a line of its own.
func Wrap(lead, text string, width int) string {
	var b strings.Builder
	line := lead
	for i, word := range strings.Fields(clean.Text(text)) {
		switch {
		case i == 0:
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width:
			b.WriteString(line + "\n")
			line = strings.Repeat(" ", utf8.RuneCountInString(lead))
		default:
			line += " "
		}
		line += word
	}
	return b.String() + line + "\n"
}

// Number prints v with so many decimals, 0 to 17, a real minus sign, and no minus zero.
func Number(v float64, decimals int) string { return say.Number(v, decimals) }

// Signed prints a change with its sign.
func Signed(v float64, decimals int) string { return say.Signed(v, decimals) }

// bracket names an interval, with its confidence: swimmers swim intervals.
func bracket(confidence float64) string {
	return strings.ReplaceAll(say.Interval(confidence), "interval", "bracket")
}

// Clock prints seconds as a swim time, to a tenth; "none" if they are no number.
func Clock(seconds float64) string {
	if !say.Finite(seconds) {
		return "none"
	}
	return pace.FormatTime(time.Duration(math.Round(seconds*1e9)), 1)
}

// Within prints an estimate with its interval, if it has one: "138 (134 to 141)".
// Nil prints numbers as they are.
func Within(e lactate.Estimate, print func(float64) string) string {
	if print == nil {
		print = func(v float64) string { return fmt.Sprint(v) }
	}
	if !e.HasInterval() {
		return print(e.Value)
	}
	return print(e.Value) + " (" + interval(e, print) + ")"
}

// Pace prints a speed (m/s) as the time over a length, with its interval, slow
// end first.
func Pace(e lactate.Estimate, per pace.Length) string {
	return Within(e, func(v float64) string { return Clock(per.Metres() / v) })
}

// Method names a definition in a coach's words; the footnotes of [Thresholds] say
// what they mean.
func Method(m lactate.Method) string { return say.Method(m) }

// What the names of definitions mean, for those that are used.
const (
	ofBaseline    = "the lowest lactate on the fitted curve."
	aboutBaseline = "Baseline: " + ofBaseline
	aboutDmax     = "Dmax: where the curve is farthest below a line from its start to its end; modified Dmax: from where lactate begins to rise."
)

func footnotes(names []string) (notes []string) {
	all := strings.Join(names, "\n")
	if strings.Contains(all, "baseline") {
		notes = append(notes, aboutBaseline)
	}
	if strings.Contains(all, "Dmax") {
		notes = append(notes, aboutDmax)
	}
	return notes
}

// Warnings lists warnings, one note each, with the noun of the options.
func Warnings(ws []lactate.Warning, o Options) Table {
	o = o.withDefaults("what to doubt")
	out := Table{Caption: o.Caption}
	for _, w := range ws {
		out.Notes = append(out.Notes, w.Text(o.Noun))
	}
	return out
}
