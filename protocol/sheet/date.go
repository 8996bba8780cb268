package sheet

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/protocol/internal/form"
)

// wantedDate says what a date looks like, and which one this may be.
func wantedDate(s string) string {
	const want = "a date with the year first, such as 2025-03-04"
	if n, err := strconv.Atoi(s); err == nil && n >= 20_000 && n < 80_000 && len(s) == 5 { // 1954 to 2119
		day := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC).AddDate(0, 0, n)
		return fmt.Sprintf("%s; this may be a spreadsheet's number of a day, which could mean %s: give the column the format of a date", want, day.Format(time.DateOnly))
	}
	if y, m, d, ok := isoParts(s); ok {
		switch {
		case y < form.MinYear || y > form.MaxYear:
			return fmt.Sprintf("a year of %d to %d", form.MinYear, form.MaxYear)
		case m < 1 || m > 12:
			return fmt.Sprintf("a month of 01 to 12 in the middle, as in %d-03-04", y)
		default:
			last := time.Date(y, time.Month(m+1), 0, 0, 0, 0, 0, time.UTC)
			return fmt.Sprintf("a day that there is; %s has %d, and none is %d", last.Format("January 2006"), last.Day(), d)
		}
	}
	switch days := readings(s); len(days) {
	case 1:
		return want + "; this could mean " + days[0]
	case 2:
		return "a date with the year first; this could mean " + days[0] + " or " + days[1]
	}
	return "a date such as 2025-03-04, year first"
}

// isoParts takes apart what is written as a date should be.
func isoParts(s string) (y, m, d int, ok bool) {
	if len(s) != len(time.DateOnly) {
		return 0, 0, 0, false
	}
	for i, r := range []byte(s) {
		if (i == 4 || i == 7) != (r == '-') || r != '-' && (r < '0' || r > '9') {
			return 0, 0, 0, false
		}
	}
	y, _ = strconv.Atoi(s[:4])
	m, _ = strconv.Atoi(s[5:7])
	d, _ = strconv.Atoi(s[8:])
	return y, m, d, true
}

// readings returns the days that a date of another form may mean.
func readings(s string) []string {
	var out []string
	add := func(y, m, d int) {
		t := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
		if y < form.MinYear || y > form.MaxYear || t.Month() != time.Month(m) || t.Day() != d {
			return
		}
		if day := t.Format(time.DateOnly); len(out) == 0 || out[0] != day {
			out = append(out, day)
		}
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("/.- ", r) })
	var n []int
	for _, p := range parts {
		if v, err := strconv.Atoi(p); err == nil && len(p) <= 4 {
			n = append(n, v)
		}
	}
	if len(parts) == 3 && len(n) == 3 {
		if len(parts[0]) == 4 {
			add(n[0], n[1], n[2])
		} else if len(parts[2]) == 4 {
			add(n[2], n[0], n[1]) // month first
			add(n[2], n[1], n[0])
		}
		return out
	}
	text := strings.Join(strings.Fields(strings.NewReplacer(",", " ", ".", " ", "-", " ").Replace(s)), " ")
	for _, layout := range []string{"20060102", "2 Jan 2006", "2 January 2006", "Jan 2 2006", "January 2 2006", "2006 Jan 2", "2006 January 2", "Mon 2 Jan 2006", "Monday 2 January 2006"} {
		if t, err := time.Parse(layout, text); err == nil {
			add(t.Year(), int(t.Month()), t.Day())
			break
		}
	}
	return out
}
