package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/testdata/sheets"
)

// execute runs the command and returns what it printed and its exit status.
func execute(t *testing.T, stdin string, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	return commandtest.Execute(t, program(), stdin, args...)
}

// decoded runs the command with -json and decodes what it printed.
func decoded(t *testing.T, stdin string, args ...string) report {
	t.Helper()
	return commandtest.Decoded[report](t, program(), stdin, args...)
}

// sheetOf writes a test whose lactates lie on 1 + exp(16·(v − at)), but for the
// analyser's last digits; constructed.
func sheetOf(swimmer, date string, at float64) string {
	var b strings.Builder
	for i, s := range []string{"6:00", "5:50", "5:40", "5:30", "5:20", "5:10"} {
		v := 400 / pace.Must(pace.ParseTime(s)).Seconds()
		fmt.Fprintf(&b, "%s,%s,50 m,400,%d,%s,%.6f\n", swimmer, date, i+1, s, 1+math.Exp(16*(v-at)))
	}
	return b.String()
}

const head = "swimmer,date,pool,distance,repeat,time,lactate\n"

// Evidence D: a curve that moves by 0.004 m/s every four weeks has that trend,
// and six weeks on it is 0.006 m/s further.
func TestKnownTrend(t *testing.T) {
	sheet := head
	start := time.Date(2025, 1, 4, 0, 0, 0, 0, time.UTC)
	for _, weeks := range []int{20, 0, 8, 12} { // in any order
		sheet += sheetOf("Ann", start.AddDate(0, 0, 7*weeks).Format(time.DateOnly), 1.16+0.001*float64(weeks))
	}
	s := decoded(t, sheet, "-").Seasons[0]
	for i, weeks := range []int{0, 8, 12, 20} {
		if i == 0 {
			if s.Tests[0].Shift != nil {
				t.Error("the first test has a shift from itself")
			}
			continue
		}
		commandtest.Near(t, s.Tests[i].Date, s.Tests[i].Shift.Value, 0.001*float64(weeks), 1e-5)
	}
	commandtest.Near(t, "trend", s.Trend.Shift.Value, 0.004, 1e-5)
	commandtest.Near(t, "gain per 100 m", s.Trend.Per100M.Value, 100/s.At-100/(s.At+0.004), 1e-3)
	if s.Next.Date != "2025-07-05" { // 26 weeks after 4 January
		t.Errorf("next test on %s, want 2025-07-05", s.Next.Date)
	}
	commandtest.Near(t, "next shift", s.Next.Shift.Value, 0.026, 2e-5)
	commandtest.Near(t, "next pace", s.Next.Per100M.Value, 100/(s.At+0.026), 1e-2)
	if !(s.Next.Per100M.Low < s.Next.Per100M.Value && s.Next.Per100M.Value < s.Next.Per100M.High) {
		t.Errorf("next pace %v lies outside its interval", s.Next.Per100M)
	}
}

// Evidence D: what is printed is what the library says of the same sheet.
func TestAgreesWithLibrary(t *testing.T) {
	records, err := protocol.ReadSheet(bytes.NewReader(sheets.Season()))
	if err != nil {
		t.Fatal(err)
	}
	var dated []lactate.Dated
	for _, rec := range records {
		test, err := rec.Test()
		if err != nil {
			t.Fatal(err)
		}
		dated = append(dated, lactate.Dated{Date: rec.Date, Test: test})
	}
	want, err := lactate.FollowSeason(dated, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := decoded(t, "").Seasons[0]
	commandtest.Near(t, "trend", s.Trend.Shift.Value, want.Trend.Shift.Value, 1e-12)
	commandtest.Near(t, "trend, low", s.Trend.Shift.Low, want.Trend.Shift.Low, 1e-12)
	commandtest.Near(t, "detectable", s.Trend.Detectable, want.Trend.Detectable, 1e-12)
	for i, st := range want.Tests[1:] {
		commandtest.Near(t, s.Tests[i+1].Date, s.Tests[i+1].Shift.Value, st.Measured.Shift.Value, 1e-12)
		if s.Tests[i+1].Between != st.BetweenDays.Verdict.String() {
			t.Errorf("%s: %s, want %v", s.Tests[i+1].Date, s.Tests[i+1].Between, st.BetweenDays.Verdict)
		}
	}

	text, stderr, status := execute(t, "")
	if status != 0 || stderr != "" {
		t.Fatalf("status %d, standard error %q", status, stderr)
	}
	for _, part := range []string{
		"Invented data", "Mika Torne: 5 tests from 14 September 2024 to 7 June 2025", "first test",
		fmt.Sprintf("%.3f (%.3f to %.3f) m/s", want.Trend.Shift.Value, want.Trend.Shift.Low, want.Trend.Shift.High),
	} {
		if !strings.Contains(text, part) {
			t.Errorf("text lacks %q:\n%s", part, text)
		}
	}
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) > 40 {
		t.Errorf("%d lines, want a screen", len(lines))
	}
	for _, l := range lines {
		if n := utf8.RuneCountInString(l); n > 100 {
			t.Errorf("%d columns: %q", n, l)
		}
	}
}

// A test without a curve is named and left out; a swimmer with one test has no
// season.
func TestLeftOut(t *testing.T) {
	sheet := head + sheetOf("Ann", "2025-01-04", 1.16) + sheetOf("Ann", "2025-03-01", 1.17) +
		"Ann,2025-05-01,50 m,400,1,6:00,1.2\n" + sheetOf("Bo", "2025-01-04", 1.16)
	stdout, stderr, status := execute(t, sheet, "-json", "-")
	if status != 1 || !strings.Contains(stderr, "season: Ann, 2025-05-01: too few repeats") || !strings.Contains(stderr, "season: Bo: found one test with a curve, of 2025-01-04, expected two or more") {
		t.Errorf("status %d, standard error %q", status, stderr)
	}
	var o struct{ Report report }
	if err := json.Unmarshal([]byte(stdout), &o); err != nil {
		t.Fatal(err)
	}
	if len(o.Report.Seasons) != 1 || len(o.Report.Seasons[0].Tests) != 2 {
		t.Errorf("seasons %+v, want Ann's two good tests", o.Report.Seasons)
	}
}

// A plan that waits to be swum is no fault: it is noted, and the rest followed.
func TestPending(t *testing.T) {
	const planned = "Ann,2025-05-01,50 m,400,1,,\nAnn,2025-05-01,50 m,400,2,,\n"
	s := decoded(t, head+sheetOf("Ann", "2025-01-04", 1.16)+sheetOf("Ann", "2025-03-01", 1.17)+planned, "-").Seasons[0]
	if got := strings.Join(s.Cautions, "\n"); len(s.Tests) != 2 || !strings.Contains(got, "Ann, 1 May 2025: not swum, and left out") {
		t.Errorf("%d tests, cautions %q", len(s.Tests), got)
	}
	_, stderr, status := execute(t, head+sheetOf("Ann", "2025-01-04", 1.16)+planned, "-")
	if status != 1 || !strings.Contains(stderr, "season: Ann, 2025-05-01: not swum\n") || !strings.Contains(stderr, "season: Ann: found one test with a curve, of 2025-01-04") {
		t.Errorf("exit status %d, standard error %q", status, stderr)
	}
}

// Pools that differ are named as people name them.
func TestPools(t *testing.T) {
	pools := func(names ...string) string {
		sheet := head
		for i, p := range names {
			sheet += strings.ReplaceAll(sheetOf("Ann", fmt.Sprintf("2025-%02d-01", i+1), 1.16), "50 m", p)
		}
		return strings.Join(decoded(t, sheet, "-").Seasons[0].Cautions, "\n")
	}
	if got := pools("25 m", "50 m", "25 m"); !strings.Contains(got, "the pools differ, 25 m and 50 m: speeds") {
		t.Errorf("cautions %q", got)
	}
	if got := pools("25 m", "50 m", "20 m"); !strings.Contains(got, "the pools differ, 25 m, 50 m and 20 m: speeds") {
		t.Errorf("cautions %q", got)
	}
	if got := pools("25 m", "25 m"); strings.Contains(got, "pools") {
		t.Errorf("cautions %q", got)
	}
}

// What tests see is told of true trends, with what "seen" means.
func TestSeen(t *testing.T) {
	text, _, _ := execute(t, "")
	if got := strings.Join(strings.Fields(text), " "); !strings.Contains(got, "see a true trend of") || !strings.Contains(got, "Seen: chance alone would show as much fewer than 5 times in a hundred.") {
		t.Errorf("got\n%s", text)
	}
}

// Every number of the JSON has its unit in the name of its field, or has none.
func TestUnitsInNames(t *testing.T) {
	stdout, _, _ := execute(t, "", "-json")
	var v any
	if err := json.Unmarshal([]byte(stdout), &v); err != nil {
		t.Fatal(err)
	}
	unit := regexp.MustCompile(`_(m|s|m_per_s|s_per_100_yd|s_per_100_m|percent)(_per_four_weeks)?$`)
	without := regexp.MustCompile(`^(p_value|interval_confidence|false_alarms|power)$`)
	var walk func(name string, v any)
	walk = func(name string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, e := range v {
				if k == "value" || k == "low" || k == "high" { // of an estimate, which has the name
					k = name
				}
				walk(k, e)
			}
		case []any:
			for _, e := range v {
				walk(name, e)
			}
		case float64:
			if !unit.MatchString(name) && !without.MatchString(name) {
				t.Errorf("field %s: a number without a unit in its name", name)
			}
		}
	}
	walk("", v)
}
