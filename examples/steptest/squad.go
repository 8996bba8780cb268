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

// squadTable prints one table of all swimmers, if that is asked for.
func (s *settings) squadTable(records []protocol.Record, invented bool) (text string, asked bool, err error) {
	switch {
	case !s.squad && (s.csv || s.html):
		return "", false, errors.New("steptest: -csv and -html go with -squad")
	case !s.squad || len(records) == 0:
		return "", false, nil
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
	err = errors.Join(errs...)
	switch {
	case s.csv:
		return "\ufeff" + table.SquadSheet(members, o).CSV(), true, err // spreadsheets know UTF-8 by its mark
	case s.html:
		t.Caption = ""
		return table.Tables{t}.Page(o.Caption), true, err
	}
	last := len(t.Head) - 1 // too wide for a screen
	for _, r := range t.Rows {
		if r[last] != "" {
			t.Notes = append(t.Notes, r[0]+": "+r[last]+".")
		}
	}
	t.Head = t.Head[:last]
	return t.String(), true, err
}

// member works out the latest test of a swimmer that can be read, beside the one
// before.
func (s *settings) member(all []protocol.Record) (table.Member, error) {
	tests, notes := command.Ready(all)
	if len(tests) == 0 {
		last := all[len(all)-1]
		return table.Member{Name: last.Swimmer, Date: last.Date, Problem: last.Pending()}, nil
	}
	r, err := s.reportOn(tests[len(tests)-1])
	m := r.Record.Member(r.Analysis)
	m.Problem = r.Problem
	if n := len(notes); n > 0 {
		m.Further = slices.Insert(m.Further, 0, fmt.Sprintf("other tests not read: %d", n))
	}
	if r.Analysis == nil || len(tests) == 1 {
		return m, err
	}
	first, _ := tests[len(tests)-2].Partial()
	if m.Change, err = lactate.Compare(first, r.test, lactate.CompareOptions{Options: s.Options()}); err != nil {
		m.Further = append(m.Further, "not compared: "+strings.TrimPrefix(protocol.InWords(err).Error(), "first test: "))
	}
	return m, nil
}
