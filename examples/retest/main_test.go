package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
)

// execute runs the command and returns what it printed and its exit status.
func execute(t *testing.T, stdin string, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	return commandtest.Execute(t, program(), stdin, args...)
}

// compared is the report on the first swimmer of a sheet.
func compared(t *testing.T, sheet string) *report {
	t.Helper()
	rs, err := commandtest.Reports[*report](t, program(), sheet)
	if len(rs) == 0 {
		t.Fatal(err)
	}
	return rs[0]
}

// sheetOf writes a test whose lactates lie on 1 + exp(16·(v − at)), but for the
// analyser's last digits; constructed.
func sheetOf(swimmer, date, pool string, unit pace.Length, at float64) string {
	var b strings.Builder
	for i, s := range []string{"6:00", "5:50", "5:40", "5:30", "5:20", "5:10"} {
		v := 400 * unit.Metres() / pace.Must(pace.ParseTime(s)).Seconds()
		fmt.Fprintf(&b, "%s,%s,%s,400,%d,%s,%.6f,%d\n", swimmer, date, pool, i+1, s, 1+math.Exp(16*(v-at)), 120+10*i)
	}
	return b.String()
}

const head = "swimmer,date,pool,distance,repeat,time,lactate,heart rate\n"

// Evidence D: a curve moved right by δ compares as δ, and over 100 m at a speed
// v that saves 100/v − 100/(v+δ). The F test sees one shape.
func TestKnownShift(t *testing.T) {
	for _, shift := range []float64{0.02, -0.015, 0} {
		sheet := head + sheetOf("Ann", "2025-01-18", "50 m", pace.Metre, 1.16) + sheetOf("Ann", "2025-03-15", "50 m", pace.Metre, 1.16+shift)
		c := compared(t, sheet).Change
		commandtest.Near(t, "shift", c.Shift.Value, shift, 5e-4)
		commandtest.Near(t, "per cent", c.Percent().Value, 100*shift/c.Reference, 0.05)
		text, _, _ := execute(t, sheet, "-")
		gain := 100/c.Reference - 100/(c.Reference+c.BetweenDays.Shift.Value)
		for _, want := range []string{"56 days apart", fmt.Sprintf(": %.1f s per 100 m", math.Abs(gain))} {
			if !strings.Contains(commandtest.Words(text), want) {
				t.Errorf("shift %v: lacks %q:\n%s", shift, want, text)
			}
		}
		want := map[float64]lactate.Grade{0.02: lactate.Faster, -0.015: lactate.Slower, 0: lactate.CannotTell}[shift]
		if c.Measured.Grade != want {
			t.Errorf("shift %v: %v, want %v", shift, c.Measured.Grade, want)
		}
	}
}

// The first line says the answer, graded with days: two days differ by 0.8·√2 = 1.13 % of
// 1.2 m/s or so, one standard deviation. 0.01 m/s is 0.7 of it, 0.016 is 1.2, and 0.05
// more than three.
func TestAnswer(t *testing.T) {
	for shift, want := range map[float64][]string{
		0:      {"Cannot tell: 0.", "in 100 that you are", "If all days were alike, which they are not: cannot tell"},
		0.008:  {"Cannot tell: 0.", " s per 100 m faster (", "in 100 that you are faster, good and bad days counted.", "days alone can differ as much.", "which they are not: faster, "},
		0.016:  {"Probably faster: 1.", "in 100 that you are faster, good and bad days counted. Test again.", "That you are faster by more than 0.8 s per 100 m: "},
		-0.016: {"Probably slower: 1.", "in 100 that you are slower, good and bad days counted. Test again."},
		0.045:  {"Faster: ", "More than 99 in 100 that you are faster, good and bad days counted."},
		-0.045: {"Slower: ", "More than 99 in 100 that you are slower, good and bad days counted."},
	} {
		sheet := head + sheetOf("Ann", "2025-01-18", "50 m", pace.Metre, 1.16) + sheetOf("Ann", "2025-03-15", "50 m", pace.Metre, 1.16+shift)
		text, _, _ := execute(t, sheet, "-brief", "-")
		got := firstAnswer(t, text)
		if !strings.HasPrefix(got, want[0]) || strings.Contains(got, " But ") {
			t.Errorf("shift %v: %q, want %q and no but", shift, got, want[0])
		}
		for _, part := range want[1:] {
			if !strings.Contains(got, part) {
				t.Errorf("shift %v: %q lacks %q", shift, got, part)
			}
		}
		if again := strings.Contains(got, "Test again"); again != strings.Contains(text, "Local rules") {
			t.Errorf("shift %v: a test is proposed: %v, with cautions: %v", shift, again, !again)
		}
		if n := strings.Count(got, "\n"); n > 15 {
			t.Errorf("shift %v: an answer of %d lines", shift, n)
		}
	}
}

// What can undo the answer stands right below it: another pool, another shape.
func TestBut(t *testing.T) {
	before := sheetOf("Ann", "2025-01-18", "50 m", pace.Metre, 1.16)
	steep := ""
	for i, s := range []string{"6:00", "5:50", "5:40", "5:30", "5:20", "5:10"} {
		v := 400 / pace.Must(pace.ParseTime(s)).Seconds()
		steep += fmt.Sprintf("Ann,2025-03-15,50 m,400,%d,%s,%.6f,%d\n", i+1, s, 1.3+math.Exp(30*(v-1.22)), 120+10*i)
	}
	for _, c := range []struct{ name, after, want string }{
		{"pools", sheetOf("Ann", "2025-03-15", "25 m", pace.Metre, 1.22), "The pools differ, 50 m and 25 m: a shorter pool is faster by its turns, and the shorter one of the second test makes the swimmer look faster now."},
		{"distances", strings.ReplaceAll(halved(sheetOf("Ann", "2025-03-15", "50 m", pace.Metre, 1.22)), ",400,", ",200,"), "The repeats differ, 400 m and 200 m: longer ones gather more lactate at the same speed, which makes the swimmer look faster now."},
		{"ends", shortened(sheetOf("Ann", "2025-03-15", "50 m", pace.Metre, 1.16)), "But the second test ended before the effort was all out: it says less of where the curve lies"},
		{"shape", steep, "But the curve changed its shape"},
	} {
		text, stderr, _ := execute(t, head+before+c.after, "-")
		if got := firstAnswer(t, text); !strings.Contains(got, c.want) || strings.Index(got, c.want) > strings.Index(got, "If all days") {
			t.Errorf("%s: answer %q lacks %q before its numbers; %s", c.name, got, c.want, stderr)
		}
	}
}

// halved is a sheet with times half as long.
func halved(sheet string) string {
	for from, to := range map[string]string{"6:00": "3:00", "5:50": "2:55", "5:40": "2:50", "5:30": "2:45", "5:20": "2:40", "5:10": "2:35"} {
		sheet = strings.ReplaceAll(sheet, from, to)
	}
	return sheet
}

// shortened is a sheet whose last repeat has no sample.
func shortened(sheet string) string {
	cells := strings.Split(strings.TrimSpace(sheet), ",")
	cells[len(cells)-2] = ""
	return strings.Join(cells, ",") + "\n"
}

// A longer rest lets lactate fall; rests that were not planned are not compared.
func TestRests(t *testing.T) {
	test := func(rests time.Duration) (rec protocol.Record) {
		rec.Pool = pace.LCM()
		leave := time.Duration(0)
		for i := range 5 {
			swum := time.Duration(360-10*i) * time.Second
			rec.Repeats = append(rec.Repeats, protocol.Repeat{Number: i + 1, Distance: 400, Time: swum, Leave: leave})
			if leave += swum + rests; rests == 0 {
				leave = 0
			}
		}
		return rec
	}
	for _, c := range []struct {
		before, after time.Duration
		want          string
	}{
		{time.Minute, time.Minute, ""}, {0, time.Minute, ""}, {time.Minute, 79 * time.Second, ""},
		{time.Minute, 80 * time.Second, "about 1m0s and 1m20s: a longer rest lets lactate fall, which makes the swimmer look faster now"},
		{2 * time.Minute, time.Minute, "look slower now"},
	} {
		got := fmt.Sprint(protocol.Differences(test(c.before), test(c.after)))
		if c.want == "" && got != "[]" || !strings.Contains(got, c.want) {
			t.Errorf("%v and %v: %q, want %q", c.before, c.after, got, c.want)
		}
	}
}

// firstAnswer is the first section of a report, its lines joined.
func firstAnswer(t *testing.T, text string) string {
	t.Helper()
	_, rest, _ := strings.Cut(text, "Has the curve moved?")
	_, rest, ok := strings.Cut(rest, "\n")
	if !ok {
		t.Fatalf("no answer in\n%s", text)
	}
	rest, _, _ = strings.Cut(rest, "\n\n")
	return strings.Join(strings.Fields(rest), " ")
}

// Evidence D: what is printed is what the library says of the same sheet, in
// text and in JSON.
func TestAgreesWithLibrary(t *testing.T) {
	records, err := sheet.Read(bytes.NewReader(sheets.Retest()))
	if err != nil {
		t.Fatal(err)
	}
	before, _ := records[0].Test()
	after, _ := records[1].Test()
	want, err := lactate.Compare(before, after, lactate.CompareOptions{Options: lactate.Options{Resamples: 2000, Seed: 1}})
	if err != nil {
		t.Fatal(err)
	}
	printed, _, _ := execute(t, "", "-json")
	_, got := commandtest.JSON(t, printed)
	commandtest.Near(t, "shift", commandtest.At(t, got, 0, "change", "shift", "value"), want.Shift.Value, 1e-12)
	commandtest.Near(t, "low", commandtest.At(t, got, 0, "change", "shift", "low"), want.Shift.Low, 1e-12)
	text, stderr, status := execute(t, "")
	if status != 0 || stderr != "" {
		t.Fatalf("status %d, standard error %q", status, stderr)
	}
	gain, days := want.Shift, want.BetweenDays.Shift
	at := func(v float64) float64 { return 91.44/want.Reference - 91.44/(want.Reference+v) }
	for _, part := range []string{
		fmt.Sprintf("As speeds, by measurement alone: %.3f (%.3f to %.3f) m/s", want.Shift.Value, want.Shift.Low, want.Shift.High),
		fmt.Sprintf("which they are not: faster, %.1f s per 100 yd (90 in 100: %.1f to %.1f).", at(gain.Value), at(gain.Low), at(gain.High)),
		fmt.Sprintf("aster: %.1f s per 100 yd (90 in 100: %.1f to %.1f).", at(days.Value), at(days.Low), at(days.High)),
		fmt.Sprintf("%.0f in 100 that you are faster", 100*want.BetweenDays.Probability),
	} {
		if !strings.Contains(commandtest.Words(text), part) {
			t.Errorf("text lacks %q:\n%s", part, text)
		}
	}
	commandtest.Screen(t, text, 60, "Invented data", "Has the curve moved?", "with days that differ", "What became of the thresholds?", "at the same speed?", "What to doubt")
	if brief, _, _ := execute(t, "", "-brief"); len(brief) >= len(text)/2 {
		t.Errorf("the answer alone is\n%s", brief)
	}
}

// Evidence D: pools may differ. The same curve of speed in 50 m and in 25 yd
// has not moved, and the difference is said; two files are read together.
func TestPools(t *testing.T) {
	long := sheetOf("Ann", "2025-01-18", "50 m", pace.Metre, 1.16)
	short := sheetOf("Ann", "2025-03-15", "25 yd", pace.Yard, 1.16)
	stdout, stderr, status := execute(t, head+long+short, "-")
	if status != 0 {
		t.Fatal(stderr)
	}
	for _, part := range []string{"The pools differ, 50 m and 25 yd: a shorter pool", "per 100 yd", "Cannot tell"} {
		if !strings.Contains(strings.Join(strings.Fields(stdout), " "), part) {
			t.Errorf("text lacks %q:\n%s", part, stdout)
		}
	}
	commandtest.Near(t, "shift", compared(t, head+long+short).Change.Shift.Value, 0, 1e-3)
}

// The two latest tests of each swimmer are compared, whatever the order of the
// rows; a swimmer with one test is named on standard error.
func TestWhichTests(t *testing.T) {
	sheet := head +
		sheetOf("Ann", "2025-06-01", "50 m", pace.Metre, 1.18) +
		sheetOf("Bo", "2025-01-01", "50 m", pace.Metre, 1.16) +
		sheetOf("Ann", "2025-01-01", "50 m", pace.Metre, 1.10) +
		sheetOf("Ann", "2025-03-01", "50 m", pace.Metre, 1.17)
	rs, err := commandtest.Reports[*report](t, program(), sheet)
	if err == nil || !strings.Contains(err.Error(), "Bo: found one test") || len(rs) != 1 {
		t.Fatalf("%d comparisons, want Ann's alone; error %v", len(rs), err)
	}
	r := rs[0]
	commandtest.Near(t, "shift", r.Change.Shift.Value, 0.01, 2e-4)
	if r.Before.Date.Month() != 3 || r.After.Date.Month() != 6 || !strings.Contains(strings.Join(r.Doubts.Doubts, "\n"), "earlier tests are left out here: 1") {
		t.Errorf("compared %v with %v; doubts %q", r.Before.Date, r.After.Date, r.Doubts)
	}
}

// A plan that waits to be swum, and a test whose samples are not in yet, are
// left out with a note; the two latest that can be read are compared.
func TestPending(t *testing.T) {
	planned, blank := "", ""
	for i := range 6 {
		planned += fmt.Sprintf("Ann,2025-08-01,50 m,400,%d,,,\n", i+1)
		blank += fmt.Sprintf("Ann,2025-07-01,50 m,400,%d,5:%d0,,\n", i+1, 5-i)
	}
	first, second := sheetOf("Ann", "2025-03-01", "50 m", pace.Metre, 1.16), sheetOf("Ann", "2025-06-01", "50 m", pace.Metre, 1.17)
	r := compared(t, head+first+second+planned+blank)
	if r.Before.Date.Month() != 3 || r.After.Date.Month() != 6 {
		t.Errorf("compared %v with %v", r.Before.Date, r.After.Date)
	}
	text, _, _ := execute(t, head+first+second+planned+blank, "-")
	for _, note := range []string{"Ann, 1 August 2025: not swum, and left out", "Ann, 1 July 2025: no lactate, and left out"} {
		if !strings.Contains(text, note) {
			t.Errorf("text lacks %q:\n%s", note, text)
		}
	}
	_, stderr, status := execute(t, head+first+planned+blank, "-")
	if want := "retest: Ann: found one test, of 2025-03-01, want two to compare; 2025-07-01: no lactate; 2025-08-01: not swum\n"; status != 1 || stderr != want {
		t.Errorf("exit status %d, standard error %q, want %q", status, stderr, want)
	}
}

// An error says whose test it is, of which day, and what is wrong with the
// samples, not with a caller.
func TestNamesTest(t *testing.T) {
	falling, flat, few := "", "", ""
	for i, y := range []float64{3, 2.6, 2.3, 2} {
		falling += fmt.Sprintf("Ann,2025-06-01,50 m,400,%d,5:%d0,%g,\n", i+1, 5-i, y)
		flat += fmt.Sprintf("Bo,2025-03-01,50 m,400,%d,5:%d0,2,\n", i+1, 5-i)
	}
	few = "Bo,2025-06-01,50 m,400,1,5:50,2,\nBo,2025-06-01,50 m,400,2,5:40,3,\n"
	_, stderr, status := execute(t, head+sheetOf("Ann", "2025-03-01", "50 m", pace.Metre, 1.16)+falling+flat+few, "-")
	for _, part := range []string{
		"retest: Ann, 2025-06-01: lactate falls as speed rises",
		"retest: Bo, 2025-03-01: the samples do not settle a curve",
		"retest: Bo, 2025-06-01: too few repeats: found 2",
	} {
		if !strings.Contains(stderr, part) {
			t.Errorf("standard error lacks %q:\n%s", part, stderr)
		}
	}
	if status != 1 || strings.Contains(stderr, "2025-03-01: lactate") || strings.Contains(stderr, "pace") || strings.Contains(stderr, " ys ") {
		t.Errorf("exit status %d, standard error\n%s", status, stderr)
	}
}

// The same test in two sheets is no pair to compare.
func TestSameTestTwice(t *testing.T) {
	name := filepath.Join(t.TempDir(), "a.csv")
	if err := os.WriteFile(name, []byte(head+sheetOf("Ann", "2025-03-01", "50 m", pace.Metre, 1.16)), 0o600); err != nil {
		t.Fatal(err)
	}
	stdout, stderr, status := execute(t, "", name, name)
	if status != 1 || stdout != "" || !strings.Contains(stderr, "the test of Ann, 2025-03-01, is in ") || !strings.Contains(stderr, "Ann: found one test") {
		t.Errorf("exit status %d, standard output %q, standard error %q", status, stdout, stderr)
	}
}

// A sample that is left out has the number of its repeat in the sheet, where one without a time
// stands before it.
func TestLeftOutIsNumbered(t *testing.T) {
	rows := strings.SplitAfter(sheetOf("Ann", "2025-03-15", "50 m", pace.Metre, 1.16), "\n")
	rows[0] = "Ann,2025-03-15,50 m,400,1,,,\n"
	rows = slices.Insert(rows, 1, "Ann,2025-03-15,50 m,400,7,5:00,13,180\n")
	rows[4] = "Ann,2025-03-15,50 m,400,4,5:30,9.5,150\n"
	text, stderr, _ := execute(t, head+sheetOf("Ann", "2025-01-18", "50 m", pace.Metre, 1.16)+strings.Join(rows, ""), "-")
	if want := "the odd sample of repeat 4 of the second test is left out"; !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
		t.Errorf("%q lacks %q; %s", text, want, stderr)
	}
}
