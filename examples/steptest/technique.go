package main

import (
	"errors"
	"fmt"
	"strings"

	"example.com/steptest/examples/internal/command"
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
	if r.Technique == nil {
		return ""
	}
	return command.Captioned(fmt.Sprintf("What does the stroke do?   (%s; in brackets: error of count and watch)", r.Technique.CountedBy()), r.Technique.Table(r.Analysis))
}
