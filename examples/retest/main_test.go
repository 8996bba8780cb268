package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
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
		commandtest.Near(t, "shift", c.Shift.Value, shift, 1e-5)
		commandtest.Near(t, "per cent", c.Percent().Value, 100*shift/c.Reference, 1e-3)
		text, _, _ := execute(t, sheet, "-")
		gain := 100/c.Reference - 100/(c.Reference+c.Shift.Value)
		for _, want := range []string{"56 days apart", fmt.Sprintf("per 100 m: %.1f s ", math.Abs(gain))} {
			if !strings.Contains(commandtest.Words(text), want) {
				t.Errorf("shift %v: lacks %q:\n%s", shift, want, text)
			}
		}
		want := map[float64]lactate.Verdict{0.02: lactate.MovedRight, -0.015: lactate.MovedLeft, 0: lactate.NoChangeSeen}[shift]
		if c.Measured.Grade != want {
			t.Errorf("shift %v: %v, want %v", shift, c.Measured.Grade, want)
		}
	}
}

// The first line weighs both judgements: a shift of 0.02 m/s at 1.16 m/s is 1.7 %,
// less than the 0.8·√2·1.96 = 2.2 % that two days make in five of a hundred;
// 0.05 m/s is more.
func TestAnswer(t *testing.T) {
	for shift, want := range map[float64]string{
		0:     "Not that these two tests could see.",
		0.02:  "Probably faster: more speed at the same lactate. A different day alone could do this. Test again.",
		-0.02: "Probably slower: less speed at the same lactate. A different day alone could do this. Test again.",
		0.05:  "Yes, faster: more speed at the same lactate, by more than two days may differ.",
		-0.05: "Yes, slower: less speed at the same lactate, by more than two days may differ.",
	} {
		sheet := head + sheetOf("Ann", "2025-01-18", "50 m", pace.Metre, 1.16) + sheetOf("Ann", "2025-03-15", "50 m", pace.Metre, 1.16+shift)
		text, _, _ := execute(t, sheet, "-")
		if got := firstAnswer(t, text); !strings.HasPrefix(got, want) || strings.Contains(got, " But ") {
			t.Errorf("shift %v: %q, want %q and no but", shift, got, want)
		}
		if side := map[bool]string{true: "Left by 0.0", false: "Right by 0.0"}[compared(t, sheet).Change.Shift.Value < 0]; !strings.Contains(text, side) {
			t.Errorf("shift %v: text lacks %q:\n%s", shift, side, text)
		}
		if again := strings.Contains(want, "Test again"); again != strings.Contains(text, "Local rules") {
			t.Errorf("shift %v: a test is proposed: %v, with cautions: %v", shift, again, !again)
		}
	}
	var c lactate.Change
	c.BetweenDays.Verdict = lactate.MovedLeft
	c.Shift.Value = -0.01
	if got := answer(&c); !strings.HasPrefix(got, "Perhaps slower: less speed") {
		t.Errorf("days alone: %q", got)
	}
}

// A change is not said to be too small to be seen where it is seen: what tests
// see is told of true changes, and what "seen" means stands beside it. 0.030 m/s
// lies between what is seen and what is seen 80 times in a hundred.
func TestSeen(t *testing.T) {
	for shift, verdict := range map[float64]string{0.030: "moved right", 0.023: "not seen"} {
		sheet := head + sheetOf("Ann", "2025-01-18", "50 m", pace.Metre, 1.16) + sheetOf("Ann", "2025-03-15", "50 m", pace.Metre, 1.16+shift)
		c := compared(t, sheet).Change
		j := c.BetweenDays
		if seen := j.Verdict == lactate.MovedRight; j.Shift.Value > j.Detectable || j.Shift.Low < 0 || seen != (verdict == "moved right") {
			t.Fatalf("the case is none: %+v", j)
		}
		text, _, _ := execute(t, sheet, "-")
		for _, part := range []string{
			fmt.Sprintf("+%.1f %s *", 100/c.Reference-100/(c.Reference+j.Detectable), verdict), "* true change seen 80 times in 100.",
			"Seen: chance alone shows as much less than 5 times in a hundred. A bracket of 90 % may just exclude zero before that.",
		} {
			if !strings.Contains(commandtest.Words(text), part) {
				t.Errorf("shift %v: text lacks %q:\n%s", shift, part, text)
			}
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
		{"pools", sheetOf("Ann", "2025-03-15", "25 m", pace.Metre, 1.22), "But the pools differ, 50 m and 25 m"},
		{"shape", steep, "But the curve changed its shape"},
	} {
		text, stderr, _ := execute(t, head+before+c.after, "-")
		if got := firstAnswer(t, text); !strings.Contains(got, c.want) || strings.Index(got, c.want) > strings.Index(got, " m/s") {
			t.Errorf("%s: answer %q lacks %q before its numbers; %s", c.name, got, c.want, stderr)
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
	gain := want.SecondsPer(91.44)
	for _, part := range []string{
		fmt.Sprintf("Right by %.3f (%.3f to %.3f) m/s", want.Shift.Value, want.Shift.Low, want.Shift.High),
		fmt.Sprintf("per 100 yd: %.1f s faster (%.1f to %.1f).", gain.Value, gain.Low, gain.High),
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
	for _, part := range []string{"the pools differ, 50 m and 25 yd: speeds are compared", "per 100 yd", "Not that these two tests could see"} {
		if !strings.Contains(strings.Join(strings.Fields(stdout), " "), part) {
			t.Errorf("text lacks %q:\n%s", part, stdout)
		}
	}
	commandtest.Near(t, "shift", compared(t, head+long+short).Change.Shift.Value, 0, 1e-5)
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
	commandtest.Near(t, "shift", r.Change.Shift.Value, 0.01, 1e-5)
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
