package main

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/zones"
)

// columns of a week, in this order.
var columns = []string{"day", "repeats", "distance", "zone", "rest", "swum", "heart rate"}

// daySet is one line of a week.
type daySet struct {
	line   int
	day    string
	goesOn bool // the line has no day: it is that of the line above
	set    zones.Set
	swum   []zones.Repeat
}

// What a swimmer can swim, as protocol has it [m/s].
const (
	minSpeed = 0.2
	maxSpeed = 3
)

// readWeek reads the sets of a week. The error joins one for each fault; the
// lines without a fault come with it.
func readWeek(r io.Reader, pool pace.Pool) ([]daySet, error) {
	text := bufio.NewReader(r)
	in := csv.NewReader(text)
	first, _ := text.Peek(200)
	if head, _, _ := bytes.Cut(first, []byte("\n")); bytes.Count(head, []byte(";")) > bytes.Count(head, []byte(",")) {
		in.Comma = ';' // and the decimal sign may be a comma
	}
	in.FieldsPerRecord = -1
	in.TrimLeadingSpace = true
	header, err := in.Read()
	if err != nil {
		return nil, fmt.Errorf("week: found no header line, expected %q", strings.Join(columns, ","))
	}
	for i := range header {
		header[i] = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(header[i], "\ufeff")))
	}
	if !slices.Equal(header, columns) {
		return nil, fmt.Errorf("week: line 1: found %q, expected %q", strings.Join(header, ","), strings.Join(columns, ","))
	}
	var sets []daySet
	var errs []error
	day, lost := "", false // of the last line that says; of one that could not be read
	for {
		cells, err := in.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("week: %w", err))
			var syntax *csv.ParseError
			if errors.As(err, &syntax) {
				lost = true
				continue
			}
			break
		}
		line, _ := in.FieldPos(0)
		for i := range cells {
			if cells[i] = strings.TrimSpace(cells[i]); in.Comma == ';' && i != 0 && i != 3 { // day and zone are texts
				cells[i] = strings.ReplaceAll(cells[i], ",", ".")
			}
		}
		for len(cells) >= 4 && len(cells) < len(columns) {
			cells = append(cells, "") // a spreadsheet leaves blank cells at the end out
		}
		set, faults := readSet(cells, pool)
		// A line with a fault still says which day it is for those below.
		if own := strings.TrimSpace(cells[0]); own != "" {
			day, lost = own, false
		} else if lost {
			faults = append(faults, errors.New("day: found nothing, expected the day, since a line above could not be read"))
		} else {
			set.goesOn = true
		}
		set.day = day
		if len(faults) > 0 {
			for _, f := range faults {
				errs = append(errs, fmt.Errorf("week: line %d: %w", line, f))
			}
			continue
		}
		set.line = line
		sets = append(sets, set)
	}
	if len(sets) == 0 && len(errs) == 0 {
		errs = append(errs, errors.New("week: found no sets, expected a line for each"))
	}
	return sets, errors.Join(errs...)
}

// swimTime reads a time, in the one way that makes a swim if a spreadsheet has
// taken it for one of the day.
func swimTime(text string, d pace.Length) (time.Duration, error) {
	fits := func(t time.Duration) bool {
		v := d.Metres() / t.Seconds()
		return v >= minSpeed && v <= maxSpeed
	}
	t, err := pace.ParseTime(text)
	if err == nil && (fits(t) || d <= 0) {
		return t, nil
	}
	all := slices.DeleteFunc(pace.TimeReadings(text), func(t time.Duration) bool { return !fits(t) })
	if len(all) == 1 {
		return all[0], nil
	}
	return t, err
}

// readSet reads one line.
func readSet(cells []string, pool pace.Pool) (daySet, []error) {
	if len(cells) != len(columns) {
		return daySet{}, []error{fmt.Errorf("found %d cells, expected %d", len(cells), len(columns))}
	}
	var faults []error
	fault := func(column int, found any, want string) {
		faults = append(faults, fmt.Errorf("%s: found %q, expected %s", columns[column], found, want))
	}
	var s daySet
	s.set.Zone = strings.TrimSpace(cells[3])
	n, err := strconv.Atoi(cells[1])
	if err != nil || n < 1 {
		fault(1, cells[1], "how many repeats")
	}
	s.set.Repeats = n
	d, err := strconv.ParseFloat(cells[2], 64)
	s.set.Distance = pace.Length(d) * pool.Unit()
	_, lengthsErr := pool.Lengths(s.set.Distance)
	whole := err == nil && lengthsErr == nil
	if !whole {
		fault(2, cells[2], fmt.Sprintf("a whole number of lengths of a %v pool, as a number of %s", pool, pool.UnitSymbol()))
	}
	if cells[4] != "" {
		if s.set.Rest, err = pace.ParseTime(cells[4]); err != nil {
			fault(4, cells[4], `a time such as "0:20"`)
		}
	}
	rates := strings.Fields(cells[6])
	times := strings.Fields(cells[5])
	if len(rates) > 0 && len(rates) != len(times) {
		fault(6, cells[6], fmt.Sprintf("one for each of %d times swum, a dash where not taken", len(times)))
		rates = nil
	}
	for i, text := range times {
		swim := zones.Repeat{Distance: s.set.Distance}
		swim.Time, err = swimTime(text, s.set.Distance)
		if err != nil || swim.Time <= 0 {
			fault(5, text, `a time such as "2:42.6"`)
		} else if v := s.set.Distance.Metres() / swim.Time.Seconds(); whole && !(v >= minSpeed && v <= maxSpeed) {
			fault(5, text, fmt.Sprintf("a time of %s to %s for %v; this is %.2f m/s", pace.FormatTime(pace.Speed(maxSpeed).Time(s.set.Distance), 0),
				pace.FormatTime(pace.Speed(minSpeed).Time(s.set.Distance), 0), s.set.Distance, v))
		}
		if len(rates) > 0 && rates[i] != "-" {
			swim.HeartRate, err = strconv.ParseFloat(rates[i], 64)
			if err != nil || !(swim.HeartRate >= 30 && swim.HeartRate <= 250) {
				fault(6, rates[i], "beats per minute, 30 to 250, or a dash where not taken")
			}
		}
		s.swum = append(s.swum, swim)
	}
	return s, faults
}
