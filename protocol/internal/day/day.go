// Package day reads dates as people and spreadsheets write them.
package day

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/protocol/internal/form"
)

// Reading is what a text may mean as a date. The zero value is no date.
type Reading struct {
	Day    time.Time // if there is one reading only
	Serial bool      // Day is a spreadsheet's number of it
	Points bool      // three numbers are parted by points

	// DayFirst and MonthFirst are the readings of three numbers with the year behind them;
	// zero: none.
	DayFirst, MonthFirst time.Time
}

// Two reports whether a date has two readings.
func (r Reading) Two() bool { return r.Day.IsZero() && !r.DayFirst.IsZero() }

// Read returns what a text may mean as a date.
func Read(s string) Reading {
	if s == "" {
		return Reading{}
	}
	if t, err := time.Parse(time.DateOnly, s); err == nil {
		return Reading{Day: dayOf(t.Date())}
	}
	if n, err := strconv.Atoi(s); err == nil && len(s) == 5 && n >= 20_000 && n < 80_000 { // 1954 to 2119
		return Reading{Day: time.Date(1899, 12, 30+n, 0, 0, 0, 0, time.UTC), Serial: true}
	}
	s = withoutClock(s)
	if d, ok := numbers(s); ok {
		return d
	}
	text := strings.Join(strings.Fields(strings.NewReplacer(",", " ", ".", " ", "-", " ", "/", " ").Replace(s)), " ")
	for _, layout := range []string{"20060102", "2 Jan 2006", "2 January 2006", "Jan 2 2006", "January 2 2006", "2006 Jan 2", "2006 January 2",
		"Mon 2 Jan 2006", "Monday 2 January 2006", "Mon Jan 2 2006", "Monday January 2 2006", "2 Jan 06"} {
		if t, err := time.Parse(layout, text); err == nil {
			return Reading{Day: dayOf(t.Date())}
		}
	}
	return Reading{}
}

// dayOf returns a day; zero if there is none, or it is too far away.
func dayOf(y int, m time.Month, d int) time.Time {
	t := time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	if !form.HasYear(t) || t.Month() != m || t.Day() != d {
		return time.Time{}
	}
	return t
}

// withoutClock leaves the time of day out of a date.
func withoutClock(s string) string {
	for _, sep := range []string{"T", " "} {
		day, clock, ok := strings.Cut(s, sep)
		if ok && len(clock) >= 4 && strings.Contains(clock, ":") && strings.Trim(clock, "0123456789:.+-Z APMapm") == "" {
			return day
		}
	}
	return s
}

// threeNumbers is a date of three numbers.
var threeNumbers = regexp.MustCompile(`^[/.\- ]*(\d{1,2}|\d{4})[/.\- ]+(\d{1,2})[/.\- ]+(\d{1,2}|\d{4})[/.\- ]*$`)

// numbers reads a date of three numbers. ok reports whether it is one.
func numbers(s string) (d Reading, ok bool) {
	parts := threeNumbers.FindStringSubmatch(s)
	if parts == nil {
		return d, false
	}
	n := [3]int{atoi(parts[1]), atoi(parts[2]), atoi(parts[3])}
	day := func(y, m, d int) time.Time { return dayOf(y, time.Month(m), d) }
	short := len(parts[3]) <= 2
	switch {
	case len(parts[1]) == 4 && short:
		return Reading{Day: day(n[0], n[1], n[2])}, true
	case len(parts[1]) == 4 || short && strings.Contains(s, "-"): // the year may stand in front
		return d, true
	case short:
		n[2] += 2000
	}
	d.DayFirst, d.MonthFirst, d.Points = day(n[2], n[1], n[0]), day(n[2], n[0], n[1]), strings.Contains(s, ".")
	switch {
	case d.MonthFirst.IsZero() || d.DayFirst.Equal(d.MonthFirst):
		d.Day = d.DayFirst
	case d.DayFirst.IsZero():
		d.Day = d.MonthFirst
	}
	return d, true
}

// atoi returns the number that the digits are.
func atoi(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}

// isoDate is what a date should look like.
var isoDate = regexp.MustCompile(`^(\d{4})-(\d{2})-(\d{2})$`)

// Want says what a date looks like, and what is wrong with this one.
func Want(s string) string {
	parts := isoDate.FindStringSubmatch(s)
	if parts == nil {
		return "a date such as 2025-03-04, year first"
	}
	switch y, m, d := atoi(parts[1]), atoi(parts[2]), atoi(parts[3]); {
	case !form.Year.Has(float64(y)):
		return "a year of " + form.Year.String()
	case m < 1 || m > 12:
		return fmt.Sprintf("a month of 01 to 12 in the middle, as in %d-03-04", y)
	default:
		last := time.Date(y, time.Month(m+1), 0, 0, 0, 0, 0, time.UTC)
		return fmt.Sprintf("a day that there is; %s has %d, and none is %d", last.Format("January 2006"), last.Day(), d)
	}
}
