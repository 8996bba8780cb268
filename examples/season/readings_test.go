package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
)

const readingsFile = "../../testdata/sheets/readings.csv"

// Evidence D: what is printed is what the library says of the same sheets.
func TestReadingsAgreeWithLibrary(t *testing.T) {
	records, err := sheet.Read(bytes.NewReader(sheets.Season()))
	if err != nil {
		t.Fatal(err)
	}
	var tests []lactate.DatedTest
	for _, rec := range records {
		test, err := rec.Test()
		if err != nil {
			t.Fatal(err)
		}
		tests = append(tests, lactate.DatedTest{Date: rec.Date, Test: test})
	}
	file, err := os.Open(readingsFile)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := sheet.ReadReadings(file)
	if err != nil || len(rows) != 60 {
		t.Fatalf("%d readings, error %v", len(rows), err)
	}
	var readings []between.Reading
	for _, r := range rows {
		readings = append(readings, r.Reading)
	}
	m, err := between.New(tests, between.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := m.Follow(readings)
	if err != nil {
		t.Fatal(err)
	}
	last := rows[59].Date
	e := c.At(last).LT2
	clock := func(v float64) string { return table.Clock(100 / v) }
	want := fmt.Sprintf("LT2 at %s per 100 m (%s to %s) on an average day", clock(e.Value), clock(e.Low), clock(e.High))
	chart := filepath.Join(t.TempDir(), "a.svg")
	text, stderr, status := execute(t, "", "-readings", readingsFile, "-chart", chart)
	if status != 0 || stderr != "" {
		t.Fatalf("status %d, standard error %q", status, stderr)
	}
	for _, part := range []string{want, "Where is the curve on 11 July 2025, the day of the last reading?", "4 x 400 on 6:30", "Readings that were news", "a test would tell little", "readings: one reading lies above the tested range"} {
		if !strings.Contains(commandtest.Words(text), part) {
			t.Errorf("lacks %q:\n%s", part, text)
		}
	}
	if b, err := os.ReadFile(chart); err != nil || !strings.Contains(string(b), "11 July 2025: "+clock(e.Value)) {
		t.Errorf("the picture lacks today's LT2, error %v", err)
	}
	printed, _, _ := execute(t, "", "-readings", readingsFile, "-json")
	_, report := commandtest.JSON(t, printed)
	commandtest.Near(t, "LT2", commandtest.At(t, report, 0, "due", "place", "lt2", "value"), e.Value, 1e-12)
}

// Asked about a late day, a test is proposed, with the usual cautions.
func TestReadingsLate(t *testing.T) {
	text, _, status := execute(t, "", "-brief", "-readings", readingsFile, "-today", "2027-01-01")
	if words := commandtest.Words(text); status != 0 || !strings.Contains(words, "Where is the curve on 1 January 2027? ") || !strings.Contains(words, "A test is worth its blood") || !strings.Contains(words, "Before swimming it") {
		t.Errorf("status %d:\n%s", status, text)
	}
}

// The order of dates that is asked for is that of the readings too.
func TestReadingsDates(t *testing.T) {
	name := filepath.Join(t.TempDir(), "r.csv")
	if err := os.WriteFile(name, []byte("date,pool,distance,time,lactate,kind\n6/7/2025,25 m,400,5:16,2.4,a\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	text, stderr, status := execute(t, "", "-dates", "day-first", "-readings", name)
	if status != 0 || !strings.Contains(text, "Where is the curve on 6 July 2025, the day of the last reading?") {
		t.Errorf("status %d, standard error %q, text\n%s", status, stderr, text)
	}
}

// Faults of the file go to standard error; what is good is followed.
func TestReadingsFaults(t *testing.T) {
	write := func(text string) string {
		name := filepath.Join(t.TempDir(), "r.csv")
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	const head = "swimmer,date,pool,distance,time,lactate,kind\n"
	const good = "mika torne,2025-06-20,25 m,400,5:16,2.4,a\n"
	for name, c := range map[string]struct {
		args         []string
		stderr, text string
	}{
		"no file":        {[]string{"-readings", "nowhere.csv"}, "nowhere.csv", "Is there a trend, by a straight line through the tests?"},
		"a fault":        {[]string{"-readings", write(head + good + "Mika Torne,2025-06-30,25 m,400,5:16,24444,a\n")}, "line 3, lactate", "Where is the curve on 20 June 2025, the day of the last reading?"},
		"of another":     {[]string{"-readings", write(head + strings.Replace(good, "mika torne", "Ann", 1))}, "found none of Mika Torne, those of Ann", "Is there a trend, by a straight line through the tests?"},
		"a bad day":      {[]string{"-readings", write(head + good), "-today", "soon"}, `-today: found "soon"`, "Is there a trend, by a straight line through the tests?"},
		"a day too soon": {[]string{"-readings", write(head + good), "-today", "1999-01-01"}, "want the day of the last test or reading, ", "Is there a trend, by a straight line through the tests?"},
		"either date":    {[]string{"-readings", write(head + strings.Replace(good, "2025-06-20", "6/7/2025", 1))}, "-dates day-first", "Is there a trend, by a straight line through the tests?"},
		"no readings":    {[]string{"-today", "2026-01-01"}, "found no -readings", "Is there a trend, by a straight line through the tests?"},
	} {
		text, stderr, status := execute(t, "", c.args...)
		if status != 1 || !strings.Contains(stderr, c.stderr) || !strings.Contains(text, c.text) {
			t.Errorf("%s: status %d, standard error %q, text\n%s", name, status, stderr, text)
		}
	}
}
