package sheet

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/protocol/internal/form"
)

// dateReading is what a date cell may mean. The zero value is no date.
type dateReading struct {
	day    time.Time // if there is one reading only
	serial bool      // day is a spreadsheet's number of it
	order  DateOrder // that day shows
	points bool      // the numbers are parted by points

	dayFirst, monthFirst time.Time // if there are two readings
}

// two reports whether the date has two readings.
func (d dateReading) two() bool { return !d.dayFirst.IsZero() }

// dateReadings returns what a text may mean as a date.
func dateReadings(s string) dateReading {
	if s == "" {
		return dateReading{}
	}
	if t, err := time.Parse(time.DateOnly, s); err == nil {
		return dateReading{day: dayOf(t.Date())}
	}
	if n, err := strconv.Atoi(s); err == nil && len(s) == 5 && n >= 20_000 && n < 80_000 { // 1954 to 2119
		return dateReading{day: time.Date(1899, 12, 30+n, 0, 0, 0, 0, time.UTC), serial: true}
	}
	s = withoutClock(s)
	if d, ok := numbers(s); ok {
		return d
	}
	text := strings.Join(strings.Fields(strings.NewReplacer(",", " ", ".", " ", "-", " ", "/", " ").Replace(s)), " ")
	for _, layout := range []string{"20060102", "2 Jan 2006", "2 January 2006", "Jan 2 2006", "January 2 2006", "2006 Jan 2", "2006 January 2",
		"Mon 2 Jan 2006", "Monday 2 January 2006", "Mon Jan 2 2006", "Monday January 2 2006", "2 Jan 06"} {
		if t, err := time.Parse(layout, text); err == nil {
			return dateReading{day: dayOf(t.Date())}
		}
	}
	return dateReading{}
}

// dayOf returns a day; zero if there is none, or it is too far away.
func dayOf(y int, m time.Month, d int) time.Time {
	t := time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	if y < form.MinYear || y > form.MaxYear || t.Month() != m || t.Day() != d {
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
func numbers(s string) (d dateReading, ok bool) {
	parts := threeNumbers.FindStringSubmatch(s)
	if parts == nil {
		return d, false
	}
	n := [3]int{atoi(parts[1]), atoi(parts[2]), atoi(parts[3])}
	day := func(y, m, d int) time.Time { return dayOf(y, time.Month(m), d) }
	short := len(parts[3]) <= 2
	switch {
	case len(parts[1]) == 4 && short:
		return dateReading{day: day(n[0], n[1], n[2])}, true
	case len(parts[1]) == 4 || short && strings.Contains(s, "-"): // the year may stand in front
		return d, true
	case short:
		n[2] += 2000
	}
	dayFirst, monthFirst := day(n[2], n[1], n[0]), day(n[2], n[0], n[1])
	switch {
	case dayFirst.Equal(monthFirst):
		d.day = dayFirst
	case monthFirst.IsZero():
		d.day, d.order = dayFirst, DayFirst
	case dayFirst.IsZero():
		d.day, d.order = monthFirst, MonthFirst
	default:
		d.dayFirst, d.monthFirst, d.points = dayFirst, monthFirst, strings.Contains(s, ".")
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

// wantedDate says what a date looks like, and what is wrong with this one.
func wantedDate(s string) string {
	parts := isoDate.FindStringSubmatch(s)
	if parts == nil {
		return "a date such as 2025-03-04, year first"
	}
	switch y, m, d := atoi(parts[1]), atoi(parts[2]), atoi(parts[3]); {
	case y < form.MinYear || y > form.MaxYear:
		return fmt.Sprintf("a year of %d to %d", form.MinYear, form.MaxYear)
	case m < 1 || m > 12:
		return fmt.Sprintf("a month of 01 to 12 in the middle, as in %d-03-04", y)
	default:
		last := time.Date(y, time.Month(m+1), 0, 0, 0, 0, 0, time.UTC)
		return fmt.Sprintf("a day that there is; %s has %d, and none is %d", last.Format("January 2006"), last.Day(), d)
	}
}

// orderOf returns the order of day and month in a form of dates, such as
// dd/mm/yyyy. ok reports whether it is such a form.
func orderOf(s string) (order DateOrder, ok bool) {
	letters := slices.Compact([]rune(strings.NewReplacer("/", "", ".", "", "-", "", " ", "").Replace(s)))
	switch string(letters) {
	case "dmy":
		return DayFirst, true
	case "mdy":
		return MonthFirst, true
	}
	return OrderUnknown, string(letters) == "ymd"
}
