package main

import (
	"errors"
	"fmt"
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
	for _, tests := range command.BySwimmer(records) {
		m, err := s.member(tests)
		members, errs = append(members, m), append(errs, err)
	}
	o := command.Tables(records[0].Pool)
	o.Caption = command.Invented(fmt.Sprintf("Squad of %d, each swimmer's latest test", len(members)), invented)
	t := table.Squad(members, o)
	err := errors.Join(errs...)
	switch {
	case s.csv:
		return t.CSV(), err
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
		return table.Member{Name: last.Swimmer, Date: last.Date, Problem: command.Pending(last)}, nil
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
	m.Warnings = rec.Numbered(r.Analysis.Warnings)
	if len(tests) > 1 {
		before := tests[len(tests)-2]
		first, _ := before.Partial()
		if m.Change, err = lactate.Compare(first, r.test, s.Options()); err != nil {
			m.Further = append(m.Further, "not compared: "+strings.TrimPrefix(command.InWords(err).Error(), "first test: "))
		}
	}
	return m, nil
}
