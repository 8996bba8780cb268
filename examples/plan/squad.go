package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// gather plans the next test of every swimmer in a sheet. A swimmer who cannot be
// planned for is set aside.
func (c *planned) gather() error {
	if c.file == "" {
		return errors.New("-squad: want the sheet of the squad's last tests by -last")
	}
	records, faults, err := command.ReadFile(c.file, nil, c.dates)
	if len(records) == 0 {
		return errors.Join(err, faults)
	}
	for _, tests := range protocol.BySwimmer(records) {
		one := *c
		one.request.Swimmer = tests[0].Swimmer
		err := one.follow()
		if err == nil {
			err = one.paces()
			c.members = append(c.members, &one)
		}
		c.aside = errors.Join(c.aside, err, one.aside)
	}
	if len(c.members) == 0 {
		return c.aside
	}
	return nil
}

// printSquad writes one list with everybody's leave times and a page for each swimmer
// behind a form feed, or with -csv one sheet to fill in for all.
func (c *planned) printSquad(w io.Writer) error {
	var plans []protocol.Plan
	var records []protocol.Record
	for _, one := range c.members {
		p, _, _, err := one.plan()
		if err != nil {
			return fmt.Errorf("%s: %w", one.request.Swimmer, err)
		}
		plans, records = append(plans, p), append(records, p.Record())
		if !p.Date.Equal(plans[0].Date) {
			return fmt.Errorf("-squad: %s would swim on %s, %s on %s: give one -date", plans[0].Swimmer, table.Day(plans[0].Date), p.Swimmer, table.Day(p.Date))
		}
	}
	if c.csv {
		return sheet.WriteForm(w, records)
	}
	list, err := protocol.LeaveList(plans, c.apart)
	if err != nil {
		return err
	}
	list.Caption = fmt.Sprintf("Step test of %d swimmers: who leaves when, the starts %s apart", len(plans), command.Clock(c.apart))
	var b strings.Builder
	b.WriteString(command.Sections(list.String(), command.List("Before anyone swims", protocol.Cautions())))
	for i, p := range plans {
		fmt.Fprintf(&b, "\fStarts at %s of the list.\n", command.Clock(c.apart*time.Duration(i)))
		if err := p.WriteText(&b); err != nil {
			return err
		}
	}
	_, err = io.WriteString(w, b.String())
	return err
}
