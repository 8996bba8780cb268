package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// What the numbers of a report rest on.
const (
	confidence  = 0.90
	resamples   = 2000
	seed        = 1
	falseAlarms = 0.05
	power       = 0.80
	dayToDay    = 0.008 // of a speed: lactate.Options says whose
)

// report is what is said about every swimmer. Every quantity has its unit in
// the name of its field.
type report struct {
	Confidence  float64       `json:"interval_confidence"`
	FalseAlarms float64       `json:"false_alarms"`
	Power       float64       `json:"power"`
	DayToDay    float64       `json:"day_to_day_percent"`
	Comparisons []*comparison `json:"comparisons"`
}

type comparison struct {
	Swimmer  string    `json:"swimmer"`
	Before   test      `json:"before"`
	After    test      `json:"after"`
	Days     int       `json:"days_between"`
	Answer   string    `json:"answer"` // of both judgements
	But      []string  `json:"but"`    // what can undo it
	Measured judgement `json:"by_measurement_error"`
	Between  judgement `json:"by_measurement_error_and_day_to_day"`
	Percent  estimate  `json:"shift_percent"`
	At       float64   `json:"reference_speed_m_per_s"` // where shifts are turned into paces
	Changes  []change  `json:"thresholds"`
	Levels   []level   `json:"at_the_same_speed"`
	Shape    shape     `json:"shape"`
	Cautions []string  `json:"cautions"`
	pool     pace.Pool // of the later test
	drawing  drawing
}

type estimate = lactate.Estimate

type test struct {
	Date string `json:"date"`
	Pool string `json:"pool"`
}

// judgement is a shift and what to make of it.
type judgement struct {
	Verdict         string   `json:"verdict"`
	Shift           estimate `json:"shift_m_per_s"` // above zero: to the right, faster
	Per100Yd        estimate `json:"gain_s_per_100_yd"`
	Per100M         estimate `json:"gain_s_per_100_m"`
	PValue          float64  `json:"p_value"`
	Detectable      float64  `json:"smallest_detectable_shift_m_per_s"`
	DetectablePer   float64  `json:"smallest_detectable_gain_s_per_100_yd"`
	DetectablePer1M float64  `json:"smallest_detectable_gain_s_per_100_m"`
}

// change is what became of one threshold.
type change struct {
	Method   string    `json:"method"`
	Taken    string    `json:"taken_for,omitempty"` // LT1 or LT2
	Before   *estimate `json:"before_m_per_s,omitempty"`
	After    *estimate `json:"after_m_per_s,omitempty"`
	Change   *estimate `json:"change_m_per_s,omitempty"`
	Per100Yd *estimate `json:"gain_s_per_100_yd,omitempty"`
	Per100M  *estimate `json:"gain_s_per_100_m,omitempty"`
	Problem  string    `json:"problem,omitempty"`
}

// level is what became of lactate and heart rate at one speed.
type level struct {
	Speed           float64  `json:"speed_m_per_s"`
	LactateBefore   estimate `json:"lactate_before_mmol_per_l"`
	LactateAfter    estimate `json:"lactate_after_mmol_per_l"`
	LactateChange   estimate `json:"lactate_change_mmol_per_l"`
	HeartRateBefore *float64 `json:"heart_rate_before_per_min,omitempty"`
	HeartRateAfter  *float64 `json:"heart_rate_after_per_min,omitempty"`
}

// shape asks whether a shift alone describes the change.
type shape struct {
	Changed bool     `json:"changed"`
	PValue  *float64 `json:"p_value,omitempty"` // missing where there are too few repeats to tell
}

// reportOn compares the two latest tests of each swimmer.
func reportOn(records []protocol.Record) (command.Report, error) {
	r := &report{
		Confidence: confidence, FalseAlarms: falseAlarms, Power: power, DayToDay: 100 * dayToDay,
		Comparisons: []*comparison{},
	}
	var names []string
	tests := map[string][]protocol.Record{}
	for _, rec := range records {
		if tests[rec.Swimmer] == nil {
			names = append(names, rec.Swimmer)
		}
		tests[rec.Swimmer] = append(tests[rec.Swimmer], rec)
	}
	var errs []error
	for _, name := range names {
		all, notes := command.Ready(tests[name])
		slices.SortStableFunc(all, func(a, b protocol.Record) int { return a.Date.Compare(b.Date) })
		if len(all) < 2 {
			errs = append(errs, fmt.Errorf("retest: %s", tooFew(name, all, tests[name])))
			continue
		}
		c, err := compare(all[len(all)-2], all[len(all)-1])
		if err != nil {
			errs = append(errs, err)
			continue
		}
		if n := len(all); n > 2 {
			c.Cautions = append(c.Cautions, fmt.Sprintf("earlier tests are left out here: %d; examples/season takes them all", n-2))
		}
		c.Cautions = append(c.Cautions, notes...)
		r.Comparisons = append(r.Comparisons, c)
	}
	return r, errors.Join(errs...)
}

// tooFew says which tests of a swimmer there are, where two are not left.
func tooFew(name string, ready, all []protocol.Record) string {
	found := "no test"
	if len(ready) == 1 {
		found = "one test, of " + ready[0].Date.Format(time.DateOnly)
	}
	text := fmt.Sprintf("%s: found %s, expected two to compare", name, found)
	for _, rec := range all {
		if why := command.Pending(rec); why != "" {
			text += fmt.Sprintf("; %s: %s", rec.Date.Format(time.DateOnly), why)
		}
	}
	return text
}

// compare compares two tests of one swimmer. The error names both, or those that
// have no curve.
func compare(before, after protocol.Record) (*comparison, error) {
	c := &comparison{
		Swimmer: after.Swimmer,
		Before:  test{before.Date.Format(time.DateOnly), before.Pool.String()},
		After:   test{after.Date.Format(time.DateOnly), after.Pool.String()},
		Days:    int(math.Round(after.Date.Sub(before.Date).Hours() / 24)),
		pool:    after.Pool, But: []string{}, Cautions: []string{},
	}
	caution := func(format string, args ...any) { c.Cautions = append(c.Cautions, fmt.Sprintf(format, args...)) }
	// Faults of the rows are reported with the sheet; what stands is compared.
	first, _ := before.Test()
	second, _ := after.Test()
	var errs []error
	for _, t := range []struct {
		rec  protocol.Record
		test lactate.Test
	}{{before, first}, {after, second}} {
		if _, err := lactate.Analyze(t.test, lactate.Options{}); err != nil {
			errs = append(errs, fmt.Errorf("retest: %s: %w", command.Whose(t.rec), command.InWords(err)))
		}
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	change, err := lactate.Compare(first, second, lactate.Options{
		Confidence: confidence, Resamples: resamples, Seed: seed,
		FalseAlarms: falseAlarms, Power: power, DayToDay: dayToDay,
	})
	if err != nil {
		return nil, fmt.Errorf("retest: %s and %s: %w", command.Whose(before), after.Date.Format(time.DateOnly), command.InWords(err))
	}
	c.drawing = drawing{before, after, first, second, change}
	c.At = change.Reference
	c.Measured = judge(change.Measured, c.At)
	c.Between = judge(change.BetweenDays, c.At)
	c.Percent = change.Percent()
	c.Shape.Changed = change.Shape.Changed
	if p := change.Shape.PValue; !math.IsNaN(p) {
		c.Shape.PValue = &p
	}
	for _, tc := range change.Thresholds[2:] { // LT1 and LT2 are among the methods
		ch := changeOf(tc)
		switch tc.Method {
		case change.Before.LT1.Method:
			ch.Taken = "LT1"
		case change.Before.LT2.Method:
			ch.Taken = "LT2"
		}
		c.Changes = append(c.Changes, ch)
	}
	for _, l := range change.Levels {
		c.Levels = append(c.Levels, levelOf(l))
	}

	c.Answer = answer(change)
	if before.Pool != after.Pool {
		c.But = append(c.But, fmt.Sprintf("the pools differ, %v and %v: speeds are compared, and a shorter pool is faster by its turns, "+
			"so that the pool may feign a shift, or hide one", before.Pool, after.Pool))
	}
	if d, e := longest(before), longest(after); d != e {
		caution("the repeats differ, %v and %v: longer ones gather more lactate at the same speed", d, e)
	}
	for _, w := range change.Warnings {
		if w.Kind == lactate.ShapeChanged {
			c.But = append(c.But, command.OfRepeats(w, after))
			continue
		}
		caution("%s", command.OfRepeats(w, after))
	}
	for _, t := range []struct {
		rec protocol.Record
		a   *lactate.Analysis
	}{{before, change.Before}, {after, change.After}} {
		day := command.Day(t.rec.Date)
		if note := command.Faults(t.rec); note != "" {
			caution("%s: %s", day, note)
		}
		for _, w := range t.a.Warnings {
			caution("%s: %s", day, command.OfRepeats(w, t.rec))
		}
	}
	return c, nil
}

// answer weighs both judgements: whether the two curves differ, and whether the
// swimmer has changed by more than two days may differ.
func answer(c *lactate.Change) string {
	side := "right: more speed at the same lactate"
	if c.Shift.Value < 0 {
		side = "left: less speed at the same lactate"
	}
	measured, between := c.Measured.Verdict != lactate.NoChangeSeen, c.BetweenDays.Verdict != lactate.NoChangeSeen
	switch {
	case measured && between:
		return "Yes, to the " + side + ", by more than two days may differ."
	case measured:
		return "The two curves differ, but by no more than two days may. The later lies to the " + side + "."
	case between:
		// The noise of the days is stated, that of the samples is learnt from
		// few of them: seldom, the sum is the surer of the two.
		return "Perhaps, to the " + side + ", but these samples alone do not show it."
	}
	return "Not that these two tests could see."
}

func longest(rec protocol.Record) pace.Length {
	var d pace.Length
	for _, rep := range rec.Repeats {
		d = max(d, rep.Distance)
	}
	return d
}

func judge(j lactate.Judgement, at float64) judgement {
	gain := func(e estimate, per pace.Length) estimate { return command.Gain(e, at, per) }
	least := estimate{Value: j.Detectable, Low: math.NaN(), High: math.NaN()}
	return judgement{
		Verdict: j.Verdict.String(),
		Shift:   j.Shift, Per100Yd: gain(j.Shift, 100*pace.Yard), Per100M: gain(j.Shift, 100*pace.Metre),
		PValue:     j.PValue,
		Detectable: j.Detectable, DetectablePer: gain(least, 100*pace.Yard).Value, DetectablePer1M: gain(least, 100*pace.Metre).Value,
	}
}

func changeOf(tc lactate.ThresholdChange) change {
	out := change{Method: tc.Method.String()}
	if tc.Err != nil {
		out.Problem = command.InWords(tc.Err).Error()
		return out
	}
	yd := command.Gain(tc.Change, tc.Before.Value, 100*pace.Yard)
	m := command.Gain(tc.Change, tc.Before.Value, 100*pace.Metre)
	out.Before, out.After, out.Change, out.Per100Yd, out.Per100M = &tc.Before, &tc.After, &tc.Change, &yd, &m
	return out
}

func levelOf(l lactate.LevelChange) level {
	out := level{Speed: l.Intensity, LactateBefore: l.LactateBefore, LactateAfter: l.LactateAfter, LactateChange: l.LactateChange}
	if !math.IsNaN(l.HeartRateBefore) {
		out.HeartRateBefore = &l.HeartRateBefore
	}
	if !math.IsNaN(l.HeartRateAfter) {
		out.HeartRateAfter = &l.HeartRateAfter
	}
	return out
}
