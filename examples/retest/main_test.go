package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
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
		c := decoded(t, sheet, "-").Comparisons[0]
		commandtest.Near(t, "shift", c.Measured.Shift.Value, shift, 1e-5)
		commandtest.Near(t, "gain per 100 m", c.Measured.Per100M.Value, 100/c.At-100/(c.At+c.Measured.Shift.Value), 1e-9)
		commandtest.Near(t, "gain per 100 yd", c.Measured.Per100Yd.Value, 0.9144*c.Measured.Per100M.Value, 1e-9)
		commandtest.Near(t, "per cent", c.Percent.Value, 100*shift/c.At, 1e-3)
		commandtest.Near(t, "days", float64(c.Days), 56, 0)
		want := map[float64]string{0.02: "moved right", -0.015: "moved left", 0: "no change that these tests could see"}[shift]
		if c.Measured.Verdict != want {
			t.Errorf("shift %v: %s, want %s", shift, c.Measured.Verdict, want)
		}
	}
}

// The first line weighs both judgements: a shift of 0.02 m/s at 1.16 m/s is 1.7 %,
// less than the 0.8·√2·1.96 = 2.2 % that two days make in five of a hundred;
// 0.05 m/s is more.
func TestAnswer(t *testing.T) {
	for shift, want := range map[float64]string{
		0:     "Not that these two tests could see.",
		0.02:  "The two curves differ, but by no more than two days may. The later lies to the right: more speed at the same lactate.",
		-0.02: "The two curves differ, but by no more than two days may. The later lies to the left: less speed at the same lactate.",
		0.05:  "Yes, to the right: more speed at the same lactate, by more than two days may differ.",
		-0.05: "Yes, to the left: less speed at the same lactate, by more than two days may differ.",
	} {
		sheet := head + sheetOf("Ann", "2025-01-18", "50 m", pace.Metre, 1.16) + sheetOf("Ann", "2025-03-15", "50 m", pace.Metre, 1.16+shift)
		text, _, _ := execute(t, sheet, "-")
		if got := firstAnswer(t, text); !strings.HasPrefix(got, want) || strings.Contains(got, " But ") {
			t.Errorf("shift %v: %q, want %q and no but", shift, got, want)
		}
		c := decoded(t, sheet, "-").Comparisons[0]
		if c.Answer != want || len(c.But) != 0 {
			t.Errorf("shift %v: JSON says %q, but %q", shift, c.Answer, c.But)
		}
		if side := map[bool]string{true: "Left by 0.0", false: "Right by 0.0"}[c.Measured.Shift.Value < 0]; !strings.Contains(text, side) {
			t.Errorf("shift %v: text lacks %q:\n%s", shift, side, text)
		}
	}
	var c lactate.Change
	c.BetweenDays.Verdict = lactate.MovedLeft
	c.Shift.Value = -0.01
	if got := answer(&c); !strings.HasPrefix(got, "Perhaps, to the left") {
		t.Errorf("days alone: %q", got)
	}
}

// A change is not said to be too small to be seen where it is seen: what tests
// see is told of true changes, and what "seen" means stands beside it. 0.030 m/s
// lies between what is seen and what is seen 80 times in a hundred.
func TestSeen(t *testing.T) {
	for _, c := range []struct {
		shift float64
		seen  string
	}{{0.030, ": seen. A true change of"}, {0.023, ": not seen. A true change of"}} {
		sheet := head + sheetOf("Ann", "2025-01-18", "50 m", pace.Metre, 1.16) + sheetOf("Ann", "2025-03-15", "50 m", pace.Metre, 1.16+c.shift)
		j := decoded(t, sheet, "-").Comparisons[0].Between
		if seen := j.Verdict == "moved right"; j.Shift.Value > j.Detectable || j.Shift.Low < 0 || seen != strings.HasPrefix(c.seen, ": seen") {
			t.Fatalf("the case is none: %+v", j)
		}
		text, _, _ := execute(t, sheet, "-")
		text = strings.Join(strings.Fields(text), " ")
		for _, part := range []string{
			c.seen + fmt.Sprintf(" %.1f s is seen 80 times in a hundred.", j.DetectablePer1M),
			"Seen: chance alone would show as much fewer than 5 times in a hundred. A bracket of 90 % that just leaves zero out falls short",
		} {
			if !strings.Contains(text, part) {
				t.Errorf("shift %v: text lacks %q:\n%s", c.shift, part, text)
			}
		}
		if strings.Contains(text, "would take") {
			t.Errorf("shift %v: it is seen, and it would take more to be seen", c.shift)
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
	records, err := protocol.ReadSheet(bytes.NewReader(sheets.Retest()))
	if err != nil {
		t.Fatal(err)
	}
	before, _ := records[0].Test()
	after, _ := records[1].Test()
	want, err := lactate.Compare(before, after, lactate.Options{Resamples: resamples, Seed: seed})
	if err != nil {
		t.Fatal(err)
	}
	c := decoded(t, "").Comparisons[0]
	commandtest.Near(t, "shift", c.Measured.Shift.Value, want.Shift.Value, 1e-12)
	commandtest.Near(t, "low", c.Measured.Shift.Low, want.Shift.Low, 1e-12)
	commandtest.Near(t, "high", c.Measured.Shift.High, want.Shift.High, 1e-12)
	commandtest.Near(t, "detectable", c.Measured.Detectable, want.Measured.Detectable, 1e-12)
	gain := want.SecondsPer(91.44)
	commandtest.Near(t, "gain", c.Measured.Per100Yd.Value, gain.Value, 1e-12)
	commandtest.Near(t, "gain, low", c.Measured.Per100Yd.Low, gain.Low, 1e-12)
	commandtest.Near(t, "between days, high", c.Between.Shift.High, want.BetweenDays.Shift.High, 1e-12)
	if len(c.Changes) != len(lactate.CoreMethods()) || len(c.Levels) != len(want.Levels) {
		t.Errorf("%d thresholds and %d levels", len(c.Changes), len(c.Levels))
	}
	for _, ch := range c.Changes {
		commandtest.Near(t, ch.Method, 100/ch.Before.Value-100/ch.After.Value, ch.Per100M.Value, 1e-9)
	}

	text, stderr, status := execute(t, "")
	if status != 0 || stderr != "" {
		t.Fatalf("status %d, standard error %q", status, stderr)
	}
	for _, part := range []string{
		"Invented data",
		fmt.Sprintf("Right by %.3f (%.3f to %.3f) m/s", want.Shift.Value, want.Shift.Low, want.Shift.High),
		fmt.Sprintf("per 100 yd, %.1f s faster (%.1f to %.1f).", gain.Value, gain.Low, gain.High),
		fmt.Sprintf("see a true change of %.1f s per 100 yd 80 times in a hundred", c.Measured.DetectablePer),
	} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), part) {
			t.Errorf("text lacks %q:\n%s", part, text)
		}
	}
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) > 50 {
		t.Errorf("%d lines, want a screen", len(lines))
	}
	for _, l := range lines {
		if n := utf8.RuneCountInString(l); n > 100 {
			t.Errorf("%d columns: %q", n, l)
		}
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
	commandtest.Near(t, "shift", decoded(t, head+long+short, "-").Comparisons[0].Measured.Shift.Value, 0, 1e-5)
}

// The two latest tests of each swimmer are compared, whatever the order of the
// rows; a swimmer with one test is named on standard error.
func TestWhichTests(t *testing.T) {
	sheet := head +
		sheetOf("Ann", "2025-06-01", "50 m", pace.Metre, 1.18) +
		sheetOf("Bo", "2025-01-01", "50 m", pace.Metre, 1.16) +
		sheetOf("Ann", "2025-01-01", "50 m", pace.Metre, 1.10) +
		sheetOf("Ann", "2025-03-01", "50 m", pace.Metre, 1.17)
	stdout, stderr, status := execute(t, sheet, "-json", "-")
	if status != 1 || !strings.Contains(stderr, "Bo: found one test") {
		t.Errorf("status %d, standard error %q", status, stderr)
	}
	var o struct{ Report report }
	if err := json.Unmarshal([]byte(stdout), &o); err != nil {
		t.Fatal(err)
	}
	if len(o.Report.Comparisons) != 1 {
		t.Fatalf("%d comparisons, want Ann's alone", len(o.Report.Comparisons))
	}
	c := o.Report.Comparisons[0]
	commandtest.Near(t, "shift", c.Measured.Shift.Value, 0.01, 1e-5)
	if c.Before.Date != "2025-03-01" || c.After.Date != "2025-06-01" || !strings.Contains(strings.Join(c.Cautions, "\n"), "earlier tests are left out here: 1") {
		t.Errorf("compared %v with %v; cautions %q", c.Before, c.After, c.Cautions)
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
	c := decoded(t, head+first+second+planned+blank, "-").Comparisons[0]
	if c.Before.Date != "2025-03-01" || c.After.Date != "2025-06-01" {
		t.Errorf("compared %v with %v", c.Before, c.After)
	}
	text, _, _ := execute(t, head+first+second+planned+blank, "-")
	for _, note := range []string{"Ann, 1 August 2025: not swum, and left out", "Ann, 1 July 2025: no lactate, and left out"} {
		if !strings.Contains(strings.Join(c.Cautions, "\n"), note) || !strings.Contains(text, note) {
			t.Errorf("cautions %q and text lack %q", c.Cautions, note)
		}
	}
	_, stderr, status := execute(t, head+first+planned+blank, "-")
	if want := "retest: Ann: found one test, of 2025-03-01, expected two to compare; 2025-08-01: not swum; 2025-07-01: no lactate\n"; status != 1 || stderr != want {
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

// Every number of the JSON has its unit in the name of its field, or has none.
func TestUnitsInNames(t *testing.T) {
	stdout, _, _ := execute(t, "", "-json")
	var v any
	if err := json.Unmarshal([]byte(stdout), &v); err != nil {
		t.Fatal(err)
	}
	unit := regexp.MustCompile(`_(m|s|m_per_s|mmol_per_l|per_min|s_per_100_yd|s_per_100_m|percent)$`)
	without := regexp.MustCompile(`^(p_value|interval_confidence|false_alarms|power|days_between)$`)
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
