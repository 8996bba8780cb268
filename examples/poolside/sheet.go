package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"slices"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// load reads the sheet, and takes the latest test of the swimmer. After an error all is
// as it was.
func (c *companion) load() error {
	b, err := os.ReadFile(c.file)
	if err != nil {
		return err
	}
	records, fault := c.dates.Read(bytes.NewReader(b))
	if len(records) == 0 {
		return errors.Join(errors.New("found no test in the sheet"), fault)
	}
	tests, err := command.Swimmer(records, c.swimmer)
	if err != nil {
		return err
	}
	rec := tests[len(tests)-1]
	if len(rec.Repeats) == 0 {
		return errors.Join(fmt.Errorf("the test of %s has no repeats", rec.Whose()), fault)
	}
	c.text, c.records, c.fault, c.known = b, records, fault, forecast.Expected{}
	c.at = slices.IndexFunc(records, func(r protocol.Record) bool { return r.Swimmer == rec.Swimmer && r.Date.Equal(rec.Date) })
	return c.expect(rec, tests[:len(tests)-1])
}

// expect gathers the earlier tests.
func (c *companion) expect(rec protocol.Record, tests []protocol.Record) error {
	if c.last != "" {
		all, _, err := command.ReadFile(c.last, nil, c.dates) // what can be read helps
		if err != nil {
			return err
		}
		for _, r := range all {
			if protocol.FoldName(r.Swimmer) == protocol.FoldName(rec.Swimmer) {
				tests = append(tests, r)
			}
		}
		slices.SortStableFunc(tests, func(a, b protocol.Record) int { return a.Date.Compare(b.Date) })
	}
	for _, r := range tests {
		t, err := r.Test()
		if err == nil && r.Date.Before(rec.Date) && r.Comparable(rec) && len(t.Sampled()) >= 3 {
			c.known.Tests = append(c.known.Tests, t)
		}
	}
	return nil
}

func (c *companion) test() *protocol.Record { return &c.records[c.at] }

// save writes the sheet, whole or not at all.
func (c *companion) save() error {
	var b bytes.Buffer
	if err := sheet.WriteForm(&b, c.records); err != nil {
		return err
	}
	if err := command.WriteFile(c.file, b.Bytes()); err != nil {
		return err
	}
	c.text = b.Bytes()
	return nil
}
