package sheet_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/steptest/protocol/sheet"
)

// A date with one meaning is read; a date with two is told, with both. Evidence:
// D; 45693 days after 30 December 1899, as spreadsheets count, are 5 February
// 2025.
func TestDatesOfOtherForms(t *testing.T) {
	for date, want := range map[string]string{
		"2025-02-05":          "2025-02-05",
		"2025/02/05":          "2025-02-05",
		"2025.2.5":            "2025-02-05",
		"20250205":            "2025-02-05",
		"5 Feb 2025":          "2025-02-05",
		"5-Feb-2025":          "2025-02-05",
		"5-Feb-25":            "2025-02-05",
		"5 february 2025":     "2025-02-05",
		`"Feb 5, 2025"`:       "2025-02-05",
		"Wed 5 Feb 2025":      "2025-02-05",
		"2/25/2025":           "2025-02-25",
		"2/25/25":             "2025-02-25",
		"25/2/25":             "2025-02-25",
		"25.02.2025":          "2025-02-25",
		"25.2.25":             "2025-02-25",
		"5.2.2025":            "2025-02-05", // points: the day stands first
		"03/03/2025":          "2025-03-03",
		"45693":               "2025-02-05",
		"2025-02-05T00:00Z":   "2025-02-05",
		"2025-02-05 00:00:00": "2025-02-05",
		"25/02/2025 18:30":    "2025-02-25",
		"25/02/2025 9:30":     "2025-02-25",
		"3/4/2025":            "this is 2025-04-03 or 2025-03-04",
		"05/02/25":            "this is 2025-02-05 or 2025-05-02",
		"2025/02/30":          "a date such as 2025-03-04, year first",
		"25-02-05":            "a date such as 2025-03-04, year first",
		"31/31/2025":          "a date such as 2025-03-04, year first",
		"5/2/225":             "a date such as 2025-03-04, year first",
		"yesterday":           "a date such as 2025-03-04, year first",
		"+5/02/2025":          "a date such as 2025-03-04, year first",
	} {
		recs, err := sheet.Read(strings.NewReader(strings.ReplaceAll(good(), "2025-03-04", date)))
		if day, dateErr := time.Parse(time.DateOnly, want); dateErr == nil {
			if err != nil || len(recs) != 2 || !recs[0].Date.Equal(day) || len(recs[0].Repeats) != 5 {
				t.Errorf("%s: %v, %v; want %s", date, recs, err, want)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v; want %q", date, err, want)
		}
		if strings.HasPrefix(want, "this is") && strings.Count(err.Error(), "\n") > 0 {
			t.Errorf("%s: told more than once: %v", date, err)
		}
	}
}

// The order of day and month is that of the other dates of the sheet, of the
// header, or of an option. Evidence: D.
func TestOrderOfDates(t *testing.T) {
	both := func(ada, ben string) string {
		return strings.NewReplacer("Ada,2025-03-04", "Ada,"+ada, "Ben,2025-03-04", "Ben,"+ben).Replace(good())
	}
	header := func(form string) string {
		return strings.Replace(both("3/4/2025", "5/6/2025"), "date", "date ("+form+")", 1)
	}
	for _, tt := range []struct {
		name, sheet string
		o           sheet.Options
		ada, ben    string // empty: not read
		says        string // in the error, or else in the review of Ada
	}{
		{"the later shows", both("3/4/2025", "18/4/2025"), sheet.Options{}, "2025-04-03", "2025-04-18", "3/4/2025 is read as 2025-04-03, day first, as 18/4/2025 in line 7 shows; so are 4 more rows"},
		{"the earlier shows", both("4/18/2025", "3/4/2025"), sheet.Options{}, "2025-04-18", "2025-03-04", ""},
		{"none shows", both("3/4/2025", "5/6/2025"), sheet.Options{}, "", "", "line 2 and 9 more, date: found \"3/4/2025\""},
		{"one is not clear", both("2025-04-03", "5/6/2025"), sheet.Options{}, "2025-04-03", "", "line 7 and 4 more, date: found \"5/6/2025\""},
		{"asked", both("3/4/2025", "5/6/2025"), sheet.Options{Dates: sheet.MonthFirst}, "2025-03-04", "2025-05-06", "month first, as asked for"},
		{"asked otherwise", both("3/4/2025", "18/6/2025"), sheet.Options{Dates: sheet.MonthFirst}, "2025-03-04", "2025-06-18", "month first, as asked for"},
		{"header", header("dd/mm/yyyy"), sheet.Options{}, "2025-04-03", "2025-06-05", "day first, as the header says"},
		{"header, month first", header("m/d/y"), sheet.Options{}, "2025-03-04", "2025-05-06", "month first, as the header says"},
		{"points", both("3.4.2025", "5.6.2025"), sheet.Options{}, "2025-04-03", "2025-06-05", "day first, as dates with points are"},
		{"points, month first", both("3.4.2025", "5.16.2025"), sheet.Options{}, "2025-03-04", "2025-05-16", "month first, as 5.16.2025 in line 7 shows"},
		{"both orders", both("18/4/2025", "4/18/2025"), sheet.Options{}, "2025-04-18", "2025-04-18", "day and month in one order throughout the sheet; 18/4/2025 in line 2 has the other"},
	} {
		recs, err := tt.o.Read(strings.NewReader(tt.sheet))
		got := map[string]string{}
		var notes string
		for _, r := range recs {
			if len(r.Repeats) == 5 {
				got[r.Swimmer] = r.Date.Format(time.DateOnly)
			}
			notes += fmt.Sprint(r.Review())
		}
		wants := tt.ada == "" || tt.ben == "" || tt.name == "both orders"
		if got["Ada"] != tt.ada || got["Ben"] != tt.ben || (err != nil) != wants || !strings.Contains(fmt.Sprint(err)+notes, tt.says) {
			t.Errorf("%s: %v, %v, %s", tt.name, got, err, notes)
		}
		if n := len(strings.Split(fmt.Sprint(err), "\n")); n > 1 {
			t.Errorf("%s: told in %d lines: %v", tt.name, n, err)
		}
		lost := 0
		for rec, scanErr := range tt.o.Scan(strings.NewReader(tt.sheet)) {
			if len(rec.Repeats) == 5 && rec.Date.Format(time.DateOnly) != got[rec.Swimmer] {
				t.Errorf("%s: test by test: %v", tt.name, rec)
			}
			if scanErr != nil {
				lost++
			}
			if n := strings.Count(fmt.Sprint(scanErr), "one way"); n > 1 {
				t.Errorf("%s: test by test: told %d times", tt.name, n)
			}
		}
		if (lost > 0) != (err != nil) {
			t.Errorf("%s: test by test: %d faults", tt.name, lost)
		}
	}
}
