package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/internal/clean"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/technique"
	"example.com/steptest/zones"
)

// report is what the library says of one test. What cannot be worked out is nil,
// and a doubt says why.
type report struct {
	Record      protocol.Record    `json:"record"`
	Analysis    *lactate.Analysis  `json:"analysis,omitempty"`
	Definitions *lactate.Panel     `json:"definitions,omitempty"` // by several, on several curves
	Zones       *zones.Table       `json:"zones,omitempty"`
	NoZones     string             `json:"no_zones,omitempty"` // why there are none
	Technique   *technique.Profile `json:"technique,omitempty"`
	Next        *protocol.Plan     `json:"next_test,omitempty"`
	Problem     string             `json:"problem,omitempty"` // why there is no analysis

	command.Doubts

	test     lactate.Test
	grave    protocol.Grave
	settings *settings
}

// reportOn works a test out.
func (s *settings) reportOn(rec protocol.Record) (*report, error) {
	r := &report{Record: rec, settings: s}
	if err := r.work(); err != nil {
		if r.Problem = err.Error(); r.grave.Repeat != 0 { // it is what is behind it
			r.Problem = r.grave.String()
			err = errors.New(r.Problem)
		}
		return r, fmt.Errorf("steptest: %s: %w", command.Whose(r.Record), err)
	}
	return r, nil
}

// work fills the report. The error says why there are no thresholds.
func (r *report) work() error {
	rec := r.Record
	r.Note(command.Faults(rec))
	// Faults of the rows are reported with the sheet; the rest stands.
	test, err := rec.Partial()
	if errors.Is(err, protocol.ErrNoRepeats) {
		if len(rec.Faults) > 0 {
			return errors.New("no repeat could be read")
		}
		return errors.New("no repeat was swum")
	}
	r.test = test
	a, err := lactate.Analyze(test, r.settings.Options())
	if err == nil {
		r.Analysis = a
		for _, w := range a.Warnings {
			if w.Kind == lactate.WarnOddSample { // the worst comes first
				r.Of(rec, "", w)
			}
		}
	}
	r.grave = rec.Gravest(r.Analysis)
	review := rec.Review()
	said := func(w lactate.Warning, in []lactate.Warning) bool { // of the same repeat
		return slices.ContainsFunc(in, func(v lactate.Warning) bool { return v.Kind == w.Kind && slices.Equal(v.Stages, w.Stages) })
	}
	var warnings []lactate.Warning
	if err == nil {
		warnings = rec.Numbered(a.Warnings)
	}
	for _, w := range review {
		switch text := w.Text("repeat"); {
		case !said(w, warnings):
			r.Note(text)
		case w.Kind == lactate.WarnOddHeartRate:
			r.Note(text + " It is left out")
		}
	}
	if err != nil {
		return protocol.InWords(err)
	}
	for i, w := range a.Warnings {
		if !slices.Contains(saidElsewhere, w.Kind) && !said(warnings[i], review) {
			r.Of(rec, "", w)
		}
	}
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
		if th.Err != nil {
			continue // which stands below the table
		}
		if n := th.Failed - th.Beyond; n > 0 { // those beyond the range are in it
			r.Add("%d of %d simulated tests gave no LT%d; its bracket is that of the others", n, command.Options().Resamples, i+1)
		}
	}
	if r.Definitions, err = lactate.SideBySide(test, lactate.SideBySideOptions{Definitions: usual()}); err != nil {
		r.Add("no other definitions: %v", protocol.InWords(err))
	}
	zoned, notes, err := command.Zones(rec, test, a, r.settings.Scheme())
	switch {
	case err != nil:
		r.NoZones = err.Error()
	case r.grave.Repeat != 0:
		r.NoZones = "no zones: " + r.grave.Says
		notes = nil
	default:
		r.Zones = zoned
		r.Of(rec, "", zoned.Warnings...)
	}
	r.Note(notes...)
	r.stroke()
	if r.grave.Repeat != 0 {
		return nil // no target rests on a slip
	}
	next, err := rec.NextTest(a)
	if err != nil {
		r.Add("no plan for the next test: %v", protocol.InWords(err))
		return nil
	}
	r.Next = &next
	return nil
}

// stroke works out what became of the stroke, if the sheet has cycles and time over
// a segment.
func (r *report) stroke() {
	o := command.Options()
	read, err := technique.Of(r.Record, technique.Options{Resamples: o.Resamples, Seed: o.Seed})
	if err != nil && (read != nil || errors.As(err, new(*technique.Error))) { // something was measured
		r.Note(strings.Split(clean.Bare(err), "\n")...)
	}
	if r.Technique = read; read != nil {
		for _, w := range read.Findings {
			r.Add("%v", w)
		}
	}
}

// saidElsewhere are the warnings that the review of the sheet gives, or the notes and
// lines of the answer, or that come first.
var saidElsewhere = []lactate.WarningKind{lactate.WarnLostSamples, lactate.WarnFewStages, lactate.WarnOpenInterval, lactate.WarnOutOfOrder, lactate.WarnPairUnseen, lactate.WarnOddSample}

// without says what the thresholds are without the repeat that is wrong; nothing if that
// is not known.
func (r *report) without() string {
	i := slices.Index(r.Record.Numbers(), r.grave.Repeat)
	if i < 0 {
		return ""
	}
	test, o := r.test, r.settings.Options()
	test.Stages = slices.Clone(test.Stages)
	test.Stages[i].Lactate, o.Resamples = 0, 0
	a, err := lactate.Analyze(test, o)
	if err != nil {
		return ""
	}
	per := r.Record.Pool.Per100()
	var parts []string
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
		if th.Err == nil {
			parts = append(parts, fmt.Sprintf("LT%d is %s", i+1, table.Clock(per.Metres()/th.Intensity.Value)))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf(" Without it, %s per %v.", strings.Join(parts, " and "), per)
}

// usual are the entries of the catalogue that every analysis reads, those of LT1 first
// and those of neither threshold last.
func usual() (out []lactate.Definition) {
	for _, e := range lactate.Catalogue("m/s") {
		if slices.Contains(lactate.CoreMethods(), e.Method) {
			out = append(out, e)
		}
	}
	slices.SortStableFunc(out, func(a, b lactate.Definition) int {
		order := []lactate.Target{lactate.FirstThreshold, lactate.SecondThreshold, lactate.OtherPoint}
		return slices.Index(order, a.Target) - slices.Index(order, b.Target)
	})
	return out
}
