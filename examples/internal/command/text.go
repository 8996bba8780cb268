package command

import (
	"fmt"
	"strings"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
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
	kept := parts[:0:0]
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, "\n")
}

// Reports joins the reports of several swimmers, a rule between two.
func Reports(texts []string) string {
	return strings.Join(texts, "\n"+strings.Repeat("-", table.Width)+"\n\n")
}

// Day prints a date.
func Day(t time.Time) string { return t.Format("2 January 2006") }

// Clock prints a time in whole seconds, or with a tenth where it has one.
func Clock(t time.Duration) string {
	if t%time.Second == 0 {
		return pace.FormatTime(t, 0)
	}
	return pace.FormatTime(t, 1)
}

// Gain turns a shift of the speed v [m/s] into the time that it saves over a
// length [s]: above zero is faster.
func Gain(shift lactate.Estimate, v float64, per pace.Length) lactate.Estimate {
	at := func(d float64) float64 {
		if d-d != 0 { // open, or not known
			return d
		}
		return per.Metres()/v - per.Metres()/(v+d)
	}
	return lactate.Estimate{Value: at(shift.Value), Low: at(shift.Low), High: at(shift.High)}
}

// Seen says when a change is called seen, and why the interval of a confidence
// may exclude zero beside one that is not: it asks for less.
func Seen(falseAlarms, confidence float64) string {
	s := fmt.Sprintf("Seen: chance alone shows as much less than %.3g times in a hundred.", 100*falseAlarms)
	if 1-confidence-falseAlarms > 1e-9 {
		s += fmt.Sprintf(" A bracket of %.3g %% may just exclude zero before that.", 100*confidence)
	}
	return s
}

// Caution is the short form of protocol.Cautions, for a report that proposes a
// test; those of a plan are the long one.
const Caution = "Before swimming it: a step test ends in a maximal effort and draws blood. Be screened first, never swim alone, " +
	"stop at chest pain, dizziness or unusual breathlessness. Blood is for those trained to draw it: gloves, a new lancet for every puncture, a sharps bin. " +
	"Local rules and licensed practice come first."

// Cautions are those of a plan, as a list.
func Cautions() string { return List("Before swimming it", protocol.Cautions()) }

// Zones sets zones in a table, heart rate and lactate if the profile has them.
func Zones(t *zones.Table, p pace.Pool) table.Table {
	out := table.Table{Head: []table.Column{{Name: "zone"}, {Name: "pace"}}}
	add := func(name string, known bool, cell func(zones.Zone) string) {
		if !known {
			return
		}
		out.Head = append(out.Head, table.Column{Name: name})
		for i, z := range t.Zones {
			out.Rows[i] = append(out.Rows[i], cell(z))
		}
	}
	for _, z := range t.Zones {
		out.Rows = append(out.Rows, []string{z.Name + ", " + z.AnchorRange(), z.PaceRange(p)})
	}
	add("heart rate", t.Profile.HeartRate != nil, zones.Zone.HeartRateRange)
	add("speed", true, zones.Zone.SpeedRange)
	add("lactate", t.Profile.Lactate != nil, zones.Zone.LactateRange)
	return out
}
