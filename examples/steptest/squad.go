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
)

// whole prints one table of all swimmers, if that is asked for.
func (s *settings) whole(records []protocol.Record, invented bool) (string, error) {
	if !s.squad {
		if s.csv || s.html {
			return "", errors.New("steptest: -csv and -html go with -squad")
		}
		return "", nil
	}
	if len(records) == 0 {
		return "", nil
	}
	var members []table.Member
	var errs []error
	for _, tests := range protocol.BySwimmer(records) {
		m, err := s.member(tests)
		members, errs = append(members, m), append(errs, err)
	}
	o := command.Tables(records[0].Pool)
	o.Caption = command.Invented(fmt.Sprintf("Squad of %d, each swimmer's latest test", len(members)), invented)
	if s.Zoned() {
		errs = append(errs, errors.New("steptest: -zones is of single tests, and left out of -squad"))
	}
	t := table.Squad(members, o)
	err := errors.Join(errs...)
	switch {
	case s.csv:
		return "\ufeff" + table.SquadSheet(members, o).CSV(), err // spreadsheets know UTF-8 by its mark
	case s.html:
		title := t.Caption
		t.Caption = ""
		return table.Tables{t}.Page(title), err
	}
	last := len(t.Head) - 1 // too wide for a screen
	for _, r := range t.Rows {
		if r[last] != "" {
			t.Notes = append(t.Notes, r[0]+": "+r[last]+".")
		}
	}
	t.Head = t.Head[:last]
	return t.String(), err
}

// member works out the latest test of a swimmer that can be read, beside the one
// before.
func (s *settings) member(all []protocol.Record) (table.Member, error) {
	tests, notes := command.Ready(all)
	if len(tests) == 0 {
		last := all[len(all)-1]
		return table.Member{Name: last.Swimmer, Date: last.Date, Problem: last.Pending()}, nil
	}
	rec := tests[len(tests)-1]
	m := table.Member{Name: rec.Swimmer, Date: rec.Date}
	if n := len(notes); n > 0 {
		m.Further = append(m.Further, fmt.Sprintf("other tests not read: %d", n))
	}
	if rows, cells := rec.Lost(); rows+cells > 0 {
		m.Further = append(m.Further, fmt.Sprintf("left out of the sheet: %d rows, %d cells", rows, cells))
	}
	r, err := s.reportOn(rec)
	m.Analysis, m.Problem = r.Analysis, r.Problem
	if r.Analysis == nil {
		return m, err
	}
	beyond := map[int]bool{} // the analyser's range
	for _, w := range rec.Review() {
		switch w.Kind {
		case protocol.WarnBeyondRange:
			n := w.Stages[0]
			beyond[n] = true
			side := "above"
			if i := slices.IndexFunc(rec.Repeats, func(rep protocol.Repeat) bool { return rep.Number == n }); i >= 0 && rec.Repeats[i].Range == protocol.BelowRange {
				side = "below"
			}
			m.Further = append(m.Further, fmt.Sprintf("%s the analyser's range (repeat %d)", side, n))
		case protocol.WarnOddTime, lactate.WarnOddHeartRate, lactate.WarnOddSample:
			m.Warnings = append(m.Warnings, w)
		}
	}
	for _, w := range rec.Numbered(r.Analysis.Warnings) {
		if w.Kind == lactate.WarnLostSamples {
			if w.Stages = slices.DeleteFunc(w.Stages, func(n int) bool { return beyond[n] }); len(w.Stages) == 0 {
				continue
			}
		}
		m.Warnings = append(m.Warnings, w)
	}
	if len(tests) > 1 {
		before := tests[len(tests)-2]
		first, _ := before.Partial()
		if m.Change, err = lactate.Compare(first, r.test, lactate.CompareOptions{Options: s.Options()}); err != nil {
			m.Further = append(m.Further, "not compared: "+strings.TrimPrefix(command.InWords(err).Error(), "first test: "))
		}
	}
	return m, nil
}
