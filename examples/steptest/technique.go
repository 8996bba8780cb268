package main

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"text/tabwriter"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/technique"
)

// strokes is what became of the stroke, where the sheet has cycles and time
// over a segment. Changes are from the slowest to the fastest repeat.
type strokes struct {
	Segment      float64           `json:"segment_m"`
	Repeats      []stroke          `json:"repeats"`
	LT1          *stroke           `json:"lt1,omitempty"`
	LT2          *stroke           `json:"lt2,omitempty"`
	RateChange   *lactate.Estimate `json:"stroke_rate_change_per_min"`
	LengthChange *lactate.Estimate `json:"stroke_length_change_m"`
	IndexChange  *lactate.Estimate `json:"stroke_index_change_m2_per_s"`
	Shortening   *shortening       `json:"stroke_length_starts_to_fall"`
	Notes        []string          `json:"notes,omitempty"`

	read *technique.Profile
}

type stroke struct {
	Number int               `json:"repeat,omitempty"`
	Speed  float64           `json:"speed_m_per_s"`
	Rate   *lactate.Estimate `json:"stroke_rate_per_min"`
	Length *lactate.Estimate `json:"stroke_length_m"`
	Index  *lactate.Estimate `json:"stroke_index_m2_per_s"`
	Share  *lactate.Estimate `json:"segment_over_repeat_speed"`
}

type shortening struct {
	Speed   *lactate.Estimate `json:"speed_m_per_s,omitempty"`
	PValue  float64           `json:"p_value,omitempty"`
	Problem string            `json:"problem,omitempty"`
}

// addTechnique works the stroke out where the sheet has it.
func (r *report) addTechnique(rec protocol.Record, a *lactate.Analysis) {
	read, err := technique.Of(rec, technique.Options{Confidence: confidence, Resamples: resamples, Seed: seed})
	if read == nil {
		var fault *technique.Error
		if errors.As(err, &fault) { // something was measured
			r.Cautions = append(r.Cautions, inLines(err)...)
		}
		return
	}
	t := &strokes{
		Segment:    read.Segment.Metres(),
		RateChange: &read.Rate.Change, LengthChange: &read.Length.Change, IndexChange: &read.Index.Change,
		Shortening: &shortening{}, read: read,
	}
	if err != nil {
		t.Notes = inLines(err)
	}
	for _, f := range read.Findings {
		t.Notes = append(t.Notes, f.String())
	}
	for _, rep := range read.Repeats {
		t.Repeats = append(t.Repeats, *strokeOf(rep.Number, rep.Stroke))
	}
	at := func(th lactate.Threshold) *stroke {
		if th.Err != nil {
			return nil
		}
		s, err := read.At(pace.Speed(th.Intensity.Value))
		if err != nil {
			t.Notes = append(t.Notes, inLines(err)...)
			return nil
		}
		return strokeOf(0, s)
	}
	t.LT1, t.LT2 = at(a.LT1), at(a.LT2)
	if s := read.Shortening; s.Err != nil {
		t.Shortening.Problem = command.InWords(s.Err).Error()
	} else {
		t.Shortening.Speed = &s.Speed
		if !math.IsNaN(s.PValue) {
			t.Shortening.PValue = s.PValue
		}
	}
	r.Technique = t
}

// inLines returns the faults that an error joins, each without the name of its
// package.
func inLines(err error) []string {
	lines := strings.Split(err.Error(), "\n")
	for i, l := range lines {
		lines[i] = strings.TrimPrefix(strings.TrimPrefix(l, "protocol: "), "technique: ")
	}
	return lines
}

func strokeOf(number int, s technique.Stroke) *stroke {
	return &stroke{number, s.Speed.MetresPerSecond(), &s.Rate, &s.Length, &s.Index, &s.Share}
}

func (r *report) writeTechnique(b *bytes.Buffer) {
	t := r.Technique
	over := t.read.Basis.String()
	if t.read.Basis == technique.Segment {
		over = fmt.Sprintf("cycles over %v in mid-pool", t.read.Segment)
	}
	fmt.Fprintf(b, "\nWhat does the stroke do?   (%s; in brackets: error of count and watch)\n", over)
	w := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	fmt.Fprintf(w, "  \tper %v\trate, /min\tlength, m\tindex, m²/s\n", r.pool.Per100())
	row := func(name string, s *stroke) {
		fmt.Fprintf(w, "  %s\t%s\t%s\t%s\t%s\n", name, command.Clock(r.pool.Per100().Metres()/s.Speed),
			command.Interval(*s.Rate, command.Number(1)), command.Interval(*s.Length, command.Number(2)), command.Interval(*s.Index, command.Number(2)))
	}
	for i := range t.Repeats {
		row(fmt.Sprintf("repeat %d", t.Repeats[i].Number), &t.Repeats[i])
	}
	if t.LT1 != nil {
		row("at LT1", t.LT1)
	}
	if t.LT2 != nil {
		row("at LT2", t.LT2)
	}
	w.Flush()
	percent := func(e lactate.Estimate) string { return command.Interval(e, command.Number(0)) }
	command.Paragraph(b, "  ", fmt.Sprintf("From the slowest repeat to the fastest, rate changes by %s %% and length by %s %%.",
		percent(t.read.Rate.Percent), percent(t.read.Length.Percent)))
	command.Paragraph(b, "  ", r.shorteningText())
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range t.Repeats {
		low, high = min(low, s.Share.Value), max(high, s.Share.Value)
	}
	if t.read.Basis == technique.Segment {
		command.Paragraph(b, "  ", fmt.Sprintf("The segment is swum at %.2f to %.2f of the mean speed: push-off and turns are the rest.", low, high))
	}
	for _, n := range t.Notes {
		command.Paragraph(b, "  - ", n)
	}
}

// shorteningText says where stroke length starts to fall, and whether to
// believe it.
func (r *report) shorteningText() string {
	s := r.Technique.Shortening
	if s.Problem != "" {
		return "Where length starts to fall is not known: " + s.Problem + "."
	}
	at := command.PaceInterval(*s.Speed, r.pool.Per100())
	if s.PValue < 0.05 {
		return fmt.Sprintf("Length starts to fall at %s per %v.", at, r.pool.Per100())
	}
	return "The counts do not show where length starts to fall: count over several lengths to know."
}
