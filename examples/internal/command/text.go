package command

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// Options of every analysis and comparison: their intervals rest on 2000
// simulated tests, and the rest is the library's default.
func Options() lactate.Options { return lactate.Options{Resamples: 2000, Seed: 1} }

// Tables are the options for tables of tests in a pool.
func Tables(p pace.Pool) table.Options { return table.Options{Pool: p, Noun: "repeat"} }

// Line is a paragraph of a report.
func Line(format string, args ...any) string {
	return table.Wrap("", fmt.Sprintf(format, args...), table.Width)
}

// Indented is a paragraph below a heading.
func Indented(format string, args ...any) string {
	return table.Wrap("  ", fmt.Sprintf(format, args...), table.Width)
}

// List is a heading and a line for each text; nothing without a text.
func List(heading string, texts []string) string {
	return table.Tables{{Caption: heading, Notes: texts}}.String()
}

// Sections joins the parts of a report with blank lines; empty ones are left out.
func Sections(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), "\n")
}

// Clock prints a time in whole seconds, or with a tenth where it has one.
func Clock(t time.Duration) string {
	if t%time.Second == 0 {
		return pace.FormatTime(t, 0)
	}
	return pace.FormatTime(t, 1)
}

// caution is the short form of protocol.Cautions.
const caution = "Before swimming it: a step test ends in a maximal effort and draws blood. Be screened first, never swim alone, " +
	"stop at chest pain, dizziness or unusual breathlessness. Only those trained to draw blood do so, each time with a new lancet. " +
	"Local rules and licensed practice come first."

// MovesRight is what else moves a curve to the right.
const MovesRight = "a curve that moves right can mean a fitter swimmer, or less carbohydrate, a tired or an easier day: test fed and rested alike"

// DaysBetween is how many days lie between two tests.
func DaysBetween(before, after protocol.Record) int {
	return int(math.Round(after.Date.Sub(before.Date).Hours() / 24))
}

// Advice is what to do about what shakes a test, with the flags that do it.
func Advice(g protocol.Grave) string {
	return strings.Replace(g.Do, "farther apart", "farther apart (-lt1, -lt2)", 1)
}

// Doubts are what to know before believing a report.
type Doubts struct {
	Doubts []string `json:"doubts,omitempty"`
}

// AddDoubt adds a sentence.
func (d *Doubts) AddDoubt(format string, args ...any) {
	d.Doubts = append(d.Doubts, fmt.Sprintf(format, args...))
}

// AddTexts adds sentences as they are; one without words is none.
func (d *Doubts) AddTexts(texts ...string) {
	for _, text := range texts {
		if text != "" {
			d.Doubts = append(d.Doubts, text)
		}
	}
}

// Words are those of a warning for swimmers.
func Words(w lactate.Warning) string { return protocol.InSwimming(w.Text("repeat")) }

// AddWarnings adds warnings about a test, with the numbers that the repeats have in the sheet.
func (d *Doubts) AddWarnings(rec protocol.Record, ws ...lactate.Warning) {
	for _, w := range rec.Numbered(ws) {
		d.AddTexts(Words(w))
	}
}

// AddWarningsOfTests adds those of a comparison or a season of the tests of some records, in order.
func (d *Doubts) AddWarningsOfTests(records []protocol.Record, ws ...lactate.Warning) {
	for _, w := range protocol.Numbered(records, ws) {
		d.AddTexts(Words(w))
	}
}

// AddFaultsAndWarnings adds those of a test of several, behind its day.
func (d *Doubts) AddFaultsAndWarnings(rec protocol.Record, a *lactate.Analysis) {
	var of Doubts
	of.AddTexts(Faults(rec))
	of.AddWarnings(rec, a.Warnings...)
	for _, text := range of.Doubts {
		d.AddTexts(table.Day(rec.Date) + ": " + text)
	}
}

// PutFirst puts the value of a test that is wrong before all other doubts.
func (d *Doubts) PutFirst(rec protocol.Record, a *lactate.Analysis) {
	if g := rec.Gravest(a); g.Repeat != 0 {
		d.Doubts = slices.Insert(d.Doubts, 0, table.Day(rec.Date)+": "+g.String())
	}
}
