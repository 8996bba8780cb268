package app

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

// read analyses a test without intervals.
func read(r protocol.Record) (*lactate.Analysis, error) {
	t, err := r.Test()
	if err != nil {
		return nil, err
	}
	return lactate.Analyze(t, lactate.Options{})
}

func analysable(r protocol.Record) bool {
	a, err := read(r)
	return err == nil && a.LT2.Err == nil
}

// lastTest is the latest test of a swimmer before a day that has a curve.
func lastTest(records []protocol.Record, swimmer string, day time.Time) (*lactate.Analysis, string, error) {
	var found *lactate.Analysis
	var of protocol.Record
	for _, r := range records {
		if r.Swimmer != swimmer || !r.Date.Before(day) || found != nil && !r.Date.After(of.Date) {
			continue
		}
		if a, err := read(r); err == nil {
			found, of = a, r
		}
	}
	if found == nil {
		return nil, "", errors.New("found no earlier test")
	}
	return found, table.Day(of.Date), nil
}

// findings are what to think of before a plan is swum.
func findings(p protocol.Plan) []string {
	out := []string{}
	for _, f := range p.Review(protocol.Known{}) {
		if f.Kind == protocol.WarnInTotal {
			continue // stands under the targets
		}
		out = append(out, f.Text("repeat"))
	}
	return out
}

// earlier are the tests of a swimmer before one of them that the same speeds belong to.
func earlier(records []protocol.Record, r protocol.Record) (e forecast.Expected) {
	for _, before := range of(records, r.Swimmer) {
		if t, err := before.Test(); err == nil && before.Date.Before(r.Date) && before.Comparable(r) {
			e.Tests = append(e.Tests, t)
		}
	}
	return e
}

// nextTarget is the target of the repeat that is swum next, and why it is not as planned.
func nextTarget(r protocol.Record, known forecast.Expected) (next protocol.Target, why string) {
	plan := r.Plan()
	i := slices.IndexFunc(r.Repeats, func(rep protocol.Repeat) bool { return rep.Time == 0 })
	if i < 0 {
		return next, ""
	}
	next = plan.Repeats[i]
	// The search for a narrower spacing takes seconds on a phone.
	a, err := plan.NextRepeat(r, known, lactate.Options{}, forecast.Rules{Keep: true})
	switch {
	case err == nil && a.Reason == forecast.SpreadAnew:
		return a.Next, "The repeats that are left are spread evenly again after what was swum."
	case err == nil && a.Reason == forecast.NoRoom && a.Left > 1:
		last := plan.Repeats[len(plan.Repeats)-1].Number
		why = fmt.Sprintf("What was swum is close to repeat %d, and leaves no room before it: skip to it, or swim on as planned.", last)
	case next.Time == 0:
		why = "No target: faster than the last one."
	}
	return next, why
}

// reviewed is what the library's review finds odd about single repeats.
func reviewed(r protocol.Record) []oddity {
	out := []oddity{}
	for _, w := range r.Review() {
		if len(w.Stages) == 0 || !slices.Contains([]lactate.WarningKind{protocol.WarnOddTime, lactate.WarnOddHeartRate, lactate.WarnOddSample, protocol.WarnSlower, protocol.WarnSameSpeed, protocol.WarnBeyondRange}, w.Kind) {
			continue
		}
		n := w.Stages[0]
		what := "time"
		switch {
		case w.Kind == protocol.WarnBeyondRange || w.Kind == lactate.WarnOddSample:
			what = "lactate"
		case w.Kind == lactate.WarnOddHeartRate:
			what = "beats"
		}
		text := strings.TrimPrefix(w.Text("repeat"), fmt.Sprintf("repeat %d: ", n))
		out = append(out, oddity{n, fmt.Sprintf("%d.%s", n, what), text})
	}
	return out
}

// oddSamples are those that the library finds odd.
func oddSamples(r protocol.Record) (out []oddity) {
	a, err := read(r)
	if err != nil {
		return nil
	}
	for _, w := range r.Numbered(a.Warnings) {
		if w.Kind == lactate.WarnOddSample && len(w.Stages) > 0 {
			out = append(out, oddity{w.Stages[0], fmt.Sprintf("%d.lactate", w.Stages[0]), w.Text("repeat")})
		}
	}
	return out
}

// worked is a test with its answers.
type worked struct {
	record   protocol.Record
	test     lactate.Test
	analysis *lactate.Analysis
	zones    *zones.Table
}

func work(r protocol.Record) (*worked, error) {
	t, err := r.Test()
	if err != nil {
		return nil, protocol.InWords(err)
	}
	a, err := lactate.Analyze(t, command.Options())
	if err != nil {
		return nil, protocol.InWords(err)
	}
	w := &worked{record: r, test: t, analysis: a}
	w.zones, _, _ = command.Zones(r, t, a, zones.ThreeZone()) // without them, a threshold says why
	return w, nil
}

// thresholdText is a threshold in words.
type thresholdText struct {
	Name    string `json:"name"`
	Meaning string `json:"meaning"`
	Pace    string `json:"pace,omitempty"`
	Within  string `json:"within,omitempty"` // the bracket
	Beats   string `json:"beats,omitempty"`
	Lactate string `json:"lactate,omitempty"`
	Speed   string `json:"speed,omitempty"`
	Method  string `json:"method"`
	Problem string `json:"problem,omitempty"`
}

func (w *worked) thresholds() []thresholdText {
	var out []thresholdText
	for i, th := range []lactate.Threshold{w.analysis.LT1, w.analysis.LT2} {
		t := thresholdText{Name: []string{"LT1", "LT2"}[i], Method: table.Method(th.Method),
			Meaning: []string{"where lactate begins to rise", "where it begins to run away"}[i]}
		if th.Err != nil {
			t.Problem = protocol.InWords(th.Err).Error()
			out = append(out, t)
			continue
		}
		per := w.record.Pool.Per100()
		t.Pace, t.Within = split(table.Pace(th.Intensity, per))
		t.Speed = table.Within(th.Intensity, decimals(3)) + " m/s"
		t.Lactate = table.Within(th.Lactate, decimals(1)) + " mmol/L"
		if !math.IsNaN(th.HeartRate.Value) {
			t.Beats = table.Within(th.HeartRate, decimals(0)) + " a minute"
		}
		out = append(out, t)
	}
	return out
}

// warned are the doubts about a test, in the words of swimmers, the worst first.
func (w *worked) warned() []string {
	var d command.Doubts
	rest := w.record.Review()
	for _, x := range w.analysis.Warnings {
		switch x.Kind {
		case lactate.WarnOddSample:
			d.AddWarnings(w.record, x)
		case lactate.WarnLostSamples, lactate.WarnFewStages: // the review says these
		default:
			rest = append(rest, w.record.Numbered([]lactate.Warning{x})...)
		}
	}
	if w.zones != nil {
		rest = append(rest, w.record.Numbered(w.zones.Warnings)...)
	}
	for _, x := range rest {
		d.AddTexts(x.Text("repeat"))
	}
	d.AddDoubt("a bracket holds the error of analyser, drop of blood and watch, not how a swimmer differs from day to day; that of a heart rate is that of the pace, in beats")
	d.AddDoubt("a bracket is the error of one definition; how far the definitions lie apart is the error of choosing one")
	return d.Doubts
}

// trust says what shakes the thresholds, and what to do about it; nothing if nothing does.
func (w *worked) trust() string {
	g := w.record.Gravest(w.analysis)
	if g.Says == "" {
		return ""
	}
	return "Trust it little: " + g.Says + ". What to do: " + g.Do + "."
}

// decimals prints numbers with so many.
func decimals(n int) func(float64) string {
	return func(v float64) string { return table.Number(v, n) }
}

// compared are two tests of a swimmer.
type compared struct {
	before, after *worked
	change        *lactate.Change
}

func compare(before, after *worked) (*compared, error) {
	c, err := lactate.Compare(before.test, after.test, lactate.CompareOptions{Options: command.Options()})
	if err != nil {
		return nil, protocol.InWords(err)
	}
	return &compared{before, after, c}, nil
}

func (c *compared) doubts() []string {
	var d command.Doubts
	d.AddWarningsOfTests([]protocol.Record{c.before.record, c.after.record}, c.change.Warnings...)
	d.AddFaultsAndWarnings(c.before.record, c.change.Before)
	d.AddFaultsAndWarnings(c.after.record, c.change.After)
	d.AddTexts(command.MovesRight)
	return d.Doubts
}

// follow fits all tests of a swimmer that have a curve.
func follow(tests []*worked) (*lactate.Season, error) {
	var dated []lactate.DatedTest
	for _, w := range tests {
		dated = append(dated, lactate.DatedTest{Date: w.record.Date, Test: w.test})
	}
	s, err := lactate.FollowSeason(dated, lactate.CompareOptions{Options: command.Options()})
	if err != nil {
		return nil, protocol.InWords(err)
	}
	return s, nil
}

// of returns a swimmer's tests that have a curve, in order of their days.
func of(records []protocol.Record, swimmer string) []protocol.Record {
	var out []protocol.Record
	for _, r := range records {
		if _, err := read(r); r.Swimmer == swimmer && err == nil {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b protocol.Record) int { return a.Date.Compare(b.Date) })
	return out
}

// member is the last of one or two tests of a swimmer, for the table of a squad.
func member(tests []protocol.Record) table.Member {
	last := tests[len(tests)-1]
	m := table.Member{Name: last.Swimmer, Date: last.Date}
	o := command.Options()
	o.Methods = []lactate.Method{} // LT1 and LT2 alone
	a, err := last.Analyze(o)
	if err != nil {
		m.Problem = protocol.InWords(err).Error()
		return m
	}
	m.Analysis, m.Warnings = a, last.Numbered(a.Warnings)
	if len(tests) == 2 {
		before, err := tests[0].Test()
		o.Resamples = 0
		if err == nil {
			m.Change, err = lactate.Compare(before, a.Test(), lactate.CompareOptions{Options: o})
		}
		if err != nil {
			m.Further = []string{"not compared: " + protocol.InWords(err).Error()}
		}
	}
	return m
}
