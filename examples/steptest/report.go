package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/steptest/examples/internal/command"
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
		r.Problem = err.Error()
		return r, fmt.Errorf("steptest: %s: %w", r.Record.Whose(), err)
	}
	return r, nil
}

// work fills the report. The error says why there are no thresholds.
func (r *report) work() error {
	r.AddTexts(command.Faults(r.Record))
	// Not Record.Analyze, which refuses a part of a test. Partial's other errors are speeds that
	// cannot be; the sheet has refused their rows, and reported all faults.
	test, err := r.Record.Partial()
	if errors.Is(err, protocol.ErrNoRepeats) {
		if len(r.Record.Faults) > 0 {
			return errors.New("no repeat could be read")
		}
		return errors.New("no repeat was swum")
	}
	r.test = test
	var failed error // told after what may be behind it
	r.Analysis, failed = lactate.Analyze(test, r.settings.Options())
	r.grave = r.Record.Gravest(r.Analysis)
	r.doubt()
	switch {
	case failed != nil && r.grave.Repeat != 0: // it is what is behind it
		return errors.New(r.grave.String())
	case failed != nil:
		return protocol.InWords(failed)
	}
	r.noteBrackets()
	r.compareDefinitions()
	r.makeZones()
	r.followStroke()
	r.planNext()
	return nil
}

// doubt says what is odd, each thing once: the worst sample, what the review of the sheet
// finds, and the other warnings of the analysis. All have the numbers of the sheet.
func (r *report) doubt() {
	ofSheet := r.Record.Review()
	var ofAnalysis []lactate.Warning
	if r.Analysis != nil {
		ofAnalysis = r.Record.Numbered(r.Analysis.Warnings)
	}
	for _, w := range ofAnalysis {
		if w.Kind == lactate.WarnOddSample {
			r.AddTexts(command.Words(w))
		}
	}
	for _, w := range ofSheet {
		switch text := w.Text("repeat"); {
		case !ofSame(w, ofAnalysis):
			r.AddTexts(text)
		case w.Kind == lactate.WarnOddHeartRate:
			r.AddTexts(text + " It is left out")
		}
	}
	for _, w := range ofAnalysis {
		if !slices.Contains(saidElsewhere, w.Kind) && !ofSame(w, ofSheet) {
			r.AddTexts(command.Words(w))
		}
	}
}

// saidElsewhere are the warnings that the review of the sheet gives, or the notes and
// lines of the answer, or that come first.
var saidElsewhere = []lactate.WarningKind{lactate.WarnLostSamples, lactate.WarnFewStages, lactate.WarnOpenInterval, lactate.WarnOutOfOrder, lactate.WarnPairUnseen, lactate.WarnOddSample}

// ofSame reports whether a warning of this kind about the same repeats is among others.
func ofSame(w lactate.Warning, others []lactate.Warning) bool {
	return slices.ContainsFunc(others, func(v lactate.Warning) bool { return v.Kind == w.Kind && slices.Equal(v.Stages, w.Stages) })
}

// noteBrackets says what the brackets of LT1 and LT2 leave out.
func (r *report) noteBrackets() {
	for i, th := range []lactate.Threshold{r.Analysis.LT1, r.Analysis.LT2} {
		if th.Err != nil {
			continue // which stands below the table
		}
		if n := th.Failed - th.Beyond; n > 0 { // those beyond the range are in it
			r.AddDoubt("%d of %d simulated tests gave no LT%d; its bracket is that of the others", n, command.Options().Resamples, i+1)
		}
	}
}

// compareDefinitions reads the test by several definitions, on several curves.
func (r *report) compareDefinitions() {
	var err error
	if r.Definitions, err = lactate.SideBySide(r.test, lactate.SideBySideOptions{Definitions: usual()}); err != nil {
		r.AddDoubt("no other definitions: %v", protocol.InWords(err))
	}
}

// makeZones works the zones out. If a value of the test looks wrong, they are left out, and
// so are the notes on them.
func (r *report) makeZones() {
	zoned, notes, err := command.Zones(r.Record, r.test, r.Analysis, r.settings.Scheme())
	switch {
	case err != nil:
		r.NoZones = err.Error()
	case r.grave.Repeat != 0:
		r.NoZones = "no zones: " + r.grave.Says
		return
	default:
		r.Zones = zoned
		r.AddWarnings(r.Record, zoned.Warnings...)
	}
	r.AddTexts(notes...)
}

// followStroke works out what became of the stroke, if the sheet has cycles and time over
// a segment.
func (r *report) followStroke() {
	o := command.Options()
	read, err := technique.Of(r.Record, technique.Options{Resamples: o.Resamples, Seed: o.Seed})
	if err != nil && (read != nil || errors.As(err, new(*technique.Error))) { // something was measured
		r.AddTexts(strings.Split(table.Bare(err), "\n")...)
	}
	if r.Technique = read; read != nil {
		for _, w := range read.Findings {
			r.AddDoubt("%v", w)
		}
	}
}

// planNext plans the next test, unless a value of this one looks wrong: no target rests on
// a slip.
func (r *report) planNext() {
	if r.grave.Repeat != 0 {
		return
	}
	next, err := r.Record.NextTest(r.Analysis)
	if err != nil {
		r.AddDoubt("no plan for the next test: %v", protocol.InWords(err))
		return
	}
	r.Next = &next
}

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

// usual are the entries of the catalogue that every analysis reads, in the order of
// [table.Thresholds]: those of LT1 first and those of neither threshold last.
func usual() (out []lactate.Definition) {
	for _, target := range []lactate.Target{lactate.FirstThreshold, lactate.SecondThreshold, lactate.OtherPoint} {
		for _, e := range lactate.Catalogue("m/s") {
			if e.Target == target && slices.Contains(lactate.CoreMethods(), e.Method) {
				out = append(out, e)
			}
		}
	}
	return out
}
