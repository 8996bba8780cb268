package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol/technique"
)

// stroke works out what became of the stroke, if the sheet has cycles and time over
// a segment.
func (r *report) stroke() {
	o := command.Options()
	read, err := technique.Of(r.Record, technique.Options{Resamples: o.Resamples, Seed: o.Seed})
	var fault *technique.Error
	if read != nil || errors.As(err, &fault) { // something was measured
		r.Doubts.Doubts = append(r.Doubts.Doubts, inLines(err)...)
	}
	if read != nil {
		r.Technique = read
		for _, w := range read.Findings {
			r.Add("%v", w)
		}
	}
}

// inLines returns the faults that an error joins, each without the name of its
// package.
func inLines(err error) []string {
	if err == nil {
		return nil
	}
	lines := strings.Split(err.Error(), "\n")
	for i, l := range lines {
		lines[i] = strings.TrimPrefix(strings.TrimPrefix(l, "protocol: "), "technique: ")
	}
	return lines
}

func (r *report) strokeText() string {
	t := r.Technique
	if t == nil {
		return ""
	}
	per := r.Record.Pool.Per100()
	out := table.Table{
		Caption: fmt.Sprintf("What does the stroke do?   (%s; in brackets: error of count and watch)", r.countedBy()),
		Head:    []table.Column{{}, {Name: "per " + per.String()}, {Name: "rate, /min"}, {Name: "length, m"}, {Name: "index, m²/s"}},
	}
	within := func(e lactate.Estimate, decimals int) string {
		return table.Within(e, func(v float64) string { return table.Number(v, decimals) })
	}
	row := func(name string, s technique.Stroke) {
		out.Rows = append(out.Rows, []string{name, clock(per.Metres() / s.Speed.MetresPerSecond()), within(s.Rate, 1), within(s.Length, 2), within(s.Index, 2)})
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range t.Repeats {
		row(fmt.Sprintf("repeat %d", s.Number), s.Stroke)
		low, high = min(low, s.Share.Value), max(high, s.Share.Value)
	}
	for i, th := range []lactate.Threshold{r.Analysis.LT1, r.Analysis.LT2} {
		if th.Err != nil {
			continue
		}
		if s, err := t.At(pace.Speed(th.Intensity.Value)); err == nil {
			row(fmt.Sprintf("at LT%d", i+1), s)
		}
	}
	out.Notes = []string{
		fmt.Sprintf("From the slowest repeat to the fastest, rate %s and length %s.", grown(t.Rate.Percent), grown(t.Length.Percent)),
		shortening(t.Shortening, per),
	}
	if t.Basis == technique.Segment {
		out.Notes = append(out.Notes, fmt.Sprintf("In mid-pool the speed is %.2f to %.2f of the mean of the repeat; the rest is push-off and turns.", low, high))
	}
	return out.String()
}

// countedBy says what strokes were counted over.
func (r *report) countedBy() string {
	if t := r.Technique; t.Basis != technique.Segment {
		return t.Basis.String()
	}
	return fmt.Sprintf("cycles over %v in mid-pool", r.Technique.Segment)
}

// grown says in words by how many per cent a quantity grew.
func grown(e lactate.Estimate) string {
	number := func(v float64) string { return table.Number(math.Abs(v), 0) }
	switch {
	case e.Low > 0:
		return fmt.Sprintf("rises by %s %% (%s to %s)", number(e.Value), number(e.Low), number(e.High))
	case e.High < 0:
		return fmt.Sprintf("falls by %s %% (%s to %s)", number(e.Value), number(e.High), number(e.Low))
	}
	return fmt.Sprintf("does not surely change (%s to %s %%)", table.Signed(e.Low, 0), table.Signed(e.High, 0))
}

// shortens is the p-value below which stroke length is said to fall.
const shortens = 0.05

// shortening says where stroke length starts to fall, and whether to believe it.
func shortening(s technique.Shortening, per pace.Length) string {
	switch {
	case s.Err != nil:
		return "Where length starts to fall is not known: " + command.InWords(s.Err).Error() + "."
	case s.PValue < shortens:
		return fmt.Sprintf("Length starts to fall at %s per %v.", table.Pace(s.Speed, per), per)
	}
	return "The counts do not show where length starts to fall: count over several lengths to know."
}
