package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol/sheet"
)

// sheetOf writes a sheet of two swimmers, Ada with two tests and Ben with one, of five
// repeats of 300 m each, with one text in place of another.
func sheetOf(t *testing.T, replace ...string) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("swimmer,date,pool,distance,repeat,time,lactate,heart rate\n")
	for _, test := range []string{"Ada,2025-01-04", "Ada,2025-02-15", "Ben,2025-02-15"} {
		for i, cells := range []string{"4:10,1.2,120", "4:02,1.5,131", "3:54,2.2,142", "3:46,3.8,155", "3:38,8.5,171"} {
			b.WriteString(test + ",25 m,300," + string(rune('1'+i)) + "," + cells + "\n")
		}
	}
	text := b.String()
	for i := 0; i < len(replace); i += 2 {
		if !strings.Contains(text, replace[i]) {
			t.Fatalf("the sheet has no %q", replace[i])
		}
		text = strings.Replace(text, replace[i], replace[i+1], 1)
	}
	name := filepath.Join(t.TempDir(), "squad.csv")
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// The next test has as many repeats as the last one, over the same distance,
// unless another number is asked for.
func TestLastRepeats(t *testing.T) {
	for want, args := range map[int][]string{5: nil, 7: {"-repeats", "7"}} {
		out, errs, status := execute(t, append([]string{"-last", sheetOf(t), "-swimmer", "Ben", "-csv"}, args...)...)
		recs, err := sheet.Read(strings.NewReader(out))
		if status != 0 || err != nil || len(recs) != 1 || len(recs[0].Repeats) != want || recs[0].Repeats[0].Distance != 300 {
			t.Errorf("want %d repeats of 300 m; exit status %d, %s, %v\n%s", want, status, errs, err, out)
		}
	}
}

// A fault stops the plan of the swimmer whose last test it is in, and nobody
// else's.
func TestLastWithFaults(t *testing.T) {
	const last, early = "Ada,2025-02-15,25 m,300,3,3:54", "Ada,2025-01-04,25 m,300,3,3:54"
	spoilt := func(row string) string { return strings.TrimSuffix(row, "3:54") + "3:75" }
	for _, tt := range []struct {
		name    string
		sheet   string
		swimmer string
		planned bool
		says    string // on standard error; empty: nothing
	}{
		{"another swimmer's", sheetOf(t, last, spoilt(last)), "Ben", true, ""},
		{"the swimmer's own", sheetOf(t, last, spoilt(last)), "Ada", false, "the last test of Ada, 15 February 2025, is not whole"},
		{"an earlier test", sheetOf(t, early, spoilt(early)), "Ada", true, "the test of Ada, 4 January 2025:\nprotocol: sheet line 4"},
		{"a heart rate", sheetOf(t, last+",2.2,142", last+",2.2,x"), "Ada", true, `heart rate: found "x"`},
		{"a dash", sheetOf(t, last+",2.2,142", last+",2.2,-"), "Ada", true, ""},
		{"a row of nobody", sheetOf(t, "Ben,", "Mean,,,,,3:54,3.4,144\nBen,"), "Ada", true, "line 12"},
		{"two spellings", sheetOf(t, "Ben,2025-02-15,25 m,300,1", "ben,2025-02-15,25 m,300,1"), "", false, "say whose"},
	} {
		args := []string{"-last", tt.sheet, "-csv"}
		if tt.swimmer != "" {
			args = append(args, "-swimmer", tt.swimmer)
		}
		out, errs, status := execute(t, args...)
		if (out != "") != tt.planned || (errs == "") != (tt.says == "") || (status == 0) != (tt.says == "") || !strings.Contains(errs, tt.says) {
			t.Errorf("%s: exit status %d, error %q, printed %q", tt.name, status, errs, out)
		}
	}
}

// Faults of flags are one line in plain words.
func TestFlagFaults(t *testing.T) {
	for _, tt := range []struct {
		args []string
		says string
	}{
		{[]string{"-date", "8.3.2025"}, "want a date such as 2025-03-08, year first"},
		{[]string{"-avoid", "soon"}, "want a date such as 2025-03-08, year first"},
		{[]string{"-drop", "much"}, `want seconds such as "2.5"`},
		{[]string{"-best", "4:56", "-pool", "25 m", "-csv"}, "-csv: give -swimmer and -date too"},
		{[]string{"-best", "4:56", "-pool", "25 m", "-csv", "-swimmer", "Ada"}, "-csv: give -date too"},
		{[]string{"sheet.csv", "-csv"}, "flags come before"},
		{[]string{"-speed", "3"}, "-h lists the flags"},
	} {
		out, errs, status := execute(t, tt.args...)
		if status != 1 || out != "" || !strings.Contains(errs, tt.says) || strings.Count(errs, "\n") != 1 || strings.Count(errs, "plan: ") != 1 || strings.Contains(errs, "2006") {
			t.Errorf("%v: exit status %d, printed %q, error %q", tt.args, status, out, errs)
		}
	}
}

// A drop may be given in plain seconds. Evidence: common practice, 2.5 s per 100
// are 10 s per 400.
func TestDrop(t *testing.T) {
	for _, drop := range []string{"2.5", "2.5s", "0:02.5"} {
		out, errs, status := execute(t, "-best", "5:00", "-pool", "25 m", "-drop", drop, "-swimmer", "Ada", "-date", "2025-03-08", "-csv")
		recs, err := sheet.Read(strings.NewReader(out))
		if status != 0 || err != nil || recs[0].Repeats[0].Target != 350*time.Second {
			t.Errorf("%s: exit status %d, %s\n%s", drop, status, errs, out)
		}
	}
}

// Text fits the width that all programs print in, without blanks at its ends, and
// says what noise its forecast rests on.
func TestWidth(t *testing.T) {
	bare := "" // without flags
	for _, args := range [][]string{
		nil,
		{"-best", "5:00", "-pool", "50 m"},
		{"-best", "5:00", "-repeats", "3"},
		{"-best", "19:00", "-distance", "1500", "-pool", "33 1/3 m", "-repeats", "12"},
		{"-last", "../../testdata/sheets/squad.csv", "-swimmer", "Sasha Holm", "-spaced"},
	} {
		out, errs, status := execute(t, args...)
		if status != 0 || !strings.Contains(out, "Before swimming it") {
			t.Errorf("%v: exit status %d: %s", args, status, errs)
		}
		if args == nil {
			bare = out
		}
		for _, line := range strings.Split(out, "\n") {
			if n := utf8.RuneCountInString(line); n > table.Width || strings.TrimRight(line, " ") != line {
				t.Errorf("%v: %d columns: %q", args, n, line)
			}
		}
	}
	if text := strings.Join(strings.Fields(bare), " "); !strings.Contains(text, "rest on the stated noise alone (0.2 mmol/L and 3 % for analyser and drop, printed to 0.1 mmol/L, 0.1 s for the watch)") {
		t.Errorf("no word of the noise in\n%s", bare)
	}
}

// A swimmer who became slower is slower, in whatever order the sheet has the
// tests, and LT1 is never faster than LT2. Evidence: D, a shift of an invented
// test.
func TestSlowerInAnyOrder(t *testing.T) {
	rows := func(date string, times ...string) string {
		var b strings.Builder
		for i, at := range times {
			fmt.Fprintf(&b, "Vi Mid,%s,25 yd,400,%d,%s,%s\n", date, i+1, at, []string{"1.5", "1.7", "2.3", "3.0", "4.7", "9.9"}[i])
		}
		return b.String()
	}
	first := rows("2025-01-18", "5:51.7", "5:42.4", "5:32.3", "5:23.4", "5:12.4", "4:58.8")
	second := rows("2025-03-08", "6:21.0", "6:10.1", "5:58.3", "5:48.0", "5:35.3", "5:19.7") // 0.08 m/s slower
	const header = "swimmer,date,pool,distance,repeat,time,lactate\n"
	out := plan(t, header+first+second)
	if other := plan(t, header+second+first); other != out {
		t.Errorf("in one order\n%s\nin the other\n%s", out, other)
	}
	for _, want := range []string{"1:30.0 ", "1:26.8 "} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

// A test of plainly another shape is named as not used.
func TestOtherShape(t *testing.T) {
	const header = "swimmer,date,pool,distance,repeat,time,lactate\n"
	var b strings.Builder
	b.WriteString(header)
	for i, at := range []string{"5:50", "5:40", "5:30", "5:20", "5:10", "5:00"} {
		fmt.Fprintf(&b, "Vi Mid,2025-01-18,25 yd,400,%d,%s,%s\n", i+1, at, []string{"4.2", "4.9", "5.7", "6.6", "7.7", "9.0"}[i])
		fmt.Fprintf(&b, "Vi Mid,2025-03-08,25 yd,400,%d,%s,%s\n", i+1, at, []string{"1.0", "1.1", "1.3", "2.0", "4.0", "10.0"}[i])
	}
	if out := plan(t, b.String()); !strings.Contains(out, "The test of 18 January 2025 bends so differently") {
		t.Errorf("%s", out)
	}
}

// plan plans after a sheet.
func plan(t *testing.T, sheet string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "sheet.csv")
	if err := os.WriteFile(name, []byte(sheet), 0o600); err != nil {
		t.Fatal(err)
	}
	out, errs, status := execute(t, "-last", name)
	if status != 0 {
		t.Fatalf("exit status %d: %s", status, errs)
	}
	return out
}

// Tests that cannot be read yet, or whose speeds do not mix with those of the
// last, are noted and left out; where none is left, the error says which there
// are. An error of a test says whose it is. Evidence: D.
func TestTestsLeftOut(t *testing.T) {
	whole, err := os.ReadFile(sheetOf(t))
	if err != nil {
		t.Fatal(err)
	}
	before, _, status := execute(t, "-last", sheetOf(t), "-swimmer", "Ada")
	if status != 0 {
		t.Fatal(status)
	}
	blank := func(date, pool, distance, cells string) string {
		var b strings.Builder
		for i := range 5 {
			fmt.Fprintf(&b, "Ada,%s,%s,%s,%d,%s\n", date, pool, distance, i+1, cells)
		}
		return b.String()
	}
	swum := func(date, pool, distance string, seconds int) string {
		var b strings.Builder
		for i := range 5 {
			fmt.Fprintf(&b, "Ada,%s,%s,%s,%d,%d:%02d,%s,\n", date, pool, distance, i+1, (seconds-8*i)/60, (seconds-8*i)%60, []string{"1.2", "1.5", "2.2", "4.0", "8.0"}[i])
		}
		return b.String()
	}
	for _, tt := range []struct{ rows, note string }{
		{blank("2025-04-01", "25 m", "300", ",,"), "Ada, 1 April 2025: not swum, and left out."},
		{blank("2025-04-01", "25 m", "300", "3:50,,140"), "Ada, 1 April 2025: no lactate, and left out."},
		{swum("2024-12-01", "50 m", "300", 250), "Ada, 1 December 2024: in a 50 m pool, and left out."},
		{swum("2024-12-01", "25 m", "200", 165), "Ada, 1 December 2024: repeats of 200 m, and left out."},
	} {
		name := filepath.Join(t.TempDir(), "sheet.csv")
		rows := tt.rows
		if strings.Contains(tt.note, "no lactate") { // a time of its own for each repeat
			for i := range 5 {
				rows = strings.Replace(rows, fmt.Sprintf(",%d,3:50,", i+1), fmt.Sprintf(",%d,3:%02d,", i+1, 50-5*i), 1)
			}
		}
		if err := os.WriteFile(name, append(slices.Clone(whole), rows...), 0o600); err != nil {
			t.Fatal(err)
		}
		out, errs, status := execute(t, "-last", name, "-swimmer", "Ada")
		if strings.Contains(tt.note, "no lactate") { // the next test follows that one
			if status != 0 || errs != "" || !strings.Contains(out, tt.note) || !strings.Contains(out, "on 13 May 2025, 25 m pool, after the test of 15 February 2025") {
				t.Errorf("%s: exit status %d, %s\n%s", tt.note, status, errs, out)
			}
			continue
		}
		if got := strings.Replace(out, "  "+tt.note+"\n", "", 1); status != 0 || errs != "" || got != before || got == out {
			t.Errorf("%s: exit status %d, %s\n%s\nwant\n%s", tt.note, status, errs, out, before)
		}
	}
	for rows, says := range map[string]string{
		blank("2025-04-01", "25 m", "300", ",,"):                                     "no test to plan from:\nAda, 1 April 2025: not swum",
		"Ada,2025-04-01,25 m,300,1,4:10,1.2,\nAda,2025-04-01,25 m,300,2,3:50,2.2,\n": "the test of Ada, 1 April 2025: ",
	} {
		name := filepath.Join(t.TempDir(), "sheet.csv")
		if err := os.WriteFile(name, []byte("swimmer,date,pool,distance,repeat,time,lactate,heart rate\n"+rows), 0o600); err != nil {
			t.Fatal(err)
		}
		if out, errs, status := execute(t, "-last", name); status != 1 || out != "" || !strings.Contains(errs, says) || strings.Contains(errs, "lactate: ") {
			t.Errorf("exit status %d, error %q, want %q", status, errs, says)
		}
	}
}

// What was told is used, or said not to be: an LT2, a time of zero, a day that
// there is not. Thresholds are printed to the same digit, and one week is a week.
func TestWhatWasTold(t *testing.T) {
	out, errs, status := execute(t, "-threshold", "1:19.5", "-pool", "LCM", "-date", "2025-03-08", "-weeks", "1")
	if text := strings.Join(strings.Fields(out), " "); status != 0 || strings.Contains(text, "Presumed") || !strings.Contains(text, "The LT2 that was given, 1:19.5 per 100 m, set the targets.") || !strings.Contains(text, "(every week; six to eight weeks") {
		t.Errorf("exit status %d, %s\n%s", status, errs, out)
	}
	for _, best := range []string{"4:50", "5:04"} {
		out, _, _ := execute(t, "-best", best, "-pool", "50 m")
		if n := len(regexp.MustCompile(`(?m)^  LT[12] .* 1:[0-5][0-9]\.[0-9]  `).FindAllString(out, -1)); n != 2 || strings.Contains(out, "that was given") {
			t.Errorf("%s: %d thresholds with a digit\n%s", best, n, out)
		}
	}
	for _, tt := range []struct{ flag, value, says string }{
		{"-rest", "0:00", "above zero"}, {"-send-off", "0:00", "above zero"}, {"-drop", "0", "above zero"}, {"-best", "0:00", "above zero"},
		{"-date", "2025-02-30", "want a day that there is"}, {"-avoid", "2025-13-01", "want a day that there is"},
	} {
		if out, errs, status := execute(t, tt.flag, tt.value); status != 1 || out != "" || !strings.Contains(errs, tt.says) || !strings.Contains(errs, tt.flag) {
			t.Errorf("%s %s: exit status %d, error %q", tt.flag, tt.value, status, errs)
		}
	}
}

// Every swimmer of a sheet has a page, and the list holds all leave times, in order; the
// sheet for all reads back.
func TestSquad(t *testing.T) {
	name := sheetOf(t)
	out, errs, status := execute(t, "-last", name, "-squad", "-date", "2025-04-05", "-apart", "2:00")
	if status != 0 || errs != "" || strings.Count(out, "\f") != 2 {
		t.Fatalf("exit status %d, %s\n%s", status, errs, out)
	}
	for _, want := range []string{"Step test of 2 swimmers", "0:00  Ada           1    4:10     4:10", "2:00  Ben           1    4:10     6:10", "\fStarts at 2:00 of the list.\nStep test of Ben, Saturday 5 April 2025", "local rules"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	out, errs, status = execute(t, "-last", name, "-squad", "-csv")
	recs, err := sheet.Read(strings.NewReader(out))
	if status != 0 || err != nil || len(recs) != 2 || recs[1].Swimmer != "Ben" || len(recs[1].Repeats) != 5 {
		t.Errorf("exit status %d, %s, %v\n%s", status, errs, err, out)
	}
	for says, args := range map[string][]string{
		"-squad: want the sheet": {"-squad"},
		"one or the other":       {"-squad", "-last", name, "-swimmer", "Ada"},
		"give one -date":         {"-squad", "-last", sheetOf(t, "Ben,2025-02-15,25 m,300,1", "Cat,2025-01-15,25 m,300,1", "Ben,2025-02-15,25 m,300,2", "Cat,2025-01-15,25 m,300,2", "Ben,2025-02-15,25 m,300,3", "Cat,2025-01-15,25 m,300,3", "Ben,2025-02-15,25 m,300,4", "Cat,2025-01-15,25 m,300,4", "Ben,2025-02-15,25 m,300,5", "Cat,2025-01-15,25 m,300,5")},
	} {
		if out, errs, status := execute(t, args...); status != 1 || out != "" || !strings.Contains(errs, says) {
			t.Errorf("%v: exit status %d, %q, %q", args, status, out, errs)
		}
	}
}
