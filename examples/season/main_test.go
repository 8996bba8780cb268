package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
)

// execute runs the command and returns what it printed and its exit status.
func execute(t *testing.T, stdin string, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	return commandtest.Execute(t, program(), stdin, args...)
}

// followed is the report on the first swimmer of a sheet.
func followed(t *testing.T, sheet string) *report {
	t.Helper()
	rs, err := commandtest.Reports[*report](t, program(), sheet)
	if len(rs) == 0 {
		t.Fatal(err)
	}
	return rs[0]
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
	r := followed(t, sheet)
	for i, weeks := range []int{0, 8, 12, 20} {
		commandtest.Near(t, r.Tests[i].Date.String(), r.Season.Tests[i].Measured.Shift.Value, 0.001*float64(weeks), 2e-4)
	}
	commandtest.Near(t, "trend", r.Season.Trend.Shift.Value, 0.004, 2e-5)
	if d := r.Next.Date.Format(time.DateOnly); d != "2025-07-05" { // 26 weeks after 4 January
		t.Errorf("next test on %s, want 2025-07-05", d)
	}
	commandtest.Near(t, "next shift", r.Next.Shift.Value, 0.026, 2e-4)
	v := r.Season.Reference
	clock := func(shift float64) string { return table.Clock(100 / (v + shift)) }
	text, _, _ := execute(t, sheet, "-brief", "-")
	for _, want := range []string{
		fmt.Sprintf(": %.1f s per 100 m every four weeks", 100/v-100/(v+r.Season.Trend.Shift.Value)),
		fmt.Sprintf("expected at %s, 90 in 100 between %s and %s.", clock(r.Next.Shift.Value), clock(r.Next.Shift.Low), clock(r.Next.Shift.High)),
	} {
		if !strings.Contains(commandtest.Words(text), want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
}

// Evidence D: what is printed is what the library says of the same sheet.
func TestAgreesWithLibrary(t *testing.T) {
	records, err := sheet.Read(bytes.NewReader(sheets.Season()))
	if err != nil {
		t.Fatal(err)
	}
	var dated []lactate.DatedTest
	for _, rec := range records {
		test, err := rec.Test()
		if err != nil {
			t.Fatal(err)
		}
		dated = append(dated, lactate.DatedTest{Date: rec.Date, Test: test})
	}
	want, err := lactate.FollowSeason(dated, lactate.CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	printed, _, _ := execute(t, "", "-json")
	_, got := commandtest.JSON(t, printed)
	for i, st := range want.Tests[1:] {
		commandtest.Near(t, st.Date.String(), commandtest.At(t, got, 0, "season", "tests", i+1, "measured", "shift", "value"), st.Measured.Shift.Value, 1e-12)
	}
	commandtest.Near(t, "trend", commandtest.At(t, got, 0, "season", "trend_per_four_weeks", "shift", "value"), want.Trend.Shift.Value, 1e-12)

	text, stderr, status := execute(t, "")
	if status != 0 || stderr != "" {
		t.Fatalf("status %d, standard error %q", status, stderr)
	}
	for _, part := range []string{
		"Invented data", "Mika Torne: 5 tests from 14 September 2024 to 7 June 2025", "first test",
		"aster: 0.2 s per 100 m every four weeks", fmt.Sprintf("%.0f in 100 that you get faster", 100*want.Trend.Probability),
	} {
		if !strings.Contains(text, part) {
			t.Errorf("text lacks %q:\n%s", part, text)
		}
	}
	commandtest.Screen(t, text, 40, "Is there a trend, by a straight line through the tests?", "How far has the curve moved", "trend in 4 weeks", "What to doubt")
}

// A test without a curve is named and left out; a swimmer with one test has no
// season.
func TestLeftOut(t *testing.T) {
	sheet := head + sheetOf("Ann", "2025-01-04", 1.16) + sheetOf("Ann", "2025-03-01", 1.17) +
		"Ann,2025-05-01,50 m,400,1,6:00,1.2\n" + sheetOf("Bo", "2025-01-04", 1.16)
	_, stderr, status := execute(t, sheet, "-")
	if status != 1 || !strings.Contains(stderr, "season: Ann, 2025-05-01: too few repeats") || !strings.Contains(stderr, "season: Bo: found one test with a curve, of 2025-01-04, want two or more") {
		t.Errorf("status %d, standard error %q", status, stderr)
	}
	rs, _ := commandtest.Reports[*report](t, program(), sheet)
	if len(rs) != 1 || len(rs[0].Tests) != 2 {
		t.Errorf("%d seasons, want Ann's two good tests", len(rs))
	}
}

// A plan that waits to be swum is no fault: it is noted, and the rest followed.
func TestPending(t *testing.T) {
	const planned = "Ann,2025-05-01,50 m,400,1,,\nAnn,2025-05-01,50 m,400,2,,\n"
	s := followed(t, head+sheetOf("Ann", "2025-01-04", 1.16)+sheetOf("Ann", "2025-03-01", 1.17)+planned)
	if got := strings.Join(s.Doubts.Doubts, "\n"); len(s.Tests) != 2 || !strings.Contains(got, "Ann, 1 May 2025: not swum, and left out") {
		t.Errorf("%d tests, doubts %q", len(s.Tests), got)
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
		return strings.Join(followed(t, sheet).But, "\n")
	}
	if got := pools("25 m", "50 m", "25 m"); !strings.Contains(got, "the pools differ, 25 m and 50 m: a shorter") {
		t.Errorf("doubts %q", got)
	}
	if got := pools("25 m", "50 m", "20 m"); !strings.Contains(got, "the pools differ, 25 m, 50 m and 20 m: a shorter") {
		t.Errorf("doubts %q", got)
	}
	if got := pools("25 m", "25 m"); strings.Contains(got, "pools") {
		t.Errorf("doubts %q", got)
	}
}

// What tests show is told of true trends.
func TestSeen(t *testing.T) {
	text, _, _ := execute(t, "")
	if got := strings.Join(strings.Fields(text), " "); !strings.Contains(got, "Tests like these show a true trend along a line of") || !strings.Contains(got, "80 times in 100.") {
		t.Errorf("got\n%s", text)
	}
}
