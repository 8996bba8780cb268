package zones

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.com/steptest/pace"
)

// weekColumns in the order in which they are written. The first four are required.
var weekColumns = []string{"day", "repeats", "distance", "zone", "rest", "send-off", "swum", "heart rate", "reason"}

// A WeekSet is one line of a week: a set, and what was swum of it. The zero value is
// no set.
type WeekSet struct {
	Line    int    // of the file, from 1
	Day     string // as it is written
	SameDay bool   // the line has no day of its own: it goes on with that of the line above
	Set     Set
	Swum    []Repeat // nil: not swum
	Reason  string   // what the set is for; empty: not said
}

// ReadWeek reads the sets of a week from CSV, a line for each:
//
//	day,repeats,distance,zone,rest,swum,heart rate
//	Tuesday,4,200,2,0:20,2:42.6 2:41.9 2:42.2 2:42.5,142 144 - 147
//
// Columns may stand in any order; day, repeats, distance and zone must be there, and
// send-off and reason may be. Distances are in the unit of the pool, rest is the least
// there should be. Times and heart rates (a dash: not taken) are separated by blanks
// and may be left out; so may cells at the end of a line, and the day, for the one
// above. With semicolons for commas, decimals may follow a comma. The error joins one
// for each fault, with its line; the lines without a fault come with it.
func ReadWeek(r io.Reader, pool pace.Pool) ([]WeekSet, error) {
	in, header, err := weekHeader(r)
	if err != nil {
		return nil, err
	}
	var sets []WeekSet
	var errs []error
	day, lost := "", false // of the last line that says; of one that could not be read
	for {
		cells, err := in.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("zones: week: %w", err))
			var syntax *csv.ParseError
			if errors.As(err, &syntax) {
				lost = true
				continue
			}
			break
		}
		line, _ := in.FieldPos(0)
		if len(cells) == len(header)+1 && cells[len(header)] == "" {
			cells = cells[:len(header)] // as spreadsheets end a line
		}
		if !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" }) {
			continue
		}
		row := weekRow{header: header, cells: cells, semicolons: in.Comma == ';'}
		set, faults := row.read(pool)
		// A line with a fault still says which day it is for those below.
		if own := row.cell("day"); own != "" {
			day, lost = own, false
		} else if lost {
			faults = append(faults, errors.New("day: found nothing, want the day, since a line above could not be read"))
		} else {
			set.SameDay = true
		}
		set.Day = day
		if len(faults) > 0 {
			for _, f := range faults {
				errs = append(errs, fmt.Errorf("zones: week: line %d: %w", line, f))
			}
			continue
		}
		set.Line = line
		sets = append(sets, set)
	}
	if len(sets) == 0 && len(errs) == 0 {
		errs = append(errs, errors.New("zones: week: found no sets, want a line for each"))
	}
	return sets, errors.Join(errs...)
}

// weekHeader reads the names of the columns. The lines below them are still to be read.
func weekHeader(r io.Reader) (in *csv.Reader, header []string, err error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, nil, fmt.Errorf("zones: week: %w", err)
	}
	first, _, _ := strings.Cut(string(text), "\n")
	in = csv.NewReader(bytes.NewReader(text))
	in.FieldsPerRecord = -1
	in.TrimLeadingSpace = true
	if strings.Count(first, ";") > strings.Count(first, ",") {
		in.Comma = ';'
	}
	if header, err = in.Read(); err != nil {
		return nil, nil, fmt.Errorf("zones: week: found no header line, want %q", strings.Join(weekColumns, ","))
	}
	for i := range header {
		header[i] = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(header[i], "\ufeff")))
	}
	return in, header, checkWeekHeader(header)
}

// checkWeekHeader reports columns that are missing, unknown or there twice.
func checkWeekHeader(header []string) error {
	var errs []error
	fault := func(format string, args ...any) {
		errs = append(errs, fmt.Errorf("zones: week: line 1: "+format, args...))
	}
	for i, name := range header {
		switch {
		case name == "":
		case !slices.Contains(weekColumns, name):
			fault("found the column %q, want some of %q", short(name), strings.Join(weekColumns, ","))
		case slices.Contains(header[:i], name):
			fault("found the column %q twice, want it once", short(name))
		}
	}
	for _, name := range weekColumns[:4] {
		if !slices.Contains(header, name) {
			fault("found no column %q in %q, want it", name, short(strings.Join(header, ",")))
		}
	}
	return errors.Join(errs...)
}
