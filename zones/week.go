package zones

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"example.com/steptest/pace"
)

// weekColumns in their order.
var weekColumns = []string{"day", "repeats", "distance", "zone", "rest", "swum", "heart rate"}

// A WeekSet is one line of a week: a set, and what was swum of it. The zero value is
// no set.
type WeekSet struct {
	Line    int    // of the file, from 1
	Day     string // as it is written
	SameDay bool   // the line has no day of its own: it goes on with that of the line above
	Set     Set
	Swum    []Repeat // nil: not swum
}

// What a swimmer can swim, as protocol has it [m/s].
const (
	minSpeed = 0.2
	maxSpeed = 3
)

// ReadWeek reads the sets of a week from CSV, a line for each:
//
//	day,repeats,distance,zone,rest,swum,heart rate
//	Tuesday,4,200,2,0:20,2:42.6 2:41.9 2:42.2 2:42.5,142 144 - 147
//
// Distances are in the unit of the pool, rest is the least there should be. Times
// and heart rates (a dash: not taken) are separated by blanks and may be left out;
// so may the day, for the one above. The error joins one for each fault, with its
// line; the lines without a fault come with it.
func ReadWeek(r io.Reader, pool pace.Pool) ([]WeekSet, error) {
	in := csv.NewReader(r)
	in.FieldsPerRecord = -1
	in.TrimLeadingSpace = true
	header, err := in.Read()
	if err != nil {
		return nil, fmt.Errorf("zones: week: found no header line, want %q", strings.Join(weekColumns, ","))
	}
	for i := range header {
		header[i] = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(header[i], "\ufeff")))
	}
	if !slices.Equal(header, weekColumns) {
		return nil, fmt.Errorf("zones: week: line 1: found %q, want %q", short(strings.Join(header, ",")), strings.Join(weekColumns, ","))
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
		set, faults := readWeekSet(cells, pool)
		// A line with a fault still says which day it is for those below.
		if own := strings.TrimSpace(cells[0]); own != "" {
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

// readWeekSet reads one line.
func readWeekSet(cells []string, pool pace.Pool) (WeekSet, []error) {
	if len(cells) != len(weekColumns) {
		return WeekSet{}, []error{fmt.Errorf("found %d cells, want %d", len(cells), len(weekColumns))}
	}
	var faults []error
	fault := func(column int, found, want string) {
		faults = append(faults, fmt.Errorf("%s: found %q, want %s", weekColumns[column], short(found), want))
	}
	var s WeekSet
	s.Set.Zone = strings.TrimSpace(cells[3])
	n, err := strconv.Atoi(cells[1])
	if err != nil || n < 1 {
		fault(1, cells[1], "how many repeats")
	}
	s.Set.Repeats = n
	d, err := strconv.ParseFloat(cells[2], 64)
	s.Set.Distance = pace.Length(d) * pool.Unit()
	_, lengthsErr := pool.Lengths(s.Set.Distance)
	whole := err == nil && lengthsErr == nil
	if !whole {
		fault(2, cells[2], fmt.Sprintf("a whole number of lengths of a %v pool, as a number of %s", pool, pool.UnitSymbol()))
	}
	if cells[4] != "" {
		if s.Set.Rest, err = pace.ParseTime(cells[4]); err != nil {
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
		swim := Repeat{Distance: s.Set.Distance}
		swim.Time, err = pace.ParseTime(text)
		if err != nil || swim.Time <= 0 {
			fault(5, text, `a time such as "2:42.6"`)
		} else if v := s.Set.Distance.Metres() / swim.Time.Seconds(); whole && !(v >= minSpeed && v <= maxSpeed) {
			fault(5, text, fmt.Sprintf("a time of %s to %s for %v; this is %.2f m/s", pace.FormatTime(pace.Speed(maxSpeed).Time(s.Set.Distance), 0),
				pace.FormatTime(pace.Speed(minSpeed).Time(s.Set.Distance), 0), s.Set.Distance, v))
		}
		if len(rates) > 0 && rates[i] != "-" {
			swim.HeartRate, err = strconv.ParseFloat(rates[i], 64)
			if err != nil || !(swim.HeartRate >= 30 && swim.HeartRate <= 250) {
				fault(6, rates[i], "beats per minute, 30 to 250, or a dash where not taken")
			}
		}
		s.Swum = append(s.Swum, swim)
	}
	return s, faults
}
