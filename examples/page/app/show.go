package app

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
	"gonum.org/v1/plot/vg"
)

// picture is drawn twice: a page follows light and dark, and is printed light.
type picture struct {
	Light string `json:"light"`
	Dark  string `json:"dark"`
	Says  string `json:"says"` // in words
}

// result is the answer of a test.
type result struct {
	Swimmer    string          `json:"swimmer"`
	Day        string          `json:"day"`
	Unit       string          `json:"unit"`
	Thresholds []thresholdText `json:"thresholds"`
	Zones      *tableText      `json:"zones,omitempty"`
	Others     *tableText      `json:"others"`
	Apart      []string        `json:"apart"`           // how far apart the definitions lie
	Trust      string          `json:"trust,omitempty"` // what shakes all this
	Doubts     []string        `json:"doubts"`
	Picture    *picture        `json:"picture,omitempty"`
	Next       *planned        `json:"next,omitempty"`
	Confidence string          `json:"confidence"`
}

// tableText is a table of the library.
type tableText struct {
	Caption string     `json:"caption"`
	Head    []string   `json:"head"`
	Rows    [][]string `json:"rows"`
	Notes   []string   `json:"notes,omitempty"`
}

// shown takes the first columns of a table, or all if columns is zero.
func shown(t table.Table, caption string, columns int) *tableText {
	out := &tableText{Caption: caption, Rows: [][]string{}, Notes: t.Notes}
	for i, c := range t.Head {
		if columns == 0 || i < columns {
			out.Head = append(out.Head, c.Name)
		}
	}
	for _, r := range t.Rows {
		out.Rows = append(out.Rows, r[:min(len(r), len(out.Head))])
	}
	return out
}

func (q Request) result(records []protocol.Record) (any, error) {
	i, err := q.find(records)
	if err != nil {
		return nil, err
	}
	w, err := work(records[i])
	if err != nil {
		return nil, err
	}
	r := result{
		Swimmer: w.record.Swimmer, Day: table.Day(w.record.Date), Unit: w.record.Pool.Per100().String(),
		Thresholds: w.thresholds(), Doubts: w.warned(),
		Confidence: fmt.Sprintf("%.0f %%", 100*w.analysis.Confidence),
	}
	tables := table.Thresholds(w.analysis, command.Tables(w.record.Pool))
	r.Apart, r.Trust = tables[0].Notes, w.trust()
	r.Others = shown(tables[1], "By other definitions", 0)
	if w.zones != nil {
		r.Zones = shown(w.zones.Table(w.record.Pool), "Zones", 4)
		r.Zones.Notes = nil
	}
	if p, err := w.record.NextTest(w.analysis); err == nil {
		r.Next = &planned{Day: table.Day(p.Date), Repeats: testOf(p.Record()).Repeats, Unit: r.Unit, Cautions: protocol.Cautions()}
	}
	o := chart.Options{Title: r.Swimmer, Subtitle: command.Invented(r.Day, q.Invented), Pool: w.record.Pool}
	if w.zones != nil {
		for _, z := range w.zones.Zones {
			o.Zones = append(o.Zones, chart.Zone{Name: "zone " + z.Name, From: z.From.Speed.MetresPerSecond(), To: z.To.Speed.MetresPerSecond()})
		}
	}
	r.Picture, err = q.draw(o, func(o chart.Options) (*chart.Picture, error) { return chart.OneTest(w.analysis, o) })
	return r, err
}

// draw draws on both grounds, for a phone or a wide screen.
func (q Request) draw(o chart.Options, of func(chart.Options) (*chart.Picture, error)) (*picture, error) {
	o.Width = 16 * vg.Centimeter
	if q.Narrow {
		o.Width = 9 * vg.Centimeter
	}
	light, err := of(o)
	if err != nil {
		return nil, err
	}
	o.Dark = true
	dark, err := of(o)
	if err != nil {
		return nil, err
	}
	return &picture{light.SVG(), dark.SVG(), light.Alt()}, nil
}

// split parts "1:24.1 (1:24.7 to 1:23.4)".
func split(s string) (value, within string) {
	value, within, _ = strings.Cut(s, " (")
	return value, strings.TrimSuffix(within, ")")
}

// verdict is an answer about several tests.
type verdict struct {
	Swimmer string       `json:"swimmer"`
	Tests   string       `json:"tests"`
	Answer  string       `json:"answer"`
	Lines   []string     `json:"lines"`
	Tables  []*tableText `json:"tables"`
	Doubts  []string     `json:"doubts"`
	Again   []string     `json:"again,omitempty"` // cautions, if another test is proposed
	Picture *picture     `json:"picture,omitempty"`
}

// two works out the two tests to compare: the one asked for, or the latest, and the one
// before it.
func (q Request) two(records []protocol.Record) (before, after *worked, err error) {
	tests := of(records, q.Swimmer)
	for len(tests) > 2 && q.Date != "" && tests[len(tests)-1].Date.Format(time.DateOnly) > q.Date {
		tests = tests[:len(tests)-1]
	}
	n := len(tests)
	if n < 2 {
		return nil, nil, fmt.Errorf("found %d of two tests of %s with a curve: plan the next one, swim it, and the answer is here", n, q.Swimmer)
	}
	if before, err = work(tests[n-2]); err != nil {
		return nil, nil, err
	}
	after, err = work(tests[n-1])
	return before, after, err
}

func (q Request) retest(records []protocol.Record) (any, error) {
	before, after, err := q.two(records)
	if err != nil {
		return nil, err
	}
	c, err := compare(before, after)
	if err != nil {
		return nil, err
	}
	a, b := table.Day(before.record.Date), table.Day(after.record.Date)
	days := command.DaysBetween(before.record, after.record)
	v := verdict{Swimmer: q.Swimmer, Tests: fmt.Sprintf("%s and %s, %d days apart", a, b, days), Doubts: c.doubts()}
	to := command.Tables(after.record.Pool)
	v.Answer = table.Answer(c.change, to)
	for _, d := range protocol.Differences(before.record, after.record) {
		v.Lines = append(v.Lines, "But "+d.String()+".")
	}
	v.Lines = append(v.Lines, "If all days were alike, which they are not: "+table.Alone(c.change, to)+".")
	if c.change.TestAgain() {
		v.Again = protocol.Cautions()
	}
	tables := table.Change(c.change, to)
	v.Tables = []*tableText{
		shown(tables[1], "The thresholds, each test read on its own curve", 0),
		shown(tables[2], "Lactate and heart rate at the same speed", 0),
		shown(tables[0], "By measurement alone, and with days that differ", 0),
	}
	o := chart.Options{
		Title: q.Swimmer, Subtitle: command.Invented(fmt.Sprintf("two tests, %d days apart", days), q.Invented),
		Pool: after.record.Pool, Before: a, After: b,
	}
	v.Picture, err = q.draw(o, func(o chart.Options) (*chart.Picture, error) {
		return chart.TwoTests(c.change, o)
	})
	return v, err
}

func (q Request) season(records []protocol.Record) (any, error) {
	tests := of(records, q.Swimmer)
	if len(tests) < 2 {
		return nil, fmt.Errorf("found %d of two or more tests of %s with a curve", len(tests), q.Swimmer)
	}
	var all []*worked
	for _, r := range tests {
		w, err := work(r)
		if err != nil {
			return nil, err
		}
		all = append(all, w)
	}
	s, err := follow(all)
	if err != nil {
		return nil, err
	}
	last := tests[len(tests)-1]
	v := verdict{Swimmer: q.Swimmer, Tests: fmt.Sprintf("%d tests from %s to %s", len(tests), table.Day(tests[0].Date), table.Day(last.Date)), Doubts: []string{}}
	to := command.Tables(last.Pool)
	v.Answer, v.Lines = table.Trend(s, to), []string{}
	v.Tables = []*tableText{shown(table.Season(s, to)[0], "Test by test", 0)}
	var d command.Doubts
	d.AddWarningsOfTests(tests, s.Warnings...)
	v.Doubts = append(v.Doubts, d.Doubts...)
	if len(tests) < 4 {
		v.Doubts = append(v.Doubts, fmt.Sprintf("a trend through %d tests rests on each of them", len(tests)))
	}
	o := chart.Options{Title: q.Swimmer, Subtitle: command.Invented(fmt.Sprintf("%d tests", len(tests)), q.Invented), Pool: last.Pool}
	v.Picture, err = q.draw(o, func(o chart.Options) (*chart.Picture, error) { return chart.Season(s, o) })
	return v, err
}

// squad is a line for each swimmer, of the latest test that has a result.
func (q Request) squad(records []protocol.Record) (any, error) {
	if len(records) == 0 {
		return nil, errors.New("found no test on the sheet")
	}
	var members []table.Member
	for _, tests := range protocol.BySwimmer(records) {
		last := tests[len(tests)-1]
		m := table.Member{Name: last.Swimmer, Date: last.Date, Problem: "no result yet"}
		if ready := of(records, last.Swimmer); len(ready) > 0 {
			m = member(ready[max(0, len(ready)-2):])
		}
		members = append(members, m)
	}
	return shown(table.Squad(members, command.Tables(records[len(records)-1].Pool)), "The latest result of each", 0), nil
}
