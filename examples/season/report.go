package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
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
	weeksToNext = 6     // common practice: six to eight
)

// report is what is said about every swimmer. Every quantity has its unit in
// the name of its field.
type report struct {
	Confidence  float64   `json:"interval_confidence"`
	FalseAlarms float64   `json:"false_alarms"`
	Power       float64   `json:"power"`
	DayToDay    float64   `json:"day_to_day_percent"`
	Seasons     []*season `json:"seasons"`
}

type season struct {
	Swimmer  string    `json:"swimmer"`
	Tests    []test    `json:"tests"`
	At       float64   `json:"reference_speed_m_per_s"` // where shifts are turned into paces
	Trend    trend     `json:"trend"`
	Next     *expected `json:"next_test,omitempty"`
	Cautions []string  `json:"cautions"`
	pool     pace.Pool // of the latest test
	fit      *lactate.Season
}

type estimate = lactate.Estimate

// test is one test, and its shift from the first.
type test struct {
	Date     string    `json:"date"`
	Pool     string    `json:"pool"`
	LT1      *estimate `json:"lt1_m_per_s,omitempty"`
	LT2      *estimate `json:"lt2_m_per_s,omitempty"`
	Shift    *estimate `json:"shift_m_per_s,omitempty"` // missing in the first test
	Per100Yd *estimate `json:"gain_s_per_100_yd,omitempty"`
	Per100M  *estimate `json:"gain_s_per_100_m,omitempty"`
	Measured string    `json:"by_measurement_error,omitempty"`
	Between  string    `json:"by_measurement_error_and_day_to_day,omitempty"`
}

// trend is the shift per four weeks along a straight line. Its interval holds
// measurement error and the swimmer's days.
type trend struct {
	Verdict       string   `json:"verdict"`
	Shift         estimate `json:"shift_m_per_s_per_four_weeks"`
	Per100Yd      estimate `json:"gain_s_per_100_yd_per_four_weeks"`
	Per100M       estimate `json:"gain_s_per_100_m_per_four_weeks"`
	PValue        float64  `json:"p_value"`
	Detectable    float64  `json:"smallest_detectable_shift_m_per_s_per_four_weeks"`
	DetectableYd  float64  `json:"smallest_detectable_gain_s_per_100_yd_per_four_weeks"`
	DetectablePer float64  `json:"smallest_detectable_gain_s_per_100_m_per_four_weeks"`
}

// expected is where the next test is to be expected if the trend goes on.
type expected struct {
	Date     string   `json:"date"`
	Shift    estimate `json:"shift_m_per_s"` // from the first test
	Speed    estimate `json:"speed_m_per_s"` // that the reference speed has become
	Per100Yd estimate `json:"pace_s_per_100_yd"`
	Per100M  estimate `json:"pace_s_per_100_m"`
}

// reportOn follows each swimmer who has two tests or more.
func reportOn(records []protocol.Record) (command.Report, error) {
	r := &report{
		Confidence: confidence, FalseAlarms: falseAlarms, Power: power, DayToDay: 100 * dayToDay,
		Seasons: []*season{},
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
		s, err := follow(tests[name])
		if err != nil {
			errs = append(errs, err)
		}
		if s != nil {
			r.Seasons = append(r.Seasons, s)
		}
	}
	return r, errors.Join(errs...)
}

// follow makes one joint fit of a swimmer's tests. A test that has no curve is
// left out, and is in the error; one that waits for its samples is noted.
func follow(records []protocol.Record) (*season, error) {
	swimmer := records[0].Swimmer
	slices.SortStableFunc(records, func(a, b protocol.Record) int { return a.Date.Compare(b.Date) })
	options := lactate.Options{
		Confidence: confidence, Resamples: resamples, Seed: seed,
		FalseAlarms: falseAlarms, Power: power, DayToDay: dayToDay,
	}
	var errs []error
	var used []protocol.Record
	var dated []lactate.Dated
	ready, notes := command.Ready(records)
	for _, rec := range ready {
		// Faults of the rows are reported with the sheet; what stands is used.
		t, _ := rec.Test()
		if _, err := lactate.Analyze(t, lactate.Options{}); err != nil {
			errs = append(errs, fmt.Errorf("season: %s: %w", command.Whose(rec), command.InWords(err)))
			continue
		}
		used, dated = append(used, rec), append(dated, lactate.Dated{Date: rec.Date, Test: t})
	}
	if len(dated) < 2 {
		found := "no test with a curve"
		if len(dated) == 1 {
			found = "one test with a curve, of " + used[0].Date.Format(time.DateOnly)
		}
		for _, rec := range records {
			if why := command.Pending(rec); why != "" {
				errs = append(errs, fmt.Errorf("season: %s: %s", command.Whose(rec), why))
			}
		}
		return nil, errors.Join(append(errs, fmt.Errorf("season: %s: found %s, expected two or more", swimmer, found))...)
	}
	fit, err := lactate.FollowSeason(dated, options)
	if err != nil {
		return nil, errors.Join(append(errs, fmt.Errorf("season: %s, %d tests to %s: %w", swimmer, len(used), used[len(used)-1].Date.Format(time.DateOnly), command.InWords(err)))...)
	}

	last := used[len(used)-1]
	s := &season{Swimmer: last.Swimmer, At: fit.Reference, pool: last.Pool, fit: fit, Cautions: []string{}}
	for i, st := range fit.Tests {
		s.Tests = append(s.Tests, s.testOf(st, used[i], i == 0))
	}
	gain := func(e estimate, per pace.Length) estimate { return command.Gain(e, s.At, per) }
	least := estimate{Value: fit.Trend.Detectable, Low: math.NaN(), High: math.NaN()}
	s.Trend = trend{
		Verdict: fit.Trend.Verdict.String(),
		Shift:   fit.Trend.Shift, Per100Yd: gain(fit.Trend.Shift, 100*pace.Yard), Per100M: gain(fit.Trend.Shift, 100*pace.Metre),
		PValue:     fit.Trend.PValue,
		Detectable: fit.Trend.Detectable, DetectableYd: gain(least, 100*pace.Yard).Value, DetectablePer: gain(least, 100*pace.Metre).Value,
	}

	next := last.Next
	if next.IsZero() {
		next = last.Date.AddDate(0, 0, 7*weeksToNext)
	}
	if e, err := fit.Expected(next); err != nil {
		errs = append(errs, fmt.Errorf("season: %s, next test of %s: %w", swimmer, next.Format(time.DateOnly), command.InWords(err)))
	} else {
		v := estimate{Value: s.At + e.Value, Low: s.At + e.Low, High: s.At + e.High}
		s.Next = &expected{
			Date: next.Format(time.DateOnly), Shift: e, Speed: v,
			Per100Yd: command.Paces(v, 100*pace.Yard), Per100M: command.Paces(v, 100*pace.Metre),
		}
	}
	s.addCautions(used, fit)
	s.Cautions = append(s.Cautions, notes...)
	return s, errors.Join(errs...)
}

func (s *season) testOf(st lactate.SeasonTest, rec protocol.Record, first bool) test {
	out := test{Date: st.Date.Format(time.DateOnly), Pool: rec.Pool.String()}
	if th := st.Analysis.LT1; th.Err == nil {
		out.LT1 = &th.Intensity
	}
	if th := st.Analysis.LT2; th.Err == nil {
		out.LT2 = &th.Intensity
	}
	if first {
		return out
	}
	yd, m := command.Gain(st.Measured.Shift, s.At, 100*pace.Yard), command.Gain(st.Measured.Shift, s.At, 100*pace.Metre)
	out.Shift, out.Per100Yd, out.Per100M = &st.Measured.Shift, &yd, &m
	out.Measured, out.Between = st.Measured.Verdict.String(), st.BetweenDays.Verdict.String()
	return out
}

func (s *season) addCautions(used []protocol.Record, fit *lactate.Season) {
	caution := func(format string, args ...any) { s.Cautions = append(s.Cautions, fmt.Sprintf(format, args...)) }
	var pools []string
	for _, rec := range used {
		if p := rec.Pool.String(); !slices.Contains(pools, p) {
			pools = append(pools, p)
		}
	}
	if n := len(pools); n > 1 {
		caution("the pools differ, %s: speeds are compared, and a shorter pool is faster by its turns, so that part of a shift may be the pool's",
			strings.Join(pools[:n-1], ", ")+" and "+pools[n-1])
	}
	for _, w := range fit.Warnings {
		caution("%s", command.OfRepeats(w, used[0]))
	}
	for i, st := range fit.Tests {
		day := command.Day(st.Date)
		if note := command.Faults(used[i]); note != "" {
			caution("%s: %s", day, note)
		}
		for _, w := range st.Analysis.Warnings {
			caution("%s: %s", day, command.OfRepeats(w, used[i]))
		}
	}
	if len(used) < 4 {
		caution("a trend through %d tests rests on each of them", len(used))
	}
}
