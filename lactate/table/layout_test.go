package table_test

import (
	"errors"
	"math"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// byHand are results with round numbers: 1.25 m/s is 1:20.0 per 100 m, 1.2 is 1:23.3, 1.3
// is 1:16.9, 1.6 is 1:02.5.
func byHand() (*lactate.Analysis, *lactate.Change, *lactate.Season) {
	nan := math.NaN()
	alone := func(v float64) lactate.Estimate { return lactate.Estimate{Value: v, Low: nan, High: nan} }
	a := &lactate.Analysis{
		LT1:    lactate.Threshold{Method: lactate.AboveBaseline{Rise: 0.5}, Intensity: lactate.Estimate{Value: 1.25, Low: 1.2, High: 1.3}, Lactate: alone(1.6), HeartRate: lactate.Estimate{Value: 140, Low: 135, High: 146}},
		LT2:    lactate.Threshold{Method: lactate.Fixed{Lactate: 4}, Intensity: lactate.Estimate{Value: 1.6, Low: 1.3, High: math.Inf(1)}, Lactate: alone(4), HeartRate: alone(nan)},
		Lowest: 1.1, Highest: 1.7, Confidence: 0.9,
	}
	a.Thresholds = []lactate.Threshold{{Method: lactate.MaxDistance{}, Err: errors.New("lactate: no bend, all told.")}, a.LT1, a.LT2, {Method: lactate.AboveBaseline{Rise: 1.5}, Intensity: alone(1.3), Lactate: alone(2.6), HeartRate: alone(nan)}}
	judged := func(shift, se, p float64, g lactate.Grade) lactate.Judgement {
		return lactate.Judgement{Shift: lactate.Estimate{Value: shift, Low: shift - se, High: shift + se}, StandardError: se, Probability: p, Detectable: 0.0625, Grade: g}
	}
	c := &lactate.Change{Before: a, After: a, Reference: 1.25, Confidence: 0.9, Power: 0.8,
		Measured: judged(0.3125, 0.05, 0.9998, lactate.Faster), BetweenDays: judged(0.3125, 0.4, 0.78, lactate.ProbablyFaster),
		Thresholds: []lactate.ThresholdChange{
			{Method: lactate.Fixed{Lactate: 3}, Before: alone(1.25), After: alone(1.6), Change: lactate.Estimate{Value: 0.35, Low: 0.1, High: math.Inf(1)}},
			{Method: lactate.Fixed{Lactate: 4}, Err: errors.New("lactate: too little")},
			{Method: lactate.Fixed{Lactate: 2}, Before: alone(1.2), After: alone(1.25), Change: alone(0.05)},
			{Method: lactate.Fixed{Lactate: 4}, Err: errors.New("lactate: said before")},
		},
		Levels: []lactate.LevelChange{{Intensity: 1.25, LactateBefore: alone(2.04), LactateAfter: alone(1.5), LactateChange: lactate.Estimate{Value: -0.54, Low: -0.96, High: 0.04}, HeartRateBefore: 140.4, HeartRateAfter: 138.2, HeartRateChange: -2.2},
			{Intensity: 1.6, LactateBefore: alone(4), LactateAfter: alone(nan), LactateChange: alone(nan), HeartRateBefore: 150, HeartRateAfter: nan, HeartRateChange: nan}},
	}
	day := time.Date(2025, 3, 1, 0, 0, 0, 0, time.UTC)
	s := &lactate.Season{Reference: 1.25, Confidence: 0.9, Power: 0.8, Trend: judged(0.02, 0.01, 0.995, lactate.Faster), Tests: []lactate.SeasonTest{
		{Date: day, Analysis: a},
		{Date: day.AddDate(0, 0, 28), Analysis: a, Measured: c.Measured, BetweenDays: c.BetweenDays},
		{Date: day.AddDate(0, 0, 56), Analysis: &lactate.Analysis{LT2: lactate.Threshold{Err: errors.New("none")}}, Measured: judged(-0.05, 0.02, 0.005, lactate.Slower), BetweenDays: judged(-0.05, 0.04, 0.005, lactate.Slower)},
	}}
	return a, c, s
}

// E, of the layout, with numbers that are worked out by hand: what each table says, to the
// letter.
func TestRegressLayout(t *testing.T) {
	a, c, s := byHand()
	scm, plain := table.Options{Pool: pace.SCM()}, table.Options{Unit: "W"}
	stages := lactate.Test{Rest: 0.9, Stages: []lactate.Stage{{Intensity: 1.6, Lactate: 4, HeartRate: 170, Duration: 50 * time.Second}, {Intensity: 1.25, HeartRate: 140}},
		Recovery: []lactate.RecoverySample{{After: time.Minute, Lactate: 8}, {After: 3 * time.Minute, Lactate: 9.1}}}
	th := func(v float64) lactate.Threshold {
		return lactate.Threshold{Method: lactate.Fixed{Lactate: 4}, Intensity: lactate.Estimate{Value: v, Low: math.NaN(), High: math.NaN()}}
	}
	in := &lactate.Influences{LeftOut: []int{0, 2}, LT1: lactate.Influenced{Whole: th(1.25), Without: []lactate.Threshold{th(1.2), {Err: errors.New("none")}}, Most: 0},
		LT2: lactate.Influenced{Whole: th(1.6), Without: []lactate.Threshold{th(1.6), th(1.3)}, Most: 1}}
	alike := *in
	alike.LT2 = alike.LT1
	panel := &lactate.Panel{Curves: []lactate.PanelCurve{{Name: "a", Analysis: a}, {Name: "b", Err: errors.New("no fit")}}, Rows: []lactate.PanelRow{
		{Definition: lactate.Definition{Method: lactate.Fixed{Lactate: 4}, Target: lactate.SecondThreshold, OnCurve: true, Source: "Mader", Year: 1976, Attested: lactate.AttestedMemory}, Cells: []lactate.Threshold{th(1.6), {Err: errors.New("no fit")}}},
		{Definition: lactate.Definition{Method: lactate.LogLog{}, Source: "Beaver"}, Cells: []lactate.Threshold{th(1.25)}}}}
	narrow := &lactate.Panel{Curves: []lactate.PanelCurve{{Name: "a", Analysis: &lactate.Analysis{Lowest: 1.2, Highest: 1.3}}, panel.Curves[1]}, Rows: panel.Rows}
	mixed := table.Table{Caption: "c <1>", Head: []table.Column{{Name: "name"}, {Name: "n", Number: true}}, Rows: [][]string{{"a & b", "1"}, {"short"}}, Notes: []string{"note"}}
	long := table.Table{Notes: []string{"A note that is longer than a line of ninety-eight columns has to be broken into two of them, so it is."}}
	for name, got := range map[string]string{
		"influence": table.Influence(in, scm).String(), "influence in watts": table.Influence(in, plain).String(), "one column": table.Table{Head: mixed.Head[:1]}.Markdown(), "sheet": table.SquadSheet([]table.Member{{Name: "Ann", Date: s.Tests[0].Date, Analysis: a, Change: c}}, scm).CSV(),
		"influence of one": table.Influence(&alike, plain).String(), "panel": table.SideBySide(panel, scm).String(), "panel in watts": table.SideBySide(narrow, plain).String(),
		"html": mixed.HTML(), "markdown": mixed.Markdown(), "csv": mixed.CSV(), "text": mixed.String(), "long": long.String(), "nothing": table.Table{}.String(),
		"squad in watts": table.Squad([]table.Member{{Name: "Ann", Analysis: a, Change: c}}, plain).String(), "empty season": table.Season(&lactate.Season{}, scm).String(), "no season": table.Season(nil, scm).String(),
		"pace": table.Pace(a.LT1.Intensity, 100), "no interval": table.Pace(th(1.25).Intensity, 100), "no definition": table.Threshold(lactate.Threshold{}, scm),
		"thresholds": table.Thresholds(a, scm).String(), "thresholds in watts": table.Thresholds(a, plain).String(),
		"change": table.Change(c, scm).String(), "change in watts": table.Change(c, plain).String(), "season": table.Season(s, scm).String(),
		"stages": table.Stages(stages, table.Options{Pool: pace.SCM(), Noun: "repeat", Numbers: []int{2, 1}}).String(), "stages in watts": table.Stages(stages, plain).String(),
		"squad": table.Squad([]table.Member{{Name: "Ann", Date: s.Tests[0].Date, Analysis: a, Change: c}, {Name: "Bo", Problem: "too few"}}, scm).String(),
		"line":  table.Threshold(a.LT1, scm), "line in watts": table.Threshold(a.LT1, plain), "open line": table.Threshold(a.LT2, scm), "no line": table.Threshold(a.Thresholds[0], scm),
	} {
		if want := layouts[name]; got != want {
			t.Errorf("%s: got\n%s\nwant\n%s", name, got, want)
		}
	}
}
