package main

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/technique"
	"example.com/steptest/zones"
)

// weeksToNext is six weeks, unless the sheet names the day: six to eight are
// common practice.
const weeksToNext = 6

// report is what the library says of one test. What cannot be worked out is nil,
// and a doubt says why.
type report struct {
	Record      protocol.Record    `json:"record"`
	Analysis    *lactate.Analysis  `json:"analysis,omitempty"`
	Definitions *lactate.Panel     `json:"definitions,omitempty"` // by several, on several curves
	Zones       *zones.Table       `json:"zones,omitempty"`
	Technique   *technique.Profile `json:"technique,omitempty"`
	Next        *protocol.Plan     `json:"next_test,omitempty"`
	Problem     string             `json:"problem,omitempty"` // why there is no analysis

	command.Doubts

	test lactate.Test
}

// reportOn works a test out.
func reportOn(tests []protocol.Record) (command.Report, error) {
	r := &report{Record: tests[0]}
	if err := r.work(); err != nil {
		r.Problem = err.Error()
		return r, fmt.Errorf("steptest: %s: %w", command.Whose(r.Record), err)
	}
	return r, nil
}

// work fills the report. The error says why there are no thresholds.
func (r *report) work() error {
	rec := r.Record
	if note := command.Faults(rec); note != "" {
		r.Add("%s", note)
	}
	// Faults of the rows are reported with the sheet; the rest stands.
	test, err := rec.Partial()
	if errors.Is(err, protocol.ErrNoRepeats) {
		if len(rec.Faults) > 0 {
			return errors.New("no repeat could be read")
		}
		return errors.New("no repeat was swum")
	}
	r.test = test
	for _, w := range rec.Review() {
		r.Add("%v", w)
	}
	a, err := lactate.Analyze(test, command.Options())
	if err != nil {
		return command.InWords(err)
	}
	r.Analysis = a
	for _, w := range a.Warnings {
		if w.Kind != lactate.WarnLostSamples && w.Kind != lactate.WarnFewStages { // the review says these
			r.Of(rec, "", w)
		}
	}
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
		if th.Err != nil {
			r.Add("no LT%d: %v", i+1, command.InWords(th.Err))
		} else if n := th.Failed - th.Beyond; n > 0 { // those beyond the range are in it
			r.Add("%d of %d simulated tests gave no LT%d; its interval is of the others", n, command.Options().Resamples, i+1)
		}
	}
	if r.Definitions, err = lactate.SideBySide(test, lactate.SideBySideOptions{Definitions: usual()}); err != nil {
		r.Add("no other definitions: %v", command.InWords(err))
	} else {
		r.compareCurves()
	}
	if err := r.zone(); err != nil {
		r.Add("no zones: %v", command.InWords(err))
	}
	if a.LT2.Err == nil && a.LT2.Method == (lactate.MaxDistance{}) {
		r.Add("LT2's bracket rests on how the curve bends and where the test starts and ends, as Dmax does, not on where the curve lies: " +
			"examples/retest says whether that has moved")
	}
	r.stroke()
	if err := r.plan(); err != nil {
		r.Add("no plan for the next test: %v", command.InWords(err))
	}
	r.Add("the brackets hold the error of analyser, drop of blood and watch, not how a swimmer differs from day to day; " +
		"those of heart rate are those of speed, in beats")
	return nil
}

// usual are the entries of the catalogue that every analysis reads.
func usual() (out []lactate.Definition) {
	for _, e := range lactate.Catalogue("m/s") {
		if slices.Contains(lactate.CoreMethods(), e.Method) {
			out = append(out, e)
		}
	}
	return out
}

// compareCurves says where another curve in common use puts a threshold outside its
// interval: the interval holds only if its own curve does.
func (r *report) compareCurves() {
	per := r.Record.Pool.Per100()
	for _, row := range r.Definitions.Rows {
		for i, th := range []lactate.Threshold{r.Analysis.LT1, r.Analysis.LT2} {
			in := th.Intensity
			if row.Definition.Method != th.Method || th.Err != nil || !in.HasInterval() {
				continue
			}
			for k, c := range row.Cells {
				name := r.Definitions.Curves[k].Name
				if x := c.Intensity.Value; name != lactate.CurveName(r.Analysis.Curve) && c.Err == nil && !(in.Low <= x && x <= in.High) {
					r.Add("by the %s, LT%d is %s per %v, outside its bracket: that holds only if lactate rises as the curve here does, "+
						"which so few samples cannot settle", name, i+1, clock(per.Metres()/x), per)
				}
			}
		}
	}
}

// zone puts the three-zone model on LT1 and LT2.
func (r *report) zone() error {
	a := r.Analysis
	if a.LT1.Err != nil || a.LT2.Err != nil {
		return errors.New("they need both thresholds")
	}
	p, err := zones.ProfileOf(a)
	if err != nil {
		return err
	}
	t, err := zones.ThreeZone().Apply(p)
	if errors.Is(err, zones.ErrOrder) {
		return errors.New("LT1 does not lie below LT2")
	}
	if err != nil {
		return err
	}
	r.Zones = t
	r.Of(r.Record, "", t.Warnings...)
	return nil
}

// plan plans the same test again, between the same ends: then the two compare.
func (r *report) plan() error {
	rec := r.Record
	day := rec.Next
	if day.IsZero() {
		day = rec.Date.AddDate(0, 0, 7*weeksToNext)
	}
	last := rec.Repeats[len(rec.Repeats)-1]
	request := protocol.Request{Swimmer: rec.Swimmer, Date: day, Pool: rec.Pool, Repeats: last.Number, Distance: last.Distance}
	plan, err := protocol.NewPlan(request.FromLast(r.Analysis))
	if err == nil {
		r.Next = &plan
	}
	return err
}

// span is the pace of the slowest and of the fastest reading of a threshold, per
// 100 of the pool, by all definitions on all curves.
func (r *report) span(target lactate.Target) string {
	per := r.Record.Pool.Per100().Metres()
	s := r.Definitions.Spread(target)
	return clock(per/s.Lowest.Intensity) + " to " + clock(per/s.Highest.Intensity)
}

// half is half the width of a threshold's interval as a pace [s]; NaN if it has
// none, or an open one.
func (r *report) half(th lactate.Threshold) float64 {
	per := r.Record.Pool.Per100().Metres()
	h := (per/th.Intensity.Low - per/th.Intensity.High) / 2
	if math.IsInf(h, 0) || math.IsInf(th.Intensity.High, 0) {
		return math.NaN()
	}
	return h
}
