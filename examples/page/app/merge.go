package app

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
)

// merge takes the tests of a file into the sheet. Cells that are blank here are filled;
// if others differ, nothing is changed until the request says what to prefer. If nothing
// says which of day and month comes first in its dates, that is asked.
func (q Request) merge(records []protocol.Record) (any, error) {
	found, err := sheet.Options{Dates: q.Dates}.Read(bytes.NewReader(q.File))
	if errors.Is(err, sheet.ErrDates) && q.Dates == sheet.OrderUnknown {
		return map[string]any{"dates": true}, nil
	}
	var notes []string
	if err != nil {
		for _, e := range parts(err) {
			notes = append(notes, "not read: "+said(e))
		}
	}
	if len(found) == 0 {
		return nil, fmt.Errorf("found no test in the file, want a sheet with columns such as swimmer, date, pool, distance, repeat, time, lactate:\n%s", strings.Join(notes, "\n"))
	}
	var differ []string
	added := 0
	for _, rec := range found {
		for _, n := range rec.Notes {
			notes = append(notes, n.String())
		}
		rec.Faults, rec.Notes = nil, nil
		if n := rec.RecoveryAfter; n > 0 && len(rec.Repeats) > 0 { // its row is lost: it stays, to be filled in
			rec.Repeats = append(rec.Repeats, protocol.Repeat{Number: n, Distance: rec.Repeats[len(rec.Repeats)-1].Distance})
			rec.RecoveryAfter = 0
		}
		if err := sheet.Write(io.Discard, []protocol.Record{rec}); err != nil {
			notes = append(notes, "not taken: "+said(err))
			continue
		}
		at := -1
		for i, r := range records {
			if protocol.FoldName(r.Swimmer) == protocol.FoldName(rec.Swimmer) {
				rec.Swimmer = r.Swimmer
				if r.Date.Equal(rec.Date) {
					at = i
				}
			}
		}
		added++
		if at < 0 {
			records = append(records, rec)
			continue
		}
		mine, theirs := records[at], rec
		if q.Prefer == "file" {
			mine, theirs = theirs, mine
		}
		both, d := filled(mine, theirs)
		records[at] = both
		for _, what := range d {
			differ = append(differ, fmt.Sprintf("%s, %s, %s", rec.Swimmer, rec.Date.Format(time.DateOnly), what))
		}
	}
	if len(differ) > 0 && q.Prefer == "" {
		return map[string]any{"differ": differ}, nil
	}
	notes = append([]string{fmt.Sprintf("tests read: %d", added)}, notes...)
	return change(records, notes...)
}

// filled fills the blanks of a test with what another copy of it has, and says which
// cells differ.
func filled(r, from protocol.Record) (protocol.Record, []string) {
	var differ []string
	for _, c := range cellsOf(r) {
		for _, d := range cellsOf(from) {
			switch {
			case c.ID != d.ID || d.Value == "" || c.Value == d.Value:
			case c.Value == "":
				// It was read from a sheet: it is in order.
				_ = put(&r, c.ID, d.Value)
			default:
				differ = append(differ, fmt.Sprintf("%s: %s here, %s in the file", strings.ToLower(c.Label), c.Value, d.Value))
			}
		}
	}
	for _, rep := range from.Repeats {
		if n := len(r.Repeats); n == 0 || rep.Number > r.Repeats[n-1].Number {
			r.Repeats = append(r.Repeats, rep)
		}
	}
	if len(r.Recovery) == 0 {
		r.Recovery = from.Recovery
	}
	return r, differ
}

// example returns the invented sheet: a squad of one day, and a swimmer who came back
// seven weeks later.
func (q Request) example([]protocol.Record) (any, error) {
	var all []protocol.Record
	for _, csv := range [][]byte{sheets.Retest(), sheets.Squad()} {
		records, _ := sheet.Read(bytes.NewReader(csv)) // faults are part of a demonstration
		for _, r := range records {
			r.Faults, r.Notes = nil, nil
			all = append(all, r)
		}
	}
	return change(all)
}

// warm works an invented test out, for nothing: what is made once is made then.
func (q Request) warm([]protocol.Record) (any, error) {
	records, err := sheet.Read(bytes.NewReader(sheets.Single()))
	if err != nil {
		return nil, err
	}
	q.Swimmer, q.Date = records[0].Swimmer, records[0].Date.Format(time.DateOnly)
	_, err = q.result(records)
	return struct{}{}, err
}
